package shop

import (
	"github.com/paulmach/orb"

	"kerfold/geom"
)

// moved turns a contour about the origin and shifts it.
func moved(c geom.Contour, turnDeg, dx, dy float64) geom.Contour {
	return c.Transform(geom.Pose{X: dx, Y: dy, AngleDeg: turnDeg})
}

// snapped puts a contour on the grid and drops edges that vanish there.
func snapped(c geom.Contour) geom.Contour {
	var out geom.Contour
	for _, v := range c {
		v.P = geom.SnapPoint(v.P)
		if len(out) > 0 && out[len(out)-1].P == v.P {
			out[len(out)-1].Bulge = v.Bulge
			continue
		}
		out = append(out, v)
	}
	if n := len(out); n > 1 && out[0].P == out[n-1].P {
		out = out[:n-1]
	}
	return out
}

// normal puts a shape on the grid with its bounding box at the origin, the
// outer contour counter-clockwise and the holes clockwise.
func normal(s geom.Shape) geom.Shape {
	b := s.Bounds()
	dx, dy := -geom.Snap(b.Min[0]), -geom.Snap(b.Min[1])
	out := geom.Shape{Outer: snapped(moved(s.Outer, 0, dx, dy))}
	for _, h := range s.Holes {
		out.Holes = append(out.Holes, snapped(moved(h, 0, dx, dy)))
	}
	return out.Oriented()
}

// flat is a contour as a ring close to it.
func flat(c geom.Contour) orb.Ring { return c.Flatten(geom.ChordTolerance, geom.OnCurve) }

// crossing finds where a ring meets itself.
func crossing(r orb.Ring) (at orb.Point, crosses bool) {
	n := len(r)
	for i := range n {
		for j := i + 1; j < n; j++ {
			a, b, c, d := r[i], r[(i+1)%n], r[j], r[(j+1)%n]
			rel := geom.Disjoint
			if near(a, b, c, d) {
				rel = geom.RelateSegments(a, b, c, d)
			}
			neighbours := j == i+1 || (i == 0 && j == n-1)
			if rel == geom.Crossing || rel == geom.Overlapping || (rel == geom.Touching && !neighbours) {
				return c, true
			}
		}
	}
	return orb.Point{}, false
}

// meet reports whether two boundaries have a point in common.
func meet(r, s orb.Ring) bool {
	if !geom.RingBounds(r).Intersects(geom.RingBounds(s)) {
		return false
	}
	for i := range r {
		a, b := r[i], r[(i+1)%len(r)]
		for j := range s {
			c, d := s[j], s[(j+1)%len(s)]
			if near(a, b, c, d) && geom.RelateSegments(a, b, c, d) != geom.Disjoint {
				return true
			}
		}
	}
	return false
}

// near reports whether the boxes of two segments meet.
func near(a, b, c, d orb.Point) bool {
	for k := range 2 {
		if max(a[k], b[k]) < min(c[k], d[k]) || max(c[k], d[k]) < min(a[k], b[k]) {
			return false
		}
	}
	return true
}

// inside reports whether ring r lies inside ring s without touching it.
func inside(r, s orb.Ring) bool {
	return len(r) > 0 && !meet(r, s) && geom.LocateInRing(s, r[0]) == geom.Inside
}
