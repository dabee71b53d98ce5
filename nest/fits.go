package nest

import (
	"sync/atomic"

	"kerfold/geom"
)

// fits makes and keeps a problem's no-fit polygons and inner-fit regions, each
// the first time it is asked for. What it holds does not depend on who asks
// first, so all goroutines share one.
type fits struct {
	pre    *prepared
	pairs  []atomic.Pointer[nofit] // by fixed·len(shapes)+moving
	inside []atomic.Pointer[inner] // by ground·len(shapes)+shape
	memo   *Memo                   // keeps pairs between problems; may be nil
	names  []int                   // the shapes' numbers in the memo
}

func newFits(pre *prepared, memo *Memo) *fits {
	n := len(pre.shapes)
	t := &fits{
		pre:    pre,
		pairs:  make([]atomic.Pointer[nofit], n*n),
		inside: make([]atomic.Pointer[inner], n*len(pre.grounds)),
		memo:   memo,
	}
	if memo != nil {
		t.names = memo.names(pre.shapes)
	}
	return t
}

// apart is where the moving shape may not lie, relative to the fixed one.
func (t *fits) apart(fixed, moving int) *nofit {
	at := &t.pairs[fixed*len(t.pre.shapes)+moving]
	if n := at.Load(); n != nil {
		return n
	}
	if d, ok := t.pre.derived(fixed, moving); ok {
		return keepFirst(at, t.apart(d.fixed, d.moving).turned(t.pre, d))
	}
	return keepFirst(at, t.makePair(fixed, moving))
}

// makePair works a pair out, or has the memo remember it.
func (t *fits) makePair(fixed, moving int) *nofit {
	work := func() *nofit {
		return newNofit(geom.NoFit(t.pre.shapes[fixed].body, t.pre.shapes[moving].body))
	}
	if t.memo == nil {
		return work()
	}
	return t.memo.pair([2]int{t.names[fixed], t.names[moving]}, work)
}

// forgetShapes is how many shapes a problem has before no-fit polygons that will
// not be asked for again are given up: there are as many as the square of that.
const forgetShapes = 256

// forget gives up the no-fit polygons of a kind's shapes. Should one be asked for
// all the same, it is made again.
func (t *fits) forget(kind int) {
	n := len(t.pre.shapes)
	for _, turn := range t.pre.kinds[kind].distinct {
		s := t.pre.kinds[kind].turns[turn].shape
		for other := range n {
			t.pairs[s*n+other].Store(nil)
			t.pairs[other*n+s].Store(nil)
		}
	}
}

// on is where the shape may lie on an empty ground.
func (t *fits) on(ground, shape int) *inner {
	at := &t.inside[ground*len(t.pre.shapes)+shape]
	if in := at.Load(); in != nil {
		return in
	}
	return keepFirst(at, newInner(&t.pre.grounds[ground], &t.pre.shapes[shape]))
}

// keepFirst stores what was made unless another goroutine was quicker, and
// returns what is stored. Both would be equal.
func keepFirst[T any](at *atomic.Pointer[T], made *T) *T {
	if at.CompareAndSwap(nil, made) {
		return made
	}
	return at.Load()
}

// usable lists the turns of a kind, one per shape, that fit on some ground.
func (t *fits) usable(kind int) []int32 {
	var list []int32
	for _, turn := range t.pre.kinds[kind].distinct {
		for g := range t.pre.grounds {
			if t.allowed(g, kind, turn) {
				list = append(list, turn)
				break
			}
		}
	}
	return list
}

// allowed tells whether a kind in a turn's shape fits on an empty ground.
func (t *fits) allowed(ground, kind int, turn int32) bool {
	k := &t.pre.kinds[kind]
	shape := k.turns[turn].shape
	g := &t.pre.grounds[ground]
	return g.count > 0 && k.hasShape(g.turns[kind], shape) && !t.on(ground, shape).empty
}
