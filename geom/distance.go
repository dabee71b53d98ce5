package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// BoundaryDistance is the least distance in mm from p to the polygon's rings.
func BoundaryDistance(p orb.Point, poly orb.Polygon) float64 {
	best := math.Inf(1)
	for _, r := range poly {
		for i, a := range r {
			best = min(best, squaredDistance(p, a, r[(i+1)%len(r)]))
		}
	}
	return math.Sqrt(best)
}

func distance(a, b orb.Point) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

func pointSegmentDistance(p, a, b orb.Point) float64 { return math.Sqrt(squaredDistance(p, a, b)) }

// squaredDistance is the squared distance from p to the closed segment ab.
func squaredDistance(p, a, b orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	px, py := p[0]-a[0], p[1]-a[1]
	if len2 := dx*dx + dy*dy; len2 > 0 {
		s := min(1, max(0, (px*dx+py*dy)/len2))
		px, py = px-s*dx, py-s*dy
	}
	return px*px + py*py
}

// Distance is the least distance in mm between two polygons as closed regions:
// 0 when they touch, overlap or contain one another.
func Distance(a, b orb.Polygon) float64 { panic("geom: distance not built yet") }
