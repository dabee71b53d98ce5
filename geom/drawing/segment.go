package drawing

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A segment is one piece of outline: a line, or an arc where bulge is not 0.
type segment struct {
	a, b  orb.Point
	bulge float64
}

func (s segment) reversed() segment { return segment{s.b, s.a, -s.bulge} }

func (s segment) isArc() bool { return s.bulge != 0 }

// sweep is the angle the arc turns through, in radians, positive
// counter-clockwise.
func (s segment) sweep() float64 { return 4 * math.Atan(s.bulge) }

// centre returns the arc's centre and radius. With chord c and bulge b the
// sagitta is b·c/2, so the centre lies c·(1−b²)/(4b) to the left of the
// chord's middle.
func (s segment) centre() (c orb.Point, r float64) {
	dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
	k := (1 - s.bulge*s.bulge) / (4 * s.bulge)
	c = orb.Point{(s.a[0]+s.b[0])/2 - dy*k, (s.a[1]+s.b[1])/2 + dx*k}
	r = math.Hypot(dx, dy) * (1 + s.bulge*s.bulge) / (4 * math.Abs(s.bulge))
	return c, r
}

// length in mm, along the arc.
func (s segment) length() float64 {
	chord := dist(s.a, s.b)
	if s.bulge == 0 {
		return chord
	}
	half := 2 * math.Atan(math.Abs(s.bulge)) // half the sweep
	if half < 1e-4 {                         // x/sin x for small x
		return chord * (1 + half*half/6)
	}
	return chord * half / math.Sin(half)
}

// middle is the point half way along.
func (s segment) middle() orb.Point {
	return orb.Point{
		(s.a[0]+s.b[0])/2 + s.bulge*(s.b[1]-s.a[1])/2,
		(s.a[1]+s.b[1])/2 - s.bulge*(s.b[0]-s.a[0])/2,
	}
}

// bound returns the segment's extents.
func (s segment) bound() orb.Bound {
	b := orb.Bound{Min: s.a, Max: s.a}.Extend(s.b)
	if s.bulge == 0 {
		return b
	}
	c, r := s.centre()
	for _, q := range [4]orb.Point{{c[0] + r, c[1]}, {c[0], c[1] + r}, {c[0] - r, c[1]}, {c[0], c[1] - r}} {
		if s.passes(q) {
			b = b.Extend(q)
		}
	}
	return b
}

// passes reports whether a point of the arc's circle lies on the arc: on the
// right of the chord where the arc turns counter-clockwise.
func (s segment) passes(q orb.Point) bool {
	cross := (s.b[0]-s.a[0])*(q[1]-s.a[1]) - (s.b[1]-s.a[1])*(q[0]-s.a[0])
	return cross == 0 || (cross < 0) == (s.bulge > 0)
}

// split cuts the segment at the fraction t of its sweep (of its length).
func (s segment) split(t float64) (first, second segment) {
	if s.bulge == 0 {
		m := orb.Point{s.a[0] + t*(s.b[0]-s.a[0]), s.a[1] + t*(s.b[1]-s.a[1])}
		return segment{s.a, m, 0}, segment{m, s.b, 0}
	}
	c, _ := s.centre()
	w := s.sweep()
	sin, cos := math.Sincos(t * w)
	dx, dy := s.a[0]-c[0], s.a[1]-c[1]
	m := orb.Point{c[0] + dx*cos - dy*sin, c[1] + dx*sin + dy*cos}
	return segment{s.a, m, math.Tan(t * w / 4)}, segment{m, s.b, math.Tan((1 - t) * w / 4)}
}

// arcSegments returns an arc about c as segments that each turn through at
// most a half circle, from the angle a0 through the sweep w, in radians.
func arcSegments(c orb.Point, r, a0, w float64) []segment {
	n := max(1, int(math.Ceil(math.Abs(w)/math.Pi-1e-9)))
	out := make([]segment, 0, n)
	at := func(i int) orb.Point {
		sin, cos := math.Sincos(a0 + w*float64(i)/float64(n))
		return orb.Point{c[0] + r*cos, c[1] + r*sin}
	}
	bulge := math.Tan(w / float64(n) / 4)
	for i := range n {
		out = append(out, segment{at(i), at(i + 1), bulge})
	}
	return out
}

func dist(a, b orb.Point) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

// segmentOf returns one segment of a closed contour.
func segmentOf(c geom.Contour, i int) segment {
	k := i + 1
	if k == len(c) {
		k = 0
	}
	return segment{c[i].P, c[k].P, c[i].Bulge}
}

// contourSegments lists the segments of a closed contour.
func contourSegments(c geom.Contour) []segment {
	out := make([]segment, len(c))
	for i := range c {
		out[i] = segmentOf(c, i)
	}
	return out
}

// pathSegments lists the segments of an open path.
func pathSegments(p geom.Path) []segment {
	if len(p) == 0 {
		return nil
	}
	out := make([]segment, len(p)-1)
	for i := range out {
		out[i] = segment{p[i].P, p[i+1].P, p[i].Bulge}
	}
	return out
}

// boundOf returns the extents of a contour, arcs included.
func boundOf(c geom.Contour) orb.Bound {
	b := emptyBound()
	for i := range c {
		b = grow(b, segmentOf(c, i).bound())
	}
	return b
}

// emptyBound is the bound of nothing: extending it by a point gives the point.
func emptyBound() orb.Bound {
	inf := math.Inf(1)
	return orb.Bound{Min: orb.Point{inf, inf}, Max: orb.Point{-inf, -inf}}
}

// grow returns the smallest bound that holds both.
func grow(b, o orb.Bound) orb.Bound {
	return orb.Bound{
		Min: orb.Point{min(b.Min[0], o.Min[0]), min(b.Min[1], o.Min[1])},
		Max: orb.Point{max(b.Max[0], o.Max[0]), max(b.Max[1], o.Max[1])},
	}
}

// distance from the segment to a point.
func (s segment) distance(p orb.Point) float64 {
	if s.bulge == 0 {
		return s.chordDistance(p)
	}
	c, r := s.centre()
	d := dist(c, p)
	if d == 0 {
		return r
	}
	foot := orb.Point{c[0] + (p[0]-c[0])*r/d, c[1] + (p[1]-c[1])*r/d}
	if s.passes(foot) {
		return math.Abs(d - r)
	}
	return min(dist(s.a, p), dist(s.b, p))
}

// chordDistance is the distance from the chord to a point.
func (s segment) chordDistance(p orb.Point) float64 {
	dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = min(1, max(0, ((p[0]-s.a[0])*dx+(p[1]-s.a[1])*dy)/l))
	}
	return math.Hypot(p[0]-s.a[0]-t*dx, p[1]-s.a[1]-t*dy)
}
