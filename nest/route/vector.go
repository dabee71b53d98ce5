package route

import (
	"math"

	"github.com/paulmach/orb"
)

func sub(p, q orb.Point) orb.Point { return orb.Point{p[0] - q[0], p[1] - q[1]} }
func dot(u, v orb.Point) float64   { return u[0]*v[0] + u[1]*v[1] }
func cross(u, v orb.Point) float64 { return u[0]*v[1] - u[1]*v[0] }

// step returns the point reached from p by going d along u.
func step(p, u orb.Point, d float64) orb.Point {
	return orb.Point{p[0] + d*u[0], p[1] + d*u[1]}
}

func dist(p, q orb.Point) float64 {
	dx, dy := p[0]-q[0], p[1]-q[1]
	return math.Sqrt(dx*dx + dy*dy)
}

func unit(u orb.Point) orb.Point {
	n := math.Sqrt(dot(u, u))
	if n == 0 {
		return orb.Point{1, 0}
	}
	return orb.Point{u[0] / n, u[1] / n}
}

// right returns u turned a quarter clockwise: the scrap side of a heading.
func right(u orb.Point) orb.Point { return orb.Point{u[1], -u[0]} }

// turned returns u turned counter-clockwise by an angle in degrees.
func turned(u orb.Point, deg float64) orb.Point {
	s, c := math.Sincos(deg * math.Pi / 180)
	return orb.Point{c*u[0] - s*u[1], s*u[0] + c*u[1]}
}

// pointGap returns the distance of p from the segment ab.
func pointGap(p, a, b orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	x, y := p[0]-a[0], p[1]-a[1]
	if t := x*dx + y*dy; t > 0 { // not where a and b are one point
		if n := dx*dx + dy*dy; t < n {
			return math.Abs(x*dy-y*dx) / math.Sqrt(n)
		}
		x, y = p[0]-b[0], p[1]-b[1]
	}
	return math.Sqrt(x*x + y*y)
}

// segmentGap returns the distance between the segments ab and cd.
func segmentGap(a, b, c, d orb.Point) float64 {
	if crossing(a, b, c, d) {
		return 0
	}
	return math.Min(
		math.Min(pointGap(a, c, d), pointGap(b, c, d)),
		math.Min(pointGap(c, a, b), pointGap(d, a, b)))
}

// crossing reports whether two segments cross, to float64 precision. Where they
// merely touch, the distances are 0 anyway.
func crossing(a, b, c, d orb.Point) bool {
	if !boxesMeet(a, b, c, d) {
		return false
	}
	u, v := sub(b, a), sub(d, c)
	return (cross(u, sub(c, a)) > 0) != (cross(u, sub(d, a)) > 0) &&
		(cross(v, sub(a, c)) > 0) != (cross(v, sub(b, c)) > 0)
}

func boxesMeet(a, b, c, d orb.Point) bool {
	return min(a[0], b[0]) <= max(c[0], d[0]) && min(c[0], d[0]) <= max(a[0], b[0]) &&
		min(a[1], b[1]) <= max(c[1], d[1]) && min(c[1], d[1]) <= max(a[1], b[1])
}
