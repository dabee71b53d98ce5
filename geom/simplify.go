package geom

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// SimplifyOutward returns a polygon of fewer vertices that contains poly and
// whose area exceeds poly's by at most the share maxAreaGrowth. It is simple
// where poly is, and may lie outside poly's box. Small holes may close.
func SimplifyOutward(poly orb.Polygon, maxAreaGrowth float64) orb.Polygon {
	return SimplifyOutwardWithin(poly, maxAreaGrowth, math.Inf(1))
}

// SimplifyOutwardWithin is SimplifyOutward with a bound, in mm, on how far a
// single step may move the outline.
//
// Two kinds of step, cheapest first: an inward vertex is skipped, or an edge
// between two outward corners goes and its neighbours are drawn out until they
// meet. Each adds a triangle, which must be free of the rest of the outline.
func SimplifyOutwardWithin(poly orb.Polygon, maxAreaGrowth, maxStep float64) orb.Polygon {
	p := NormalPolygon(SnapPolygon(pullIn(poly)))
	s := simplifier{rings: p, budget: maxAreaGrowth * PolygonArea(p), maxStep: maxStep}
	for i := range s.rings {
		s.rings[i] = straighten(s.rings[i])
	}
	s.closeHoles()
	for s.run() { // steps found barred may have come free
	}
	return slices.DeleteFunc(s.rings, func(r orb.Ring) bool { return len(r) == 0 })
}

type simplifier struct {
	rings   orb.Polygon
	steps   [][]step // the cheaper step at each vertex, by ring
	budget  float64  // mm² left to add
	maxStep float64
}

// A step replaces skip vertices of a ring, from a vertex on, by corner, if any.
type step struct {
	skip   int
	corner orb.Point
	area   float64 // +Inf for no step
}

// run takes steps until none is free and within the budget. It reports whether
// it took any.
func (s *simplifier) run() bool {
	s.steps = make([][]step, len(s.rings))
	for k, r := range s.rings {
		s.steps[k] = make([]step, len(r))
		for i := range r {
			s.steps[k][i] = s.stepAt(k, i)
		}
	}
	took := false
	for {
		k, i, st := s.cheapest()
		if !(st.area <= s.budget) {
			return took
		}
		if s.free(k, i, st) {
			s.take(k, i, st)
			took = true
		} else {
			s.steps[k][i].area = math.Inf(1)
		}
	}
}

// closeHoles fills holes, smallest first, while a hundredth of the budget lasts
// for each: a hole of no account only costs time.
func (s *simplifier) closeHoles() {
	for k := 1; k < len(s.rings); k++ {
		if a := math.Abs(RingArea(s.rings[k])); a <= s.budget/100 {
			s.budget -= a
			s.rings[k] = nil
		}
	}
}

// cheapest is the step that adds the least area.
func (s *simplifier) cheapest() (ring, at int, best step) {
	best.area = math.Inf(1)
	for k := range s.steps {
		for i := range s.steps[k] {
			if s.steps[k][i].area < best.area {
				ring, at, best = k, i, s.steps[k][i]
			}
		}
	}
	return ring, at, best
}

// stepAt is the cheaper of the two steps at a vertex.
func (s *simplifier) stepAt(k, i int) step {
	skip, draw := s.skipStep(k, i), s.drawStep(k, i)
	if draw.area < skip.area {
		return draw
	}
	return skip
}

// skipStep leaves out vertex i where the outline turns inwards.
func (s *simplifier) skipStep(k, i int) step {
	r := s.rings[k]
	n := len(r)
	a, b, c := r[(i+n-1)%n], r[i], r[(i+1)%n]
	if n < 4 || Orient(a, b, c) >= 0 || pointSegmentDistance(b, a, c) > s.maxStep {
		return step{area: math.Inf(1)}
	}
	return step{skip: 1, area: math.Abs(RingArea(orb.Ring{a, b, c}))}
}

