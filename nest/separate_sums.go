package nest

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// sepSeam is how close to a boundary, in millimetres, a point still counts as
// on it when no-fit boundaries are put together: a quarter of what a pose loses
// when it is rounded to the grid.
const sepSeam = geom.Grid / 4

// A sepSeg is one piece of a no-fit boundary with the inside on its left, or, on
// a seam, on both sides: a seam is where a part slides through a slot of exactly
// its width.
type sepSeg struct {
	ax, ay float64 // start
	ux, uy float64 // unit direction
	length float64
	seam   bool
}

// A sepSum is the convex no-fit region of one convex piece against another,
// counter-clockwise, with its box.
type sepSum struct {
	ring           orb.Ring
	edges          []sepSeg // those longer than the seam
	x0, y0, x1, y1 float64
}

// sepSums returns the no-fit region of b moving around a, both cut into convex
// pieces, as a union of convex sums of a's pieces and b's pieces turned about
// the origin: b placed at v overlaps a exactly when v is inside one of them.
func sepSums(a, b []orb.Ring) []sepSum {
	sums := make([]sepSum, 0, len(a)*len(b))
	for _, pa := range a {
		for _, pb := range b {
			sums = append(sums, sepBoxed(sepConvexSum(pa, sepNegated(pb))))
		}
	}
	return sums
}

func sepNegated(r orb.Ring) orb.Ring {
	out := make(orb.Ring, len(r))
	for i, p := range r {
		out[i] = orb.Point{-p[0], -p[1]}
	}
	return out
}

func sepBoxed(r orb.Ring) sepSum {
	b := r.Bound()
	s := sepSum{ring: r, x0: b.Min[0], y0: b.Min[1], x1: b.Max[0], y1: b.Max[1]}
	s.edges = make([]sepSeg, 0, len(r))
	for i, p := range r {
		if e, ok := sepSegment(p, r[(i+1)%len(r)]); ok {
			s.edges = append(s.edges, e)
		}
	}
	return s
}

// sepConvexSum is the Minkowski sum of two convex counter-clockwise rings:
// their edges merged by direction.
func sepConvexSum(a, b orb.Ring) orb.Ring {
	i, j := sepLowest(a), sepLowest(b)
	out := make(orb.Ring, 0, len(a)+len(b))
	for m, n := 0, 0; m < len(a) || n < len(b); {
		p, q := a[(i+m)%len(a)], b[(j+n)%len(b)]
		out = append(out, orb.Point{p[0] + q[0], p[1] + q[1]})
		p2, q2 := a[(i+m+1)%len(a)], b[(j+n+1)%len(b)]
		turn := (p2[0]-p[0])*(q2[1]-q[1]) - (p2[1]-p[1])*(q2[0]-q[0])
		switch {
		case n >= len(b):
			m++
		case m >= len(a):
			n++
		case turn > 0:
			m++
		case turn < 0:
			n++
		default:
			m++
			n++
		}
	}
	return out
}

func sepLowest(r orb.Ring) int {
	best := 0
	for i, p := range r {
		if p[1] < r[best][1] || (p[1] == r[best][1] && p[0] < r[best][0]) {
			best = i
		}
	}
	return best
}

// inside reports whether the point lies deeper than the seam in the sum.
func (s *sepSum) inside(x, y float64) bool {
	if x <= s.x0 || x >= s.x1 || y <= s.y0 || y >= s.y1 {
		return false
	}
	for i := range s.edges {
		e := &s.edges[i]
		if e.ux*(y-e.ay)-e.uy*(x-e.ax) <= sepSeam {
			return false
		}
	}
	return true
}

// sepBoundary returns the boundary of the union of the sums: of each sum's
// edges what no other sum covers. A slot that fits exactly stays as a seam, a
// hole that fits exactly as a seam without length.
func sepBoundary(sums []sepSum) []sepSeg {
	var out []sepSeg
	var c sepCover
	for k := range sums {
		for _, seg := range sums[k].edges {
			if c.collect(seg, k, sums) {
				out = c.uncovered(out, seg)
			}
		}
	}
	return sepWithoutStubs(out)
}

// A sepCover collects, along one segment, the stretches that other sums cover
// and those along which another sum lies on the far side.
type sepCover struct {
	inside, against [][2]float64
}

// collect gathers what the other sums do along an edge of sum k. It tells false
// as soon as one of them covers the edge from end to end: most edges lie deep
// inside, and nothing of them is left whatever the rest do.
func (c *sepCover) collect(seg sepSeg, k int, sums []sepSum) bool {
	c.inside, c.against = c.inside[:0], c.against[:0]
	for m := range sums {
		if m == k || !sums[m].near(&seg) {
			continue
		}
		n := len(c.inside)
		c.add(seg, sums[m].edges, m < k)
		if len(c.inside) > n && c.inside[n][0] <= 0 && c.inside[n][1] >= seg.length {
			return false
		}
	}
	return true
}

