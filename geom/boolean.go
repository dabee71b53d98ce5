package geom

import "github.com/paulmach/orb"

// Union returns the union of the polygons as polygons with disjoint interiors,
// on the grid. Like all overlays it takes polygons that are simple or not: a
// point counts as inside one where its rings, set right (outer
// counter-clockwise, holes clockwise), wind around it more than zero times.
// Computed crossings are rounded to the grid, which moves edges by at most half
// a step on each axis; edges along an axis do not move. Slivers thinner than
// that may vanish.
func Union(ps ...orb.Polygon) []orb.Polygon {
	return overlay(ps, nil, func(w [2]int32) bool { return w[0] > 0 })
}

// Difference returns the points of a that are not inside b.
func Difference(a, b []orb.Polygon) []orb.Polygon {
	return overlay(a, b, func(w [2]int32) bool { return w[0] > 0 && w[1] <= 0 })
}

// Intersection returns the points both in a and in b.
func Intersection(a, b []orb.Polygon) []orb.Polygon {
	return overlay(a, b, func(w [2]int32) bool { return w[0] > 0 && w[1] > 0 })
}

// overlay arranges two sets of polygons and returns the region that inside
// tells of, given how often each set winds around a point.
func overlay(a, b []orb.Polygon, inside func(w [2]int32) bool) []orb.Polygon {
	ar := borrowArrangement(false)
	defer ar.release()
	for _, p := range a {
		ar.addPolygon(p, 0)
	}
	for _, p := range b {
		ar.addPolygon(p, 1)
	}
	ar.arrange(func(s *stretch) bool { return bounds(s, inside) })
	return ar.polygons(inside)
}
