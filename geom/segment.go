package geom

import "github.com/paulmach/orb"

// A SegmentRelation says how two closed segments meet.
type SegmentRelation int

const (
	// Disjoint segments have no common point.
	Disjoint SegmentRelation = iota
	// Touching segments share one point that ends at least one of them.
	Touching
	// Crossing segments share one point inside both.
	Crossing
	// Overlapping segments share a piece of positive length.
	Overlapping
)

// RelateSegments says how the closed segments ab and cd meet, exactly.
func RelateSegments(a, b, c, d orb.Point) SegmentRelation {
	if !boxesMeet(a, b, c, d) {
		return Disjoint
	}
	oc, od := Orient(a, b, c), Orient(a, b, d)
	if oc*od > 0 {
		return Disjoint
	}
	oa, ob := Orient(c, d, a), Orient(c, d, b)
	if oa*ob > 0 {
		return Disjoint
	}
	if oc != 0 && od != 0 && oa != 0 && ob != 0 {
		return Crossing
	}
	if oc == 0 && od == 0 && oa == 0 && ob == 0 {
		return relateCollinear(a, b, c, d)
	}
	return Touching
}

// relateCollinear handles segments of one line whose boxes meet.
func relateCollinear(a, b, c, d orb.Point) SegmentRelation {
	k := 0
	if a[0] == b[0] && c[0] == d[0] {
		k = 1
	}
	lo := max(min(a[k], b[k]), min(c[k], d[k]))
	hi := min(max(a[k], b[k]), max(c[k], d[k]))
	switch {
	case lo < hi:
		return Overlapping
	case lo == hi:
		return Touching
	}
	return Disjoint
}

// OnSegment reports whether p lies on the closed segment ab, exactly.
func OnSegment(p, a, b orb.Point) bool {
	return p[0] >= min(a[0], b[0]) && p[0] <= max(a[0], b[0]) &&
		p[1] >= min(a[1], b[1]) && p[1] <= max(a[1], b[1]) &&
		Orient(a, b, p) == 0
}

func boxesMeet(a, b, c, d orb.Point) bool {
	return max(a[0], b[0]) >= min(c[0], d[0]) && max(c[0], d[0]) >= min(a[0], b[0]) &&
		max(a[1], b[1]) >= min(c[1], d[1]) && max(c[1], d[1]) >= min(a[1], b[1])
}
