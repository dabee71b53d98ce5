package nest

import (
	"sync/atomic"

	"kerfold/geom"
)

// nofits makes and keeps the no-fit polygons of a problem's shapes, each the
// first time it is asked for. What it holds does not depend on who asks first,
// so all goroutines share one.
type nofits struct {
	shapes []shape
	table  []atomic.Pointer[nofit] // by fixed·len(shapes)+moving
}

func newNofits(shapes []shape) *nofits {
	return &nofits{shapes: shapes, table: make([]atomic.Pointer[nofit], len(shapes)*len(shapes))}
}

// of is where the moving shape may not lie, relative to the fixed one.
func (t *nofits) of(fixed, moving int) *nofit {
	at := &t.table[fixed*len(t.shapes)+moving]
	if n := at.Load(); n != nil {
		return n
	}
	n := newNofit(geom.NoFit(t.shapes[fixed].body, t.shapes[moving].body))
	if !at.CompareAndSwap(nil, n) {
		n = at.Load()
	}
	return n
}
