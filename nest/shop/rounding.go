package shop

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// rounded replaces each corner of a polygon by an arc of radius r that touches
// both edges. Where an edge is too short for that, ok is false and most is the
// largest radius that fits.
func rounded(points []orb.Point, r float64) (c geom.Contour, most float64, ok bool) {
	if r == 0 {
		return geom.PolygonContour(points...), 0, true
	}
	n := len(points)
	reach := make([]float64, n) // from each corner to where its arc begins, per unit of radius
	for i, p := range points {
		reach[i] = cornerReach(points[(i+n-1)%n], p, points[(i+1)%n])
	}
	most = math.Inf(1)
	for i, p := range points {
		j := (i + 1) % n
		most = math.Min(most, dist(p, points[j])/(reach[i]+reach[j]))
	}
	if r > most*(1+1e-12) {
		return nil, most, false
	}
	for i, p := range points {
		c = append(c, cornerArc(points[(i+n-1)%n], p, points[(i+1)%n], r*reach[i])...)
	}
	return c, most, true
}

// cornerReach is 1/tan(θ/2) for the angle θ between the two edges at p.
func cornerReach(before, p, after orb.Point) float64 {
	return 1 / math.Tan(between(before, p, after)/2)
}

// between is the angle at p between the directions to the two others, 0 to π.
func between(a, p, b orb.Point) float64 {
	ux, uy, vx, vy := a[0]-p[0], a[1]-p[1], b[0]-p[0], b[1]-p[1]
	return math.Atan2(math.Abs(ux*vy-uy*vx), ux*vx+uy*vy)
}

// cornerArc is the arc's two ends; the second begins the next straight edge.
func cornerArc(before, p, after orb.Point, reach float64) geom.Contour {
	turn := math.Pi - between(before, p, after)
	if (p[0]-before[0])*(after[1]-p[1])-(p[1]-before[1])*(after[0]-p[0]) < 0 {
		turn = -turn
	}
	return geom.Contour{{P: toward(p, before, reach), Bulge: math.Tan(turn / 4)}, {P: toward(p, after, reach)}}
}

func toward(p, q orb.Point, d float64) orb.Point {
	k := d / dist(p, q)
	return orb.Point{p[0] + k*(q[0]-p[0]), p[1] + k*(q[1]-p[1])}
}

func dist(p, q orb.Point) float64 { return math.Hypot(q[0]-p[0], q[1]-p[1]) }
