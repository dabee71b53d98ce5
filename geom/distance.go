package geom

import "github.com/paulmach/orb"

// Distance is the least distance in mm between two polygons as closed regions:
// 0 when they touch, overlap or contain one another.
func Distance(a, b orb.Polygon) float64 { panic("geom: distance not built yet") }

// BoundaryDistance is the least distance in mm from p to the polygon's rings.
func BoundaryDistance(p orb.Point, poly orb.Polygon) float64 { panic("geom: distance not built yet") }
