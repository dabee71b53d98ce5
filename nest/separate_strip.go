package nest

import (
	"math"
	"slices"
)

// stripLength is where the rightmost item ends.
func (s *sepState) stripLength() float64 {
	x := 0.0
	for i := range s.free {
		x = max(x, s.x[i]+s.ext[i].x1)
	}
	return x
}

// scatter throws all items onto a strip of the given length at random, each in a
// turn in which it is no higher than the strip.
func (l *sepLane) scatter(length float64) {
	rng := l.mover.rng
	l.boxes[0].x1 = length
	for i := range l.free {
		l.throw(i)
		f := l.boxes[0].inside(l.ext[i])
		l.x[i] = f.x0 + rng.Float64()*(f.x1-f.x0)
		l.y[i] = f.y0 + rng.Float64()*(f.y1-f.y0)
		l.confine(i)
	}
	l.measure()
}

// scatterDraws is how often a turn is drawn for an item before it gets its
// lowest.
const scatterDraws = 64

// throw turns an item at random so that the strip is high enough for it. No later
// step would mend a wrong turn: only items that collide with others are moved.
func (l *sepLane) throw(i int) {
	k, rng := l.kindOf(i), l.mover.rng
	height := l.boxes[0].y1 - l.boxes[0].y0
	for range scatterDraws {
		angle := 0.0
		if k.free {
			angle = l.store.guess(k, rng)
		}
		l.turn(i, int32(k.form0+rng.IntN(k.forms)), angle)
		if l.ext[i].y1-l.ext[i].y0 <= height {
			return
		}
	}
	l.layLow(i)
}

// layLow turns an item so that it is as low as it can be.
func (l *sepLane) layLow(i int) {
	k := l.kindOf(i)
	angles := []float64{0}
	if k.free {
		angles = k.flatAngles()
	}
	lowest, form, angle := math.Inf(1), l.form[i], l.angle[i]
	for f := range k.forms {
		for _, a := range angles {
			l.turn(i, int32(k.form0+f), a)
			if h := l.ext[i].y1 - l.ext[i].y0; h < lowest {
				lowest, form, angle = h, l.form[i], a
			}
		}
	}
	l.turn(i, form, angle)
}

// shorten cuts the strip to the target length: a slice is taken out at the
// place at, and what lies right of it moves left.
func (l *sepLane) shorten(target, at float64) {
	delta := l.boxes[0].x1 - target
	l.boxes[0].x1 = target
	for i := range l.free {
		if l.x[i] > at {
			l.x[i] -= delta
		}
		l.confine(i)
	}
	l.measure()
}

// floor is a length no layout can go below: the strip holds its widest item,
// turned as it is narrowest.
func (l *sepLane) floor() float64 {
	floor := 0.0
	for i := range l.free {
		floor = max(floor, l.leastWidth(l.kindOf(i)))
	}
	return l.boxes[0].x0 + floor
}

// leastWidth is how narrow a kind can lie.
func (l *sepLane) leastWidth(k *sepKind) float64 {
	least := math.Inf(1)
	for f := range k.forms {
		least = min(least, l.store.narrowest(int32(k.form0+f)))
	}
	return least
}

// aimFor starts an attempt at the target length from the best layout. It costs
// a lookup for each item even where nothing collides, so that a strip that
// cannot get shorter ends with its effort.
func (l *sepLane) aimFor(target float64, p sepPatience) {
	l.work += int64(l.free)
	target = max(target, min(l.length, l.floor()))
	l.adopt(&l.best)
	l.boxes[0].x1 = l.length
	l.target = target
	l.shorten(target, l.mover.rng.Float64()*l.length)
	l.begin(p)
}

// record takes the layout as the lane's best.
func (l *sepLane) record() {
	l.length = l.stripLength()
	l.boxes[0].x1 = l.length
	l.best.assign(&l.sepPlan)
	l.failed.empty()
	l.misses = 0
}

