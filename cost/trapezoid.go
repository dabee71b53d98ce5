package cost

import "math"

// TrapezoidTime returns the seconds for a move of l mm from rest to rest at no
// more than v mm/s with acceleration a mm/s²: L/v + v/a where the move is long
// enough to reach v, else 2·√(L/a). An infinite a means no ramps.
func TrapezoidTime(l, v, a float64) float64 {
	return rampTime(l, 0, 0, v, a)
}

// rampTime is the least time over l mm entered at v0 and left at v1 with feed
// at most v (all mm/s). The profile is a trapezoid, or a triangle that peaks at
// v² = a·l + (v0² + v1²)/2.
func rampTime(l, v0, v1, v, a float64) float64 {
	if l <= 0 {
		return 0
	}
	peak := math.Sqrt(a*l + (v0*v0+v1*v1)/2)
	if peak < v {
		return (2*peak - v0 - v1) / a
	}
	ramps := (2*v*v - v0*v0 - v1*v1) / (2 * a)
	return (2*v-v0-v1)/a + (l-ramps)/v
}
