package verify

import (
	"math"

	"github.com/paulmach/orb"
)

func sub(p, q orb.Point) orb.Point { return orb.Point{p[0] - q[0], p[1] - q[1]} }
func dot(u, v orb.Point) float64   { return u[0]*v[0] + u[1]*v[1] }
func cross(u, v orb.Point) float64 { return u[0]*v[1] - u[1]*v[0] }

// norm does not guard against overflow: coordinates are bounded before.
func norm(u orb.Point) float64 { return math.Sqrt(u[0]*u[0] + u[1]*u[1]) }

func dist(p, q orb.Point) float64 { return norm(sub(p, q)) }

// grown returns the box widened by d on all sides.
func grown(b orb.Bound, d float64) orb.Bound {
	return orb.Bound{
		Min: orb.Point{b.Min[0] - d, b.Min[1] - d},
		Max: orb.Point{b.Max[0] + d, b.Max[1] + d},
	}
}

// boxesMeet reports whether two closed boxes have a point in common.
func boxesMeet(p, q *orb.Bound) bool {
	return p.Min[0] <= q.Max[0] && q.Min[0] <= p.Max[0] &&
		p.Min[1] <= q.Max[1] && q.Min[1] <= p.Max[1]
}

// boxGap returns a lower bound of the distance between two boxes.
func boxGap(p, q *orb.Bound) float64 {
	dx := math.Max(0, math.Max(q.Min[0]-p.Max[0], p.Min[0]-q.Max[0]))
	dy := math.Max(0, math.Max(q.Min[1]-p.Max[1], p.Min[1]-q.Max[1]))
	return math.Max(dx, dy)
}

// boxDist returns the distance of a point from a box.
func boxDist(p orb.Point, b *orb.Bound) float64 {
	dx := math.Max(0, math.Max(b.Min[0]-p[0], p[0]-b.Max[0]))
	dy := math.Max(0, math.Max(b.Min[1]-p[1], p[1]-b.Max[1]))
	return math.Sqrt(dx*dx + dy*dy)
}
