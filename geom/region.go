package geom

import "github.com/paulmach/orb"

// A Region is a set of translations bounded by rings, with the degenerate
// pieces that rings cannot carry. Coordinates are on the grid.
//
// From [NoFit] the rings bound the open set of forbidden translations: outer
// loops counter-clockwise, holes (where the moving part fits) clockwise.
// Points of the rings themselves are legal (touching). Segments and Points lie
// inside that set and are legal too: slides along corridors of no spare width,
// and exact fits.
//
// From [InnerFit] the rings bound the closed set of allowed translations, outer
// loops counter-clockwise, forbidden islands clockwise; Segments and Points are
// allowed translations without an area around them.
type Region struct {
	Rings    []orb.Ring
	Segments [][2]orb.Point
	Points   []orb.Point
}

// Empty reports whether the region holds nothing at all.
func (r Region) Empty() bool {
	return len(r.Rings) == 0 && len(r.Segments) == 0 && len(r.Points) == 0
}

// Bounds is the box of everything in the region.
func (r Region) Bounds() orb.Bound {
	box := emptyBound()
	for _, ring := range r.Rings {
		box = box.Union(RingBounds(ring))
	}
	for _, s := range r.Segments {
		box = box.Extend(s[0]).Extend(s[1])
	}
	for _, p := range r.Points {
		box = box.Extend(p)
	}
	return box
}

// LocateRings says where t lies against the area the rings bound, exactly. It
// does not look at Segments and Points.
func (r Region) LocateRings(t orb.Point) Location {
	inside := false
	for _, ring := range r.Rings {
		switch LocateInRing(ring, t) {
		case OnBoundary:
			return OnBoundary
		case Inside:
			inside = !inside
		}
	}
	if inside {
		return Inside
	}
	return Outside
}

// OnDegenerate reports whether t lies on one of the region's segments or
// points, exactly.
func (r Region) OnDegenerate(t orb.Point) bool {
	for _, p := range r.Points {
		if p == t {
			return true
		}
	}
	for _, s := range r.Segments {
		if OnSegment(t, s[0], s[1]) {
			return true
		}
	}
	return false
}

// Translate returns the region moved by d.
func (r Region) Translate(d orb.Point) Region {
	move := func(p orb.Point) orb.Point { return orb.Point{p[0] + d[0], p[1] + d[1]} }
	t := Region{}
	for _, ring := range r.Rings {
		m := make(orb.Ring, len(ring))
		for i, p := range ring {
			m[i] = move(p)
		}
		t.Rings = append(t.Rings, m)
	}
	for _, s := range r.Segments {
		t.Segments = append(t.Segments, [2]orb.Point{move(s[0]), move(s[1])})
	}
	for _, p := range r.Points {
		t.Points = append(t.Points, move(p))
	}
	return t
}
