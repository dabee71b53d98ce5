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
	for _, s := range contourSegments(c) {
		for _, x := range s.levelCrossings(p[1]) {
			if x > p[0] {
				in = !in
			}
		}
	}
	return in
}

// levelCrossings returns the x at which the segment crosses the height y. A
// segment counts at its lower end and not at its upper one, so that a contour
// that passes through y at a vertex crosses once. Arcs are taken as the up to
// three stretches in which they only rise or only fall.
func (s segment) levelCrossings(y float64) []float64 {
	if s.bulge == 0 {
		if (s.a[1] > y) == (s.b[1] > y) {
			return nil
		}
		return []float64{s.a[0] + (y-s.a[1])/(s.b[1]-s.a[1])*(s.b[0]-s.a[0])}
	}
	c, r := s.centre()
	if y > c[1]+r || y < c[1]-r {
		return nil
	}
	half := math.Sqrt(max(0, (r-(y-c[1]))*(r+(y-c[1]))))
	var out []float64
	from := s.a
	for _, to := range s.turnPoints(c, r) {
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

// turnPoints returns the arc's highest and lowest point of the circle, as far
// as the arc passes them, in order, and its end.
func (s segment) turnPoints(c orb.Point, r float64) []orb.Point {
	out := make([]orb.Point, 0, 3)
	top, bottom := orb.Point{c[0], c[1] + r}, orb.Point{c[0], c[1] - r}
	if s.facesAngle(c, math.Pi/2) {
		out = append(out, top)
	}
	if s.facesAngle(c, -math.Pi/2) {
		out = append(out, bottom)
	}
	if len(out) == 2 && s.fraction(out[0]) > s.fraction(out[1]) {
		out[0], out[1] = out[1], out[0]
	}
	return append(out, s.b)
}

// inner returns a point well inside a contour: on a level line near half its
// height, the middle of the widest stretch inside. ok is false where the
// contour has no inside.
func inner(c geom.Contour) (p orb.Point, ok bool) {
	width := 0.0
	for _, y := range levels(c) {
		var xs []float64
		for _, s := range contourSegments(c) {
			xs = append(xs, s.levelCrossings(y)...)
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			if w := xs[i+1] - xs[i]; w > width {
				width, p = w, orb.Point{(xs[i] + xs[i+1]) / 2, y}
			}
		}
	}
	return p, width > 0
}

// levels returns a few heights inside a contour's extents, away from round
// fractions, where vertices like to lie.
func levels(c geom.Contour) []float64 {
	b := c.Bounds()
	out := []float64{0.4871, 0.2513, 0.7237, 0.1123, 0.8911}
	for i, f := range out {
		out[i] = b.Min[1] + f*(b.Max[1]-b.Min[1])
	}
	return out
}
