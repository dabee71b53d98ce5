package cost

import "math"

// ArcSpeed returns the speed in mm/s at which the centripetal acceleration on
// radius r mm is a mm/s²: √(a·R).
func ArcSpeed(r, a float64) float64 {
	if r <= 0 {
		return 0
	}
	return math.Sqrt(a * r)
}

// JunctionRadius returns the radius in mm of the arc that rounds a corner of
// interior angle thetaDeg and leaves the corner by delta mm:
// R = δ·sin(θ/2)/(1 − sin(θ/2)). A straight angle has an infinite radius.
func JunctionRadius(delta, thetaDeg float64) float64 {
	half := thetaDeg / 2 * math.Pi / 180
	return junctionRadius(delta, math.Sin(half), math.Cos(half))
}

// junctionRadius takes the sine and cosine of half the interior angle. The
// denominator 1 − sin is written cos²/(1 + sin), which does not cancel.
func junctionRadius(delta, sin, cos float64) float64 {
	return delta * sin * (1 + sin) / (cos * cos)
}

// JunctionSpeed returns the speed in mm/s through a corner of interior angle
// thetaDeg from an allowed deviation of delta mm and an acceleration of a mm/s².
func JunctionSpeed(delta, a, thetaDeg float64) float64 {
	return ArcSpeed(JunctionRadius(delta, thetaDeg), a)
}
