package geom

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
)

// IsSimple reports whether no two edges of the polygon cross or overlap. Rings
// may touch themselves and each other at points.
func IsSimple(p orb.Polygon) bool {
	edges := ringEdges(p)
	slices.SortFunc(edges, func(a, b [2]orb.Point) int { return cmp.Compare(a[0][0], b[0][0]) })
	for i, e := range edges {
		for _, f := range edges[i+1:] {
			if f[0][0] > e[1][0] {
				break
			}
			if rel := RelateSegments(e[0], e[1], f[0], f[1]); rel == Crossing || rel == Overlapping {
				return false
			}
		}
	}
	return true
}

// ringEdges lists the edges of all rings, each from its lesser end in x.
func ringEdges(p orb.Polygon) [][2]orb.Point {
	var edges [][2]orb.Point
	for _, r := range p {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if b[0] < a[0] {
				a, b = b, a
			}
			if a != b {
				edges = append(edges, [2]orb.Point{a, b})
			}
		}
	}
	return edges
}
