package verify

import (
	"math"

	"github.com/paulmach/orb"
)

// farthest returns an upper bound of the distance from any point of the piece to
// the edge e. It is tight for a line along a line and for an arc along an arc
// of nearly the same circle, and tightens elsewhere as the piece shortens.
//
// The distance to a convex set is a convex function, so over a triangle that
// contains the piece it is greatest in a corner.
func farthest(piece, e *edge) float64 {
	corners := [3]orb.Point{piece.a, piece.b, piece.apex()}
	if !e.arc {
		return most(corners, func(p orb.Point) float64 { return dist(p, nearestOnLine(e.a, e.b, p)) })
	}
	atEnd := math.Min(
		most(corners, func(p orb.Point) float64 { return dist(p, e.a) }),
		most(corners, func(p orb.Point) float64 { return dist(p, e.b) }))
	for _, p := range corners {
		if !e.sector(p) {
			return atEnd
		}
	}
	return math.Min(atEnd, radialMost(piece, e))
}

func most(ps [3]orb.Point, f func(orb.Point) float64) float64 {
	return math.Max(f(ps[0]), math.Max(f(ps[1]), f(ps[2])))
}

// radialMost bounds the distance from the piece to the arc e, in whose sector
// the piece lies, by the range of the piece's distance from e's centre.
func radialMost(piece, e *edge) float64 {
	near := piece.pointDist(e.c)
	far := math.Max(dist(piece.a, e.c), dist(piece.b, e.c))
	if piece.arc {
		for _, p := range centrePoints(piece, e) {
			if piece.sector(p) {
				far = math.Max(far, dist(p, e.c))
			}
		}
	}
	return math.Max(math.Abs(far-e.r), math.Abs(e.r-near))
}
