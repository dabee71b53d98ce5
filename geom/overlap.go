package geom

import "github.com/paulmach/orb"

// InteriorsOverlap reports whether the interiors of two simple polygons meet,
// exactly for any finite coordinates. Touching is no overlap.
func InteriorsOverlap(a, b orb.Polygon) bool { panic("geom: overlap not built yet") }

// OverlapsBeyond reports whether a and b run into each other deeper than tol
// mm: some point of one's boundary, or some inner point of both, lies in both
// and farther than tol from the other's boundary. With tol = [TouchTolerance]
// it forgives the rounding of poses and nothing more.
func OverlapsBeyond(a, b orb.Polygon, tol float64) bool { panic("geom: overlap not built yet") }

// Within reports whether a lies in the closed polygon b, exactly.
func Within(a, b orb.Polygon) bool { panic("geom: within not built yet") }

// SticksOutBeyond reports whether some point of a lies outside b by more than
// tol mm.
func SticksOutBeyond(a, b orb.Polygon, tol float64) bool { panic("geom: within not built yet") }
