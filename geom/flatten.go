package geom

import "github.com/paulmach/orb"

// Flatten returns the shape as a polygon on the grid with arcs replaced by
// chords no farther than tol mm from the arc. Outward, the polygon contains the
// true shape; Inward, it is contained in it.
func (s Shape) Flatten(tol float64, side Side) orb.Polygon { panic("geom: flatten not built yet") }

// Flatten returns the contour as a ring on the grid, running the way the
// contour does. Outward means that the ring's inside contains the contour's.
func (c Contour) Flatten(tol float64, side Side) orb.Ring { panic("geom: flatten not built yet") }

// Flatten returns points along the path, arcs replaced by chords with their
// ends on the arc and within tol mm of it. The points are not snapped.
func (p Path) Flatten(tol float64) orb.LineString { panic("geom: flatten not built yet") }
