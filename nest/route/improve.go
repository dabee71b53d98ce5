package route

import (
	"context"
	"math/rand/v2"
	"slices"
)

// gain is the least shortening, in mm, that counts; it keeps rounding from
// making a circle of moves.
const gain = 1e-6

// A polish improves a tour by local moves.
type polish struct {
	*tour
	ctx     context.Context
	near    [][]neighbour
	queue   []int
	waiting []bool
	scratch []int
	spans   [][2]int
}

func newPolish(ctx context.Context, t *tour) *polish {
	return &polish{tour: t, ctx: ctx, near: neighbours(t.ns), waiting: make([]bool, len(t.ns))}
}

// push queues the node at a position for another look.
func (p *polish) push(i int) {
	if i < 0 || i >= len(p.order) || p.waiting[p.order[i]] {
		return
	}
	p.waiting[p.order[i]] = true
	p.queue = append(p.queue, p.order[i])
}

// descend makes improving moves until none is left around the queued nodes, or
// ctx has ended.
func (p *polish) descend() {
	for len(p.queue) > 0 {
		n := p.queue[0]
		p.queue = p.queue[1:]
		p.waiting[n] = false
		if p.ctx.Err() != nil {
			continue
		}
		for p.repick(p.pos[n]) || p.moveAround(n) {
		}
	}
	p.queue = p.queue[:0]
}

// moveAround tries to bring the node next to each of its neighbours.
func (p *polish) moveAround(n int) bool {
	i := p.pos[n]
	longest := max(p.legs[i], p.legs[i+1])
	spans := p.stretches(i)
	for _, c := range p.near[n] {
		if c.d >= longest {
			break // no new move to that neighbour is shorter than an old one
		}
		if p.twoOpt(i, p.pos[c.node]) || p.orOpt(spans, p.pos[c.node]) {
			return true
		}
	}
	return false
}

// repick chooses the best start for the node at a position, given those before
// and after.
func (p *polish) repick(i int) bool {
	n := p.order[i]
	was := p.pick[n]
	best, at := p.around(i)-gain, was
	for s := range p.ns[n].starts {
		p.set(i, s)
		if c := p.around(i); c < best {
			best, at = c, s
		}
	}
	p.set(i, at)
	if at == was {
		return false
	}
	p.push(i - 1)
	p.push(i + 1)
	return true
}

// around is the cost that hangs on the start of the node at a position.
func (p *polish) around(i int) float64 {
	return p.legs[i] + p.legs[i+1] + p.start(p.order[i]).effort
}

// twoOpt tries the two reversals that make the positions a and b neighbours.
func (p *polish) twoOpt(a, b int) bool {
	i, j := min(a, b), max(a, b)
	return p.tryReverse(i+1, j) || p.tryReverse(i, j-1)
}

// tryReverse reverses the positions i to j where that shortens the tour.
func (p *polish) tryReverse(i, j int) bool {
	if i >= j {
		return false
	}
	d := p.hop(i-1, j) + p.hop(i, j+1) - p.legs[i] - p.legs[j+1]
	if d > reverseSlack {
		return false
	}
	if d += p.turned(i, j); d > -gain || !p.mayTurn(i, j) {
		return false
	}
	slices.Reverse(p.order[i : j+1])
	p.changed(i, j)
	return true
}

// turned is how much longer the inside of a stretch is the other way about.
func (p *polish) turned(i, j int) float64 {
	d := 0.0
	for k := i; k < j; k++ {
		d += dist(p.exits[k+2], p.entries[k]) - p.legs[k+1]
	}
	return d
}

// reverseSlack is how much worse, in mm, the ends of a reversal may be before
// its inside is looked at: entries and exits of a contour lie a lead apart, so
// its inside hardly changes.
const reverseSlack = 5

// changed works out the positions lo to hi and queues their ends.
func (p *polish) changed(lo, hi int) {
	p.settle(lo, hi)
	for _, i := range [...]int{lo - 1, lo, lo + 1, hi - 1, hi, hi + 1} {
		p.push(i)
	}
}

// orOpt tries to move a stretch to either side of position b.
func (p *polish) orOpt(spans [][2]int, b int) bool {
	for _, s := range spans {
		if b >= s[0] && b <= s[1] {
			continue
		}
		if p.tryMove(s[0], s[1], b) || p.tryMove(s[0], s[1], b-1) {
			return true
		}
	}
	return false
}