// Patience while exploring and while compressing.
var (
	sepWide  = sepPatience{passes: 50, strikes: 2}
	sepClose = sepPatience{passes: 100, strikes: 5}
)

// Exploration cuts sepSlice of the length off at once. When sepMisses attempts
// at a length got stuck it halves the cut, down to sepSliceLeast. Long cuts
// come first because a layout that is broken up more is put together better; a
// strip that is nearly as short as it gets only yields to short ones.
const (
	sepSlice      = 0.01
	sepSliceLeast = 0.002
	sepMisses     = 3
)

// A compression's cuts start at sepCloseFrom of the length and decay to
// sepCloseTo as its share of the effort runs out.
const (
	sepCloseFrom = 5e-4
	sepCloseTo   = 1e-5
)

// advance runs the lane until its work reaches the quota. share says how far
// the compression under way has come.
func (l *sepLane) advance(quota int64, narrow bool, share float64) {
	if narrow != l.narrow || l.target == 0 {
		if narrow && !l.narrow {
			l.squeezeBest()
		}
		l.narrow = narrow
		l.restart(share)
	}
	for l.work < quota && !l.stopped() {
		switch l.step() {
		case sepSolved:
			if l.narrow {
				l.squeeze()
			}
			l.record()
			l.restart(share)
		case sepStuck:
			l.retry(share)
		}
	}
}

// squeezeBest squeezes the best layout before it is compressed.
func (l *sepLane) squeezeBest() {
	l.adopt(&l.best)
	l.boxes[0].x1 = l.length
	l.squeeze()
	if l.loss() == 0 && l.stripLength() < l.length {
		l.record()
	}
}

// restart aims at the next target from the best layout.
func (l *sepLane) restart(share float64) {
	if l.narrow {
		cut := sepCloseFrom + (sepCloseTo-sepCloseFrom)*share
		l.aimFor(l.length*(1-cut), sepClose)
		return
	}
	l.aimFor(l.length*(1-l.slice), sepWide)
}

// retry goes on after an attempt got stuck: exploration disrupts one of the
// best failures or, after enough of them, aims at less; compression cuts the
// best layout elsewhere.
func (l *sepLane) retry(share float64) {
	if l.narrow {
		l.restart(share)
		return
	}
	if l.misses++; l.misses >= sepMisses && l.slice > sepSliceLeast {
		l.slice, l.misses = max(l.slice/2, sepSliceLeast), 0
		l.failed.empty()
		l.restart(share)
		return
	}
	l.failed.add(&l.sepPlan, l.attempt.best)
	l.adopt(l.failed.draw(l.mover.rng))
	l.swapLarge()
	l.measure()
	l.begin(sepWide)
}

// swapLarge exchanges the places of two large items of different kinds.
func (l *sepLane) swapLarge() {
	rng := l.mover.rng
	big := l.largeItems()
	for range 16 {
		a, b := big[rng.IntN(len(big))], big[rng.IntN(len(big))]
		if l.kindOf(a) == l.kindOf(b) {
			continue
		}
		l.x[a], l.x[b] = l.x[b], l.x[a]
		l.y[a], l.y[b] = l.y[b], l.y[a]
		l.confine(a)
		l.confine(b)
		return
	}
}

// sepLargeShare is the share of the hull area that counts as large items.
const sepLargeShare = 0.75

// largeItems lists the items that make up most of the area, largest first.
func (l *sepLane) largeItems() []int {
	order := make([]int, l.free)
	total := 0.0
	for i := range order {
		order[i] = i
		total += l.kindOf(i).size * l.kindOf(i).size
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch sa, sb := l.kindOf(a).size, l.kindOf(b).size; {
		case sa > sb:
			return -1
		case sa < sb:
			return 1
		}
		return a - b
	})
	sum := 0.0
	for k, i := range order {
		sum += l.kindOf(i).size * l.kindOf(i).size
		if sum >= total*sepLargeShare {
			return order[:k+1]
		}
	}
	return order
}
