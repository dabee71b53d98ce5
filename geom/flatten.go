package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Flatten returns the shape as a polygon on the grid with arcs replaced by
// chords no farther than tol mm from the arc ([ChordTolerance] where tol is not
// positive). Outward, the polygon contains the true shape; Inward, it is
// contained in it. The contours' vertices must already lie on the grid: the new
// vertices are pushed 4·[Grid] to the safe side before they are rounded.
//
// Where chords of neighbouring features run into each other the polygon is
// repaired on the safe side: outward, gaps narrower than tol close; inward,
// necks narrower than tol part and the largest piece is returned.
func (s Shape) Flatten(tol float64, side Side) orb.Polygon {
	p := orb.Polygon{s.Outer.Oriented(true).Flatten(tol, side)}
	for _, h := range s.Holes {
		p = append(p, h.Oriented(false).Flatten(tol, opposite(side)))
	}
	p = dropFlat(p)
	if side == OnCurve || IsSimple(p) {
		return p
	}
	return repairFlat(p, side)
}

// opposite is the side on which a hole must stay for its polygon to stay on
// side.
func opposite(side Side) Side {
	switch side {
	case Outward:
		return Inward
	case Inward:
		return Outward
	}
	return side
}

// dropFlat removes rings without area.
func dropFlat(p orb.Polygon) orb.Polygon {
	kept := p[:0]
	for i, r := range p {
		if len(r) >= 3 && RingArea(r) != 0 {
			kept = append(kept, r)
		} else if i == 0 {
			return nil
		}
	}
	return kept
}

// repairFlat makes a polygon whose rings cross each other simple again.
func repairFlat(p orb.Polygon, side Side) orb.Polygon {
	var holes []orb.Polygon
	for _, h := range p[1:] {
		holes = append(holes, orb.Polygon{h})
	}
	outer := Union(p[:1])
	if side == Inward {
		outer = Difference(outer, Union(holes...))
	} else {
		outer = Difference(outer, holes)
	}
	return largest(outer)
}

// largest returns the polygon of the greatest area, the first among equals.
func largest(ps []orb.Polygon) orb.Polygon {
	var best orb.Polygon
	most := 0.0
	for _, p := range ps {
		if a := PolygonArea(p); a > most {
			best, most = p, a
		}
	}
	return best
}

// Flatten returns the contour as an open ring on the grid, running the way the
// contour does. Outward means that the ring's inside contains the contour's.
// See [Shape.Flatten] for the tolerance; a single ring is not repaired.
func (c Contour) Flatten(tol float64, side Side) orb.Ring {
	if !(tol > 0) {
		tol = ChordTolerance
	}
	ccw := c.IsCCW()
	var r orb.Ring
	var joint []bool // ends of arcs
	for i := range c {
		a, b, bulge := c.segment(i)
		f, ok := frameOf(a, b, bulge)
		r, joint = append(r, SnapPoint(a)), append(joint, ok || c[(i+len(c)-1)%len(c)].Bulge != 0)
		if !ok {
			continue
		}
		bulgesOut := (bulge > 0) == ccw
		for _, p := range f.flatten(tol, side, bulgesOut) {
			r, joint = append(r, SnapPoint(p)), append(joint, false)
		}
	}
	if side != OnCurve {
		r = dropJoints(r, joint, (side == Outward) == ccw)
	}
	return OpenRing(r)
}

// dropJoints removes ends of arcs that lie a rounding's width inside the ring
// of tangents around them, so that discs and slots stay convex. Only vertices
// whose removal moves the ring to its safe side go: right turns, or left turns
// where right is not set.
func dropJoints(r orb.Ring, joint []bool, right bool) orb.Ring {
	n := len(r)
	kept := make(orb.Ring, 0, n)
	for i, p := range r {
		prev, next := r[(i+n-1)%n], r[(i+1)%n]
		if len(kept) > 0 {
			prev = kept[len(kept)-1]
		}
		turn := Orient(prev, p, next)
		safe := turn == 0 || (turn < 0) == right
		if !joint[i] || !safe || pointSegmentDistance(p, prev, next) > 2*roundingMargin {
			kept = append(kept, p)
		}
	}
	return kept
}

// flatten returns the inner vertices that replace an arc. An arc that bulges
// out of the region is enclosed by going around it, one that bulges in by
// cutting across it; to stay inside it is the other way about.
func (f chordFrame) flatten(tol float64, side Side, bulgesOut bool) []orb.Point {
	switch {
	case side == OnCurve:
		return f.inscribed(tol, 0)
	case (side == Outward) == bulgesOut:
		return f.circumscribed(tol, roundingMargin)
	}
	return f.inscribed(tol, -math.Min(roundingMargin, f.radius/2))
}

// Flatten returns points along the path, arcs replaced by chords with their
// ends on the arc and within tol mm of it ([ChordTolerance] where tol is not
// positive). The points are not snapped.
func (p Path) Flatten(tol float64) orb.LineString {
	if !(tol > 0) {
		tol = ChordTolerance
	}
	var line orb.LineString
	for i, v := range p {
		line = append(line, v.P)
		if i+1 == len(p) {
			break
		}
		if f, ok := frameOf(v.P, p[i+1].P, v.Bulge); ok {
			line = append(line, f.inscribed(tol, 0)...)
		}
	}
	return line
}
