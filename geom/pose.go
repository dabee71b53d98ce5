package geom

import "github.com/paulmach/orb"

// A Pose places an outline: mirror first (x becomes −x) when Mirror is set,
// then turn counter-clockwise by AngleDeg about the outline's own origin, then
// translate by (X, Y).
type Pose struct {
	X, Y     float64 // mm
	AngleDeg float64 // degrees, counter-clockwise
	Mirror   bool
}

// Apply returns where the pose takes p. Turns by multiples of 90 degrees are
// exact.
func (p Pose) Apply(pt orb.Point) orb.Point {
	x, y := pt[0], pt[1]
	if p.Mirror {
		x = -x
	}
	s, c := SinCosDeg(p.AngleDeg)
	return orb.Point{c*x - s*y + p.X, s*x + c*y + p.Y}
}
