package geom

import "github.com/paulmach/orb"

// Union returns the union of the polygons as disjoint polygons on the grid.
func Union(ps ...orb.Polygon) []orb.Polygon { panic("geom: union not built yet") }

// Difference returns the points of a that are not inside b.
func Difference(a, b []orb.Polygon) []orb.Polygon { panic("geom: difference not built yet") }

// Intersection returns the points both in a and in b.
func Intersection(a, b []orb.Polygon) []orb.Polygon { panic("geom: intersection not built yet") }
