package geom

import "github.com/paulmach/orb"

// ConvexPieces cuts the polygon into convex counter-clockwise rings with
// disjoint interiors whose union is the polygon. No new vertices are made.
func ConvexPieces(poly orb.Polygon) []orb.Ring { panic("geom: convex pieces not built yet") }
