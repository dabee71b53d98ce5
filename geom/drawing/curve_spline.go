package drawing

import "github.com/paulmach/orb"

// maxDegree bounds the degree of a spline; drawings use 3, rarely 5.
const maxDegree = 15

// A nurbs is a plane B-spline, rational where weights are given. Its knots
// number len(points) + degree + 1 and do not decrease.
type nurbs struct {
	degree  int
	knots   []float64
	points  []orb.Point
	weights []float64 // nil, or one for each point
	starts  []int     // knots[starts[i]] begins span i
}

// newNURBS prepares a spline; ok is false where the numbers make none.
func newNURBS(degree int, knots []float64, points []orb.Point, weights []float64) (c nurbs, ok bool) {
	n := len(points)
	if degree < 1 || degree > maxDegree || n <= degree {
		return c, false
	}
	if len(knots) == 0 {
		knots = clampedKnots(n, degree)
	}
	if len(knots) != n+degree+1 || len(weights) != 0 && len(weights) != n {
		return c, false
	}
	c = nurbs{degree: degree, knots: knots, points: points, weights: weights}
	for i := 1; i < len(knots); i++ {
		if knots[i] < knots[i-1] {
			return c, false
		}
	}
	for i := 1; i < n; i++ { // one knot too often inside, and the curve falls apart
		if k := knots[i]; k == knots[i+degree] && k > knots[degree] && k < knots[n] {
			return c, false
		}
	}
	for _, w := range weights {
		if w <= 0 {
			return c, false
		}
	}
	for i := degree; i < n; i++ {
		if knots[i] < knots[i+1] {
			c.starts = append(c.starts, i)
		}
	}
	return c, len(c.starts) > 0
}

// clampedKnots are evenly spaced knots that make the curve begin and end at
// its first and last point.
func clampedKnots(n, degree int) []float64 {
	knots := make([]float64, n+degree+1)
	for i := range knots {
		knots[i] = float64(min(max(i-degree, 0), n-degree))
	}
	return knots
}

func (c nurbs) spans() int { return len(c.starts) }

func (c nurbs) span(i int) (from, to float64) {
	k := c.starts[i]
	return c.knots[k], c.knots[k+1]
}

// eval is de Boor's algorithm on homogeneous points; the last step's two
// points give the derivative (Piegl and Tiller, The NURBS Book, 1997, ch. 4).
func (c nurbs) eval(i int, t float64) (p, d orb.Point) {
	k, deg := c.starts[i], c.degree
	var h [maxDegree + 1]vec3
	for j := 0; j <= deg; j++ {
		h[j] = c.homogeneous(k - deg + j)
	}
	for r := 1; r < deg; r++ {
		for j := deg; j >= r; j-- {
			lo, hi := c.knots[k-deg+j], c.knots[k+1+j-r]
			h[j] = mix(h[j-1], h[j], (t-lo)/(hi-lo))
		}
	}
	lo, hi := c.knots[k], c.knots[k+1]
	v := mix(h[deg-1], h[deg], (t-lo)/(hi-lo))
	slope := h[deg].add(h[deg-1].scale(-1)).scale(float64(deg) / (hi - lo))
	p = orb.Point{v[0] / v[2], v[1] / v[2]}
	return p, orb.Point{(slope[0] - p[0]*slope[2]) / v[2], (slope[1] - p[1]*slope[2]) / v[2]}
}

func (c nurbs) homogeneous(i int) vec3 {
	if len(c.weights) == 0 {
		return vec3{c.points[i][0], c.points[i][1], 1}
	}
	w := c.weights[i]
	return vec3{c.points[i][0] * w, c.points[i][1] * w, w}
}

func mix(a, b vec3, t float64) vec3 { return a.scale(1 - t).add(b.scale(t)) }

// through returns the smooth curve through points: the cubic spline over
// chord lengths, with the given end directions or, where one is missing (the
// zero vector), no curvature at that end.
func through(pts []orb.Point, startDir, endDir orb.Point) cubics {
	pts = distinct(pts)
	n := len(pts) - 1
	if n < 1 {
		return nil
	}
	h := make([]float64, n)
	for i := range h {
		h[i] = dist(pts[i], pts[i+1])
	}
	m := slopes(pts, h, startDir, endDir)
	out := make(cubics, n)
	for i := range out {
		a, b, third := pts[i], pts[i+1], h[i]/3
		out[i] = cubic{
			a,
			{a[0] + m[i][0]*third, a[1] + m[i][1]*third},
			{b[0] - m[i+1][0]*third, b[1] - m[i+1][1]*third},
			b,
		}
	}
	return out
}

// distinct drops points equal to the one before.
func distinct(pts []orb.Point) []orb.Point {
	var out []orb.Point
	for _, p := range pts {
		if len(out) == 0 || out[len(out)-1] != p {
			out = append(out, p)
		}
	}
	return out
}

// slopes solves the tridiagonal system of the cubic spline for the derivative
// at each point, by elimination from the front.
func slopes(pts []orb.Point, h []float64, startDir, endDir orb.Point) []orb.Point {
	n := len(h)
	diag, upper, rhs := make([]float64, n+1), make([]float64, n+1), make([]orb.Point, n+1)
	diag[0], upper[0], rhs[0] = endRow(pts[0], pts[1], h[0], startDir)
	for i := 1; i <= n; i++ {
		lower := 1.0
		if i < n {
			lower, diag[i], upper[i] = h[i], 2*(h[i-1]+h[i]), h[i-1]
			rhs[i] = innerRow(pts[i-1:i+2], h[i-1], h[i])
		} else {
			diag[n], lower, rhs[n] = endRow(pts[n-1], pts[n], h[n-1], endDir)
		}
		f := lower / diag[i-1]
		diag[i] -= f * upper[i-1]
		rhs[i] = orb.Point{rhs[i][0] - f*rhs[i-1][0], rhs[i][1] - f*rhs[i-1][1]}
	}
	for i := n; i >= 0; i-- {
		if i < n {
			rhs[i] = orb.Point{rhs[i][0] - upper[i]*rhs[i+1][0], rhs[i][1] - upper[i]*rhs[i+1][1]}
		}
		rhs[i] = orb.Point{rhs[i][0] / diag[i], rhs[i][1] / diag[i]}
	}
	return rhs
}

// endRow is the equation at an end: a given direction, or no curvature.
func endRow(a, b orb.Point, h float64, dir orb.Point) (own, next float64, rhs orb.Point) {
	if l := dist(orb.Point{}, dir); l > 0 {
		return 1, 0, orb.Point{dir[0] / l, dir[1] / l}
	}
	return 2, 1, orb.Point{3 * (b[0] - a[0]) / h, 3 * (b[1] - a[1]) / h}
}

// innerRow makes curvature continuous at the middle of three points.
func innerRow(p []orb.Point, h0, h1 float64) (rhs orb.Point) {
	for k := range 2 {
		rhs[k] = 3 * (h1*(p[1][k]-p[0][k])/h0 + h0*(p[2][k]-p[1][k])/h1)
	}
	return rhs
}