// drawStep replaces vertices i and i+1, both outward corners, by the meeting
// point of the edges before and after them.
func (s *simplifier) drawStep(k, i int) step {
	r := s.rings[k]
	n := len(r)
	none := step{area: math.Inf(1)}
	if n < 4 {
		return none
	}
	a, b, c, d := r[(i+n-1)%n], r[i], r[(i+1)%n], r[(i+2)%n]
	if Orient(a, b, c) <= 0 || Orient(b, c, d) <= 0 {
		return none
	}
	x, ok := drawnCorner(a, b, c, d)
	if !ok || pointSegmentDistance(x, b, c) > s.maxStep {
		return none
	}
	return step{skip: 2, corner: x, area: math.Abs(RingArea(orb.Ring{a, x, d, c, b}))}
}

// drawnCorner is a grid point just outside the meeting of ab drawn on and dc
// drawn on, such that b and c do not lie outside the new edges.
func drawnCorner(a, b, c, d orb.Point) (orb.Point, bool) {
	ux, uy, vx, vy := b[0]-a[0], b[1]-a[1], d[0]-c[0], d[1]-c[1]
	den := wideCross(ux, uy, vx, vy)
	if den <= 0 { // the two edges do not meet on this side
		return orb.Point{}, false
	}
	t := wideCross(c[0]-b[0], c[1]-b[1], vx, vy) / den
	x := orb.Point{b[0] + t*ux, b[1] + t*uy}
	if !finite(x) || max(math.Abs(x[0]), math.Abs(x[1])) > maxOverlayCoordinate {
		return x, false
	}
	// Outwards is away from bc.
	l := distance(b, c)
	out := orb.Point{(c[1] - b[1]) / l, (b[0] - c[0]) / l}
	for push := 0.0; push <= 16; push = 2*push + 1 {
		g := SnapPoint(orb.Point{x[0] + push*Grid*out[0], x[1] + push*Grid*out[1]})
		if Orient(a, b, g) <= 0 && Orient(g, c, d) <= 0 && Orient(b, c, g) < 0 {
			return g, true
		}
	}
	return x, false
}

// free reports whether the area that a step adds meets nothing else of the
// outline.
func (s *simplifier) free(k, i int, st step) bool {
	r := s.rings[k]
	n := len(r)
	before, after := (i+n-1)%n, (i+st.skip)%n
	if before == after {
		return false
	}
	path := orb.Ring{r[before]}
	if st.skip == 2 {
		path = append(path, st.corner)
	}
	path = append(path, r[after])
	added := slices.Clone(path)
	for m := st.skip - 1; m >= 0; m-- {
		added = append(added, r[(i+m)%n])
	}
	box := RingBounds(added)
	for m, ring := range s.rings {
		for j, p := range ring {
			q := ring[(j+1)%len(ring)]
			if !boxesMeet(p, q, box.Min, box.Max) {
				continue
			}
			off := n // how far past the step's start, on its own ring
			if m == k {
				off = (j - before + n) % n
			}
			if off > st.skip && !edgeClear(p, q, path) || off > st.skip+1 && LocateInRing(added, p) != Outside {
				return false
			}
		}
	}
	return true
}

// edgeClear reports whether the edge pq meets the new path at most at its ends.
func edgeClear(p, q orb.Point, path orb.Ring) bool {
	end := len(path) - 1
	for i := 1; i <= end; i++ {
		rel := RelateSegments(p, q, path[i-1], path[i])
		shared := q == path[0] && i == 1 || p == path[end] && i == end
		if rel != Disjoint && !(rel == Touching && shared) {
			return false
		}
	}
	return true
}

// take makes the step and works out the steps around it anew.
func (s *simplifier) take(k, i int, st step) {
	r, steps := s.rings[k], s.steps[k]
	if st.skip == 2 {
		r[(i+1)%len(r)] = st.corner
	}
	s.rings[k], s.steps[k] = slices.Delete(r, i, i+1), slices.Delete(steps, i, i+1)
	n := len(s.rings[k])
	for m := i - 3; m <= i+2; m++ {
		at := (m + 2*n) % n
		s.steps[k][at] = s.stepAt(k, at)
	}
	s.budget -= st.area
}
