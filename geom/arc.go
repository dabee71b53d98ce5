package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// An Arc is a circular arc in centre form.
type Arc struct {
	Center   orb.Point
	Radius   float64 // mm, > 0
	StartRad float64 // direction of the first point from the centre, radians
	SweepRad float64 // radians, positive counter-clockwise, |sweep| < 2π
}

// leastBulge is the bulge below which a segment counts as straight: its rise is
// below a nanometre on any chord up to a kilometre, and its radius may overflow
// (derived: the rise is half of bulge times chord).
const leastBulge = 1e-12

// ArcBetween returns the arc from a to b with the given bulge. It reports
// false where the segment is straight: a bulge that is zero, next to it or not finite or a chord
// of no length.
func ArcBetween(a, b orb.Point, bulge float64) (Arc, bool) {
	dx, dy := b[0]-a[0], b[1]-a[1]
	chord := math.Hypot(dx, dy)
	if math.Abs(bulge) < leastBulge || chord == 0 || math.IsNaN(bulge) || math.IsInf(bulge, 0) {
		return Arc{}, false
	}
	// The centre lies on the chord's perpendicular bisector, at the signed
	// distance chord·(1−b²)/(4b) to the left of a→b (from tan(sweep/4) = b).
	h := (1 - bulge*bulge) / (4 * bulge)
	c := orb.Point{(a[0]+b[0])/2 - dy*h, (a[1]+b[1])/2 + dx*h}
	if !finite(c) {
		return Arc{}, false
	}
	return Arc{
		Center:   c,
		Radius:   chord * (1 + bulge*bulge) / (4 * math.Abs(bulge)),
		StartRad: math.Atan2(a[1]-c[1], a[0]-c[0]),
		SweepRad: 4 * math.Atan(bulge),
	}, true
}

// Length is the arc's length in mm.
func (a Arc) Length() float64 { return a.Radius * math.Abs(a.SweepRad) }

// At returns the point a share t of the way along the arc, 0 ≤ t ≤ 1.
func (a Arc) At(t float64) orb.Point { return a.polar(a.StartRad+t*a.SweepRad, a.Radius) }

// Tangent returns the unit direction of travel a share t of the way along.
func (a Arc) Tangent(t float64) orb.Point {
	s, c := math.Sincos(a.StartRad + t*a.SweepRad)
	if a.SweepRad < 0 {
		return orb.Point{s, -c}
	}
	return orb.Point{-s, c}
}

// Bulge is tan(sweep/4), the form in which a [Vertex] keeps the arc.
func (a Arc) Bulge() float64 { return math.Tan(a.SweepRad / 4) }

// Bounds returns the arc's box, extreme points included.
func (a Arc) Bounds() orb.Bound {
	b := orb.Bound{Min: a.At(0), Max: a.At(0)}.Extend(a.At(1))
	for k := 0; k < 4; k++ {
		if a.spans(float64(k) * math.Pi / 2) {
			s, c := SinCosDeg(float64(k) * 90)
			b = b.Extend(orb.Point{a.Center[0] + a.Radius*c, a.Center[1] + a.Radius*s})
		}
	}
	return b
}

// spans reports whether the arc passes through a direction from its centre.
func (a Arc) spans(rad float64) bool {
	d := math.Mod(rad-a.StartRad, 2*math.Pi)
	if a.SweepRad < 0 {
		d = -d
	}
	if d < 0 {
		d += 2 * math.Pi
	}
	return d <= math.Abs(a.SweepRad)
}

func (a Arc) polar(rad, r float64) orb.Point {
	s, c := math.Sincos(rad)
	return orb.Point{a.Center[0] + r*c, a.Center[1] + r*s}
}

func finite(p orb.Point) bool {
	return !math.IsNaN(p[0]-p[0]) && !math.IsNaN(p[1]-p[1])
}
