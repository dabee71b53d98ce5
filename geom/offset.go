package geom

import "github.com/paulmach/orb"

// Offset returns the polygon grown by d mm (shrunk when d < 0), with round
// joins flattened to tol on the safe side: a grown polygon contains the true
// offset, a shrunk one is contained in it. Edges along an axis move by exactly
// |d| rounded up to the grid; other edges by up to 2·[Grid] more, which pays
// for the rounding of their ends.
func Offset(p orb.Polygon, d, tol float64) []orb.Polygon { panic("geom: offset not built yet") }