func sepSegment(p, q orb.Point) (sepSeg, bool) {
	dx, dy := q[0]-p[0], q[1]-p[1]
	l := math.Hypot(dx, dy)
	if l < sepSeam {
		return sepSeg{}, false
	}
	return sepSeg{ax: p[0], ay: p[1], ux: dx / l, uy: dy / l, length: l}, true
}

// near reports whether a segment's box meets the sum's.
func (s *sepSum) near(e *sepSeg) bool {
	bx, by := e.ax+e.ux*e.length, e.ay+e.uy*e.length
	return min(e.ax, bx) <= s.x1 && max(e.ax, bx) >= s.x0 &&
		min(e.ay, by) <= s.y1 && max(e.ay, by) >= s.y0
}

// add collects the stretch of the segment that lies inside the sum with these
// edges, or along one of them in the opposite direction, or, for an earlier sum,
// along one in the same direction (so that a shared boundary is kept once).
func (c *sepCover) add(seg sepSeg, sum []sepSeg, earlier bool) {
	lo, hi := 0.0, seg.length
	for i := range sum {
		e := &sum[i]
		// height above the edge's line along the segment: h0 + t·slope
		h0 := e.ux*(seg.ay-e.ay) - e.uy*(seg.ax-e.ax)
		slope := e.ux*seg.uy - e.uy*seg.ux
		h1 := h0 + seg.length*slope
		if math.Abs(h0) <= sepSeam && math.Abs(h1) <= sepSeam {
			switch same := e.ux*seg.ux+e.uy*seg.uy > 0; {
			case same && earlier:
				c.inside = sepAlong(c.inside, seg, e.ax, e.ay, e.length)
			case !same:
				c.against = sepAlong(c.against, seg, e.ax+e.ux*e.length, e.ay+e.uy*e.length, e.length)
			}
			return
		}
		if h0 <= sepSeam && h1 <= sepSeam {
			return
		}
		if h0 > sepSeam && h1 > sepSeam {
			continue
		}
		t := (sepSeam - h0) / slope
		if slope > 0 {
			lo = max(lo, t)
		} else {
			hi = min(hi, t)
		}
	}
	if lo < hi {
		c.inside = append(c.inside, [2]float64{lo, hi})
	}
}

// sepAlong adds the stretch of the segment next to a collinear one that starts
// at (x, y) and runs the same way.
func sepAlong(to [][2]float64, seg sepSeg, x, y, length float64) [][2]float64 {
	t0 := (x-seg.ax)*seg.ux + (y-seg.ay)*seg.uy
	lo, hi := max(0, t0), min(seg.length, t0+length)
	if lo < hi {
		to = append(to, [2]float64{lo, hi})
	}
	return to
}

// uncovered appends the stretches of the segment that nothing covers.
func (c *sepCover) uncovered(out []sepSeg, seg sepSeg) []sepSeg {
	byStart := func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) }
	slices.SortFunc(c.inside, byStart)
	slices.SortFunc(c.against, byStart)
	at := 0.0
	for _, in := range c.inside {
		if in[0] > at {
			out = c.seams(out, seg, at, in[0])
		}
		at = max(at, in[1])
	}
	if at < seg.length {
		out = c.seams(out, seg, at, seg.length)
	}
	return out
}

// seams appends the stretch from lo to hi, cut where a seam begins and ends.
func (c *sepCover) seams(out []sepSeg, seg sepSeg, lo, hi float64) []sepSeg {
	for _, g := range c.against {
		from, to := max(lo, g[0]), min(hi, g[1])
		if from >= to {
			continue
		}
		if from > lo {
			out = append(out, sepCut(seg, lo, from, false))
		}
		out = append(out, sepCut(seg, from, to, true))
		lo = to
	}
	if lo < hi {
		out = append(out, sepCut(seg, lo, hi, false))
	}
	return out
}

func sepCut(seg sepSeg, from, to float64, seam bool) sepSeg {
	cut := seg
	cut.ax += seg.ux * from
	cut.ay += seg.uy * from
	cut.length = to - from
	cut.seam = seam
	return cut
}

// sepStub is the length below which a stretch is an artefact of the seam width,
// left where boundaries cross.
const sepStub = 4 * sepSeam

// sepWithoutStubs drops stubs next to real boundary; a stub alone marks a place
// that fits exactly and stays, with the inside all around.
func sepWithoutStubs(segs []sepSeg) []sepSeg {
	var out []sepSeg
	for _, s := range segs {
		if s.length > sepStub {
			out = append(out, s)
		}
	}
	for _, s := range segs {
		if s.length <= sepStub && !sepAnyNear(out, s.ax, s.ay) {
			out = append(out, sepSeg{ax: s.ax, ay: s.ay, ux: 1, seam: true})
		}
	}
	return out
}

func sepAnyNear(segs []sepSeg, x, y float64) bool {
	for i := range segs {
		if segs[i].distance2(x, y) <= 4*sepStub*sepStub {
			return true
		}
	}
	return false
}
