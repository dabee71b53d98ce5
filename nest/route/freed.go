package route

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// Freed knows which pieces are cut free when, and tells which of them a rapid
// move passes over.
type freed struct {
	*tour
	// outer lists the outer contours that are cut free, from left to right of
	// their boxes; when is, by node, the position from which it is free.
	outer []int
	hits  []int
}

func newFreed(t *tour) *freed {
	f := &freed{tour: t}
	for n := range t.ns {
		if t.ns[n].hole < 0 && t.ns[n].tab == 0 {
			f.outer = append(f.outer, n)
		}
	}
	return f
}

// crossedBefore returns the pieces, as outer nodes, that are free before
// position i is cut and that the move from a to b passes over. The result is
// good until the next call.
func (f *freed) crossedBefore(i int, a, b orb.Point) []int {
	f.hits = f.hits[:0]
	for _, n := range f.outer {
		if f.pos[n] < i && f.passes(n, a, b) {
			f.hits = append(f.hits, n)
		}
	}
	return f.hits
}

// passes reports whether the way from a to b passes over a piece. The ends do
// not count where they lie on its outline.
func (f *freed) passes(n int, a, b orb.Point) bool {
	box := &f.ns[n].box
	if math.Min(a[0], b[0]) > box.Max[0] || math.Max(a[0], b[0]) < box.Min[0] ||
		math.Min(a[1], b[1]) > box.Max[1] || math.Max(a[1], b[1]) < box.Min[1] {
		return false
	}
	d := dist(a, b)
	if d <= 4*flatTolerance {
		return false
	}
	a, b = between(a, b, 2*flatTolerance/d), between(b, a, 2*flatTolerance/d)
	flat := f.ns[n].flat
	for k, p := range flat {
		if crossing(a, b, p, flat[(k+1)%len(flat)]) {
			return true
		}
	}
	// From outline to outline the way may lie inside and cross nothing.
	return geom.LocateInRing(flat, between(a, b, 0.5)) == geom.Inside
}

// count returns how many free pieces the move to position i passes over when it
// goes between two given starts.
func (f *freed) count(i int, from, to *start) int {
	return len(f.crossedBefore(i, from.end, to.pierce))
}
