package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// PolygonArea is the polygon's area in mm²: the first ring less the others,
// whatever way they run.
func PolygonArea(p orb.Polygon) float64 {
	sum := 0.0
	for i, r := range p {
		if i == 0 {
			sum = math.Abs(RingArea(r))
		} else {
			sum -= math.Abs(RingArea(r))
		}
	}
	return sum
}

// PolygonLength is the length of all the polygon's rings, in mm.
func PolygonLength(p orb.Polygon) float64 {
	sum := 0.0
	for _, r := range p {
		sum += RingLength(r)
	}
	return sum
}

// Bounds is the box of the polygon's outer ring.
func Bounds(p orb.Polygon) orb.Bound {
	if len(p) == 0 {
		return emptyBound()
	}
	return RingBounds(p[0])
}

// RingBounds is the ring's box.
func RingBounds(r orb.Ring) orb.Bound {
	box := emptyBound()
	for _, p := range r {
		box.Min[0], box.Min[1] = min(box.Min[0], p[0]), min(box.Min[1], p[1])
		box.Max[0], box.Max[1] = max(box.Max[0], p[0]), max(box.Max[1], p[1])
	}
	return box
}

// NormalPolygon returns the polygon with open rings, the outer one
// counter-clockwise and holes clockwise, without repeated points. Rings of
// fewer than three points are dropped. The result shares no memory with p.
func NormalPolygon(p orb.Polygon) orb.Polygon {
	n := make(orb.Polygon, 0, len(p))
	for i, r := range p {
		o := OrientRing(r, i == 0)
		if len(o) >= 3 {
			n = append(n, o)
		} else if i == 0 {
			return nil
		}
	}
	return n
}

// TransformPolygon returns the polygon where the pose takes it, on the grid.
// See [TransformRing] for how exact that is.
func TransformPolygon(p orb.Polygon, pose Pose) orb.Polygon {
	t := make(orb.Polygon, len(p))
	for i, r := range p {
		t[i] = TransformRing(r, pose)
	}
	return t
}

// TranslatePolygon returns the polygon moved by d, exact when both lie on the
// grid.
func TranslatePolygon(p orb.Polygon, d orb.Point) orb.Polygon {
	t := make(orb.Polygon, len(p))
	for i, r := range p {
		t[i] = make(orb.Ring, len(r))
		for k, v := range r {
			t[i][k] = orb.Point{v[0] + d[0], v[1] + d[1]}
		}
	}
	return t
}
