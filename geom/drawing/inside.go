package drawing

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// contains reports whether a point lies inside a contour with true arcs, by
// counting the crossings of a ray to the right. Points on the contour may fall
// either way.
func contains(c geom.Contour, p orb.Point) bool {
	in := false
	var xs [3]float64
	for i := range c {
		for _, x := range segmentOf(c, i).levelCrossings(xs[:0], p[1]) {
			if x > p[0] {
				in = !in
			}
		}
	}
	return in
}

// levelCrossings appends the x at which the segment crosses the height y. A
// segment counts at its lower end and not at its upper one, so that a contour
// that passes through y at a vertex crosses once. Arcs are taken as the up to
// three stretches in which they only rise or only fall.
func (s segment) levelCrossings(out []float64, y float64) []float64 {
	if s.bulge == 0 {
		if (s.a[1] > y) == (s.b[1] > y) {
			return out
		}
		return append(out, s.a[0]+(y-s.a[1])/(s.b[1]-s.a[1])*(s.b[0]-s.a[0]))
	}
	c, r := s.centre()
	if y > c[1]+r || y < c[1]-r {
		return out
	}
	half := math.Sqrt(max(0, (r-(y-c[1]))*(r+(y-c[1]))))
	from := s.a
	var turns [3]orb.Point
	for _, to := range s.turnPoints(turns[:0], c, r) {
		if (from[1] > y) != (to[1] > y) {
			out = append(out, c[0]+s.side(from, to)*half)
		}
		from = to
	}
	return out
}

// side is 1 where a stretch lies right of the arc's centre, −1 left of it: a
// counter-clockwise arc rises on the right. The stretch's ends would not tell
// where it is a whole half circle.
func (s segment) side(from, to orb.Point) float64 {
	if (to[1] > from[1]) == (s.bulge > 0) {
		return 1
	}
	return -1
}

// turnPoints appends the arc's highest and lowest point of the circle, as far
// as the arc passes them, in order, and its end.
func (s segment) turnPoints(out []orb.Point, c orb.Point, r float64) []orb.Point {
	top, bottom := orb.Point{c[0], c[1] + r}, orb.Point{c[0], c[1] - r}
	if s.passes(top) {
		out = append(out, top)
	}
	if s.passes(bottom) {
		out = append(out, bottom)
	}
	if len(out) == 2 && s.fraction(out[0]) > s.fraction(out[1]) {
		out[0], out[1] = out[1], out[0]
	}
	return append(out, s.b)
}

// levels are heights inside a contour, as fractions of its own, away from round
// ones, where vertices like to lie.
var levels = [...]float64{0.4871, 0.2513, 0.7237, 0.1123, 0.8911}

// inner returns a point well inside a contour with the given extents: on the
// first level line that runs inside for a good stretch, the middle of the
// widest stretch. ok is false where the contour has no inside.
func inner(c geom.Contour, b orb.Bound) (p orb.Point, ok bool) {
	width := 0.0
	var xs []float64
	for _, f := range levels {
		y := b.Min[1] + f*(b.Max[1]-b.Min[1])
		xs = xs[:0]
		for i := range c {
			xs = segmentOf(c, i).levelCrossings(xs, y)
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			if w := xs[i+1] - xs[i]; w > width {
				width, p = w, orb.Point{(xs[i] + xs[i+1]) / 2, y}
			}
		}
		if width > (b.Max[0]-b.Min[0])/8 {
			break
		}
	}
	return p, width > 0
}
