package drawing

import (
	"math"

	"github.com/paulmach/orb"
)

// A curve is drawn in spans that follow one another; inside a span it is
// smooth.
type curve interface {
	// spans counts the spans.
	spans() int
	// span returns the parameters at which a span begins and ends.
	span(i int) (from, to float64)
	// eval returns point and derivative at a parameter of a span.
	eval(i int, t float64) (p, d orb.Point)
}

// A conic is part of an ellipse: c + u·cos t + v·sin t for t from from over
// sweep, in radians. u and v need not be square to each other.
type conic struct {
	c, u, v     orb.Point
	from, sweep float64
}

// Spans end where t is a multiple of a quarter turn.
func (e conic) spans() int {
	lo, hi := e.quarters()
	return hi - lo
}

// quarters returns which quarter turns the conic begins and ends in.
func (e conic) quarters() (lo, hi int) {
	a, b := e.from, e.from+e.sweep
	if e.sweep < 0 {
		a, b = b, a
	}
	const q = math.Pi / 2
	return int(math.Floor(a/q + 1e-9)), int(math.Ceil(b/q - 1e-9))
}

func (e conic) span(i int) (from, to float64) {
	lo, hi := e.quarters()
	const q = math.Pi / 2
	if e.sweep < 0 {
		return min(e.from, float64(hi-i)*q), max(e.from+e.sweep, float64(hi-i-1)*q)
	}
	return max(e.from, float64(lo+i)*q), min(e.from+e.sweep, float64(lo+i+1)*q)
}

func (e conic) eval(_ int, t float64) (p, d orb.Point) {
	s, c := math.Sincos(t)
	p = orb.Point{e.c[0] + c*e.u[0] + s*e.v[0], e.c[1] + c*e.u[1] + s*e.v[1]}
	return p, orb.Point{c*e.v[0] - s*e.u[0], c*e.v[1] - s*e.u[1]}
}

// A cubic is a Bézier curve of degree 3.
type cubic [4]orb.Point

func (c cubic) eval(t float64) (p, d orb.Point) {
	s := 1 - t
	for k := range 2 {
		p[k] = s*s*s*c[0][k] + 3*s*s*t*c[1][k] + 3*s*t*t*c[2][k] + t*t*t*c[3][k]
		d[k] = 3 * (s*s*(c[1][k]-c[0][k]) + 2*s*t*(c[2][k]-c[1][k]) + t*t*(c[3][k]-c[2][k]))
	}
	return p, d
}

// cubics are Bézier curves end to end.
type cubics []cubic

func (c cubics) spans() int                             { return len(c) }
func (c cubics) span(int) (from, to float64)            { return 0, 1 }
func (c cubics) eval(i int, t float64) (p, d orb.Point) { return c[i].eval(t) }
