package nest

import "math"

// A roomProof shows how much room parts need at least. Each claim is given a
// weight, of one in all, and each rule of a hole a price. A part beside others then
// takes room by the weighed claims; in a hole it pays the prices of its loads. It
// does one or the other, so it needs the lesser of all that at least, and a hole
// gives back no more than the prices of its room. That holds for any weights and
// prices that are not negative, so the linear program that picks them need not be
// trusted: it is the dual of sharing out what lies in which hole so that the rest
// takes least room.
type roomProof struct {
	counts  []int // of the parts that must lie on the grounds; others are 0
	claims  []claim
	holes   []holeKind
	offered []int // holes of each kind there are

	weights []float64
	prices  [][]float64 // by kind of hole and rule
}

// proof poses the proof for the parts that can lie on a set of grounds only. The
// holes are those of all parts that can lie there. A part beyond those wanted could
// hold others too, but leaving it off and them in their places is a layout as well.
func (b *bounder) proof(on groundSet) *roomProof {
	p := &roomProof{counts: make([]int, len(b.counts)), claims: b.claims(on)}
	for i, n := range b.counts {
		if b.mask[i]&^on == 0 {
			p.counts[i] = n
		}
	}
	for _, h := range b.holes {
		if b.mask[h.part]&on != 0 {
			p.holes = append(p.holes, h)
			p.offered = append(p.offered, h.count*b.counts[h.part])
		}
	}
	return p
}

// best is the largest need of room that is found, and by part what a copy with its
// holes adds to it. The weights and prices that prove it stay.
func (p *roomProof) best() (room float64, each []float64) {
	room = math.Inf(-1)
	var weights []float64
	var prices [][]float64
	keep := func() {
		if r, e := p.need(); r > room {
			room, each, weights, prices = r, e, p.weights, p.prices
		}
	}
	for k := range p.claims {
		p.simple(k)
		keep()
	}
	if p.rows()*p.columns() <= proofEntries {
		p.solve()
		keep()
	}
	p.weights, p.prices = weights, prices
	return room, each
}

// proofEntries is how large a tableau may be for its program to be solved.
const proofEntries = 400_000

// need is the room that the weights and prices prove to be needed.
func (p *roomProof) need() (room float64, each []float64) {
	each = make([]float64, len(p.counts))
	for i := range each {
		for k, w := range p.weights {
			each[i] += w * p.claims[k].takes[i]
		}
	}
	for h := range p.holes {
		for _, i := range p.holes[h].fits {
			each[i] = min(each[i], p.pays(h, i))
		}
	}
	for i, n := range p.counts {
		room += float64(n) * each[i]
	}
	for h, hole := range p.holes {
		worth := 0.0
		for c, rule := range hole.rules {
			worth += p.prices[h][c] * rule.room
		}
		room -= float64(p.offered[h]) * worth
		each[hole.part] -= float64(hole.count) * worth
	}
	return room, each
}

// pays is the price of a part in a hole.
func (p *roomProof) pays(hole, part int) float64 {
	sum := 0.0
	for c, rule := range p.holes[hole].rules {
		sum += p.prices[hole][c] * rule.load[part]
	}
	return sum
}

// clear sets all weights and prices to nothing.
func (p *roomProof) clear() {
	p.weights, p.prices = make([]float64, len(p.claims)), make([][]float64, len(p.holes))
	for h := range p.holes {
		p.prices[h] = make([]float64, len(p.holes[h].rules))
	}
}

// simple weighs one claim alone. A hole's area is as dear as the part that makes
// most of it.
func (p *roomProof) simple(k int) {
	p.clear()
	p.weights[k] = 1
	for h := range p.holes {
		area := &p.holes[h].rules[0]
		for _, i := range p.holes[h].fits {
			if area.load[i] > 0 {
				p.prices[h][0] = max(p.prices[h][0], p.claims[k].takes[i]/area.load[i])
			}
		}
	}
}

// rows and columns are the size of the linear program.
func (p *roomProof) rows() int {
	n := 2
	held := make([]bool, len(p.counts))
	for h := range p.holes {
		n += len(p.holes[h].fits)
		for _, i := range p.holes[h].fits {
			if !held[i] {
				held[i] = true
				n++
			}
		}
	}
	return n
}

func (p *roomProof) columns() int {
	n := len(p.claims) + len(p.counts) + 1
	for h := range p.holes {
		n += len(p.holes[h].rules)
	}
	return n
}
