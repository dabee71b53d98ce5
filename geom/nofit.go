package geom

import "github.com/paulmach/orb"

// NoFit returns the translations of moving at which its interior meets fixed's:
// an open set, given by its boundary and by the degenerate legal translations
// inside it. The reference point is moving's own (0, 0). Both polygons are on
// the grid, simple, of any shape, with holes.
func NoFit(fixed, moving orb.Polygon) Region { panic("geom: no-fit not built yet") }

// InnerFit returns the closed set of translations that keep moving inside
// container, whose holes are blocked zones. Touching is allowed.
func InnerFit(container, moving orb.Polygon) Region { panic("geom: inner fit not built yet") }