// stretches returns the stretches to move with position a: one to three
// contours, and the run of contours of one piece around a.
func (p *polish) stretches(a int) [][2]int {
	out := append(p.spans[:0], [2]int{a, a})
	for n := 1; n <= 2; n++ {
		if a+n < len(p.order) {
			out = append(out, [2]int{a, a + n})
		}
		if a-n >= 0 {
			out = append(out, [2]int{a - n, a})
		}
	}
	from, to := a, a
	piece := p.ns[p.order[a]].piece
	for from > 0 && p.ns[p.order[from-1]].piece == piece {
		from--
	}
	for to+1 < len(p.order) && p.ns[p.order[to+1]].piece == piece {
		to++
	}
	if to-from > 2 {
		out = append(out, [2]int{from, to})
	}
	p.spans = out
	return out
}

// tryMove moves the positions i to j to behind position k where that shortens
// the tour, as they are or turned about.
func (p *polish) tryMove(i, j, k int) bool {
	if k < -1 || (k >= i-1 && k <= j) {
		return false
	}
	saved := p.legs[i] + p.legs[j+1] - p.hop(i-1, j+1)
	if saved < gain {
		return false
	}
	old := p.legs[k+1]
	same := p.hop(k, i) + p.hop(j, k+1) - old - saved
	back := p.hop(k, j) + p.hop(i, k+1) - old - saved
	if min(same, back) > -gain {
		return false
	}
	back += p.turned(i, j)
	turn := back < same && p.mayTurn(i, j)
	if turn {
		same = back
	}
	if same > -gain || !p.mayMove(i, j, k) {
		return false
	}
	p.move(i, j, k, turn)
	return true
}

// mayMove reports whether the precedences allow the positions i to j to stand
// behind position k.
func (p *polish) mayMove(i, j, k int) bool {
	for m := i; m <= j; m++ {
		if k > j && p.followed(p.order[m], j+1, k) || k < i && p.preceded(p.order[m], k+1, i-1) {
			return false
		}
	}
	return true
}

// mayTurn reports whether the stretch holds no precedence.
func (p *polish) mayTurn(i, j int) bool {
	for m := i; m < j; m++ {
		if p.followed(p.order[m], m+1, j) {
			return false
		}
	}
	return true
}

func (p *polish) move(i, j, k int, turn bool) {
	p.scratch = append(p.scratch[:0], p.order[i:j+1]...)
	if turn {
		slices.Reverse(p.scratch)
	}
	at := k + 1
	if k > j {
		copy(p.order[i:], p.order[j+1:k+1])
		at = k - (j - i)
	} else {
		copy(p.order[k+2+j-i:], p.order[k+1:i])
	}
	copy(p.order[at:], p.scratch)
	p.changed(min(i, k+1), max(j, k))
	for _, m := range [...]int{at - 1, at, at + j - i, at + j - i + 1, i, j} {
		p.push(m)
	}
}

// descendAll looks at every node.
func (p *polish) descendAll() {
	for i := range p.order {
		p.push(i)
	}
	p.descend()
}

// shake improves the tour by rounds: exchange two neighbouring stretches at
// random, descend, keep what is no worse.
func (p *polish) shake(rounds int, rng *rand.Rand) {
	n := len(p.order)
	if n < 4 {
		return
	}
	held := p.save()
	for range rounds {
		if p.ctx.Err() != nil {
			return
		}
		if !p.exchange(rng, min(n/2, 30)) {
			continue
		}
		p.descend()
		if c := p.cost(); c < held.cost+gain {
			held.take(p, min(c, held.cost))
			continue
		}
		p.restore(&held)
	}
}

// A saved tour can be gone back to.
type saved struct {
	order, pick []int
	cost        float64
}

func (p *polish) save() saved {
	return saved{slices.Clone(p.order), slices.Clone(p.pick), p.cost()}
}

func (s *saved) take(p *polish, cost float64) {
	copy(s.order, p.order)
	copy(s.pick, p.pick)
	s.cost = cost
}

func (p *polish) restore(s *saved) {
	copy(p.order, s.order)
	copy(p.pick, s.pick)
	p.settle(0, len(p.order)-1)
}

// exchange swaps two neighbouring stretches at random where the precedences
// allow it.
func (p *polish) exchange(rng *rand.Rand, most int) bool {
	n := len(p.order)
	a, b := 1+rng.IntN(most), 1+rng.IntN(most)
	if a+b > n {
		return false
	}
	i := rng.IntN(n - a - b + 1)
	for m := i; m < i+a; m++ {
		if p.followed(p.order[m], i+a, i+a+b-1) {
			return false
		}
	}
	p.scratch = append(p.scratch[:0], p.order[i:i+a]...)
	copy(p.order[i:], p.order[i+a:i+a+b])
	copy(p.order[i+b:], p.scratch)
	p.changed(i, i+a+b-1)
	p.push(i + b - 1)
	p.push(i + b)
	return true
}
