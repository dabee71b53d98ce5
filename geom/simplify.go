package geom

import "github.com/paulmach/orb"

// SimplifyOutward returns a polygon of fewer vertices that contains poly and
// whose area exceeds poly's by at most the share maxAreaGrowth.
func SimplifyOutward(poly orb.Polygon, maxAreaGrowth float64) orb.Polygon {
	panic("geom: simplify not built yet")
}
