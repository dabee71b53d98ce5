package geom

import "math"

// NormalDeg reduces an angle in degrees to [0, 360).
func NormalDeg(deg float64) float64 {
	d := math.Mod(deg, 360)
	if d < 0 {
		d += 360
	}
	if d >= 360 { // -tiny + 360 rounds up
		d = 0
	}
	return d
}

// SinCosDeg returns the sine and cosine of an angle in degrees, exact at
// multiples of 90.
func SinCosDeg(deg float64) (sin, cos float64) {
	switch NormalDeg(deg) {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	}
	return math.Sincos(deg * math.Pi / 180)
}
