package geom

import "github.com/paulmach/orb"

// CircleContour returns a counter-clockwise circle: two half-turn arcs.
func CircleContour(center orb.Point, radius float64) Contour {
	return Contour{
		{P: orb.Point{center[0] - radius, center[1]}, Bulge: 1},
		{P: orb.Point{center[0] + radius, center[1]}, Bulge: 1},
	}
}

// RectContour returns the counter-clockwise rectangle with corners (x0, y0)
// and (x1, y1).
func RectContour(x0, y0, x1, y1 float64) Contour {
	if x1 < x0 {
		x0, x1 = x1, x0
	}
	if y1 < y0 {
		y0, y1 = y1, y0
	}
	return PolygonContour(orb.Point{x0, y0}, orb.Point{x1, y0}, orb.Point{x1, y1}, orb.Point{x0, y1})
}

// PolygonContour returns the contour of straight segments through the points,
// in their order.
func PolygonContour(pts ...orb.Point) Contour {
	c := make(Contour, len(pts))
	for i, p := range pts {
		c[i].P = p
	}
	return c
}

// RectRing returns the counter-clockwise rectangle with corners (x0, y0) and
// (x1, y1).
func RectRing(x0, y0, x1, y1 float64) orb.Ring {
	return RectContour(x0, y0, x1, y1).corners()
}

// corners returns the vertices without their bulges.
func (c Contour) corners() orb.Ring {
	r := make(orb.Ring, len(c))
	for i, v := range c {
		r[i] = v.P
	}
	return r
}
