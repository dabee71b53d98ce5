package geom

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// SnapPoint returns the grid point nearest to p.
func SnapPoint(p orb.Point) orb.Point { return orb.Point{Snap(p[0]), Snap(p[1])} }

// SnapRing returns the ring on the grid, open (the first point not repeated)
// and without repeated neighbours.
func SnapRing(r orb.Ring) orb.Ring {
	s := make(orb.Ring, len(r))
	for i, p := range r {
		s[i] = SnapPoint(p)
	}
	return OpenRing(s)
}

// SnapPolygon returns the polygon on the grid. Rings that collapse to fewer
// than three points are dropped; an outer ring that collapses empties the
// polygon.
func SnapPolygon(p orb.Polygon) orb.Polygon {
	var s orb.Polygon
	for i, r := range p {
		r = SnapRing(r)
		if len(r) >= 3 {
			s = append(s, r)
		} else if i == 0 {
			return nil
		}
	}
	return s
}

// OpenRing returns the ring without a repeated last point and without repeated
// neighbours. The result shares no memory with r.
func OpenRing(r orb.Ring) orb.Ring {
	o := slices.Compact(slices.Clone(r))
	for len(o) > 1 && o[0] == o[len(o)-1] {
		o = o[:len(o)-1]
	}
	return o
}

// RingArea is the signed area of a ring in mm²: positive when it runs
// counter-clockwise.
func RingArea(r orb.Ring) float64 {
	if len(r) < 3 {
		return 0
	}
	o, sum := r[0], 0.0 // relative to r[0]: far-away rings lose nothing
	for i := 2; i < len(r); i++ {
		sum += (r[i-1][0]-o[0])*(r[i][1]-o[1]) - (r[i][0]-o[0])*(r[i-1][1]-o[1])
	}
	return sum / 2
}

// RingLength is the length of a closed ring in mm.
func RingLength(r orb.Ring) float64 {
	sum := 0.0
	for i, p := range r {
		q := r[(i+1)%len(r)]
		sum += math.Hypot(q[0]-p[0], q[1]-p[1])
	}
	return sum
}

// ReverseRing returns the ring run the other way.
func ReverseRing(r orb.Ring) orb.Ring {
	s := slices.Clone(r)
	slices.Reverse(s)
	return s
}

// OrientRing returns the ring open and counter-clockwise, or clockwise when ccw
// is false. The result shares no memory with r.
func OrientRing(r orb.Ring, ccw bool) orb.Ring {
	o := OpenRing(r)
	if a := RingArea(o); (a > 0) != ccw && a != 0 {
		slices.Reverse(o)
	}
	return o
}

// TransformRing returns the ring where the pose takes it, on the grid; a
// mirrored ring keeps its sense. Each vertex is off its true place by at most
// half a grid step on each axis, and exact for grid poses at multiples of 90
// degrees.
func TransformRing(r orb.Ring, pose Pose) orb.Ring {
	sin, cos := SinCosDeg(pose.AngleDeg)
	t := make(orb.Ring, len(r))
	for i, p := range r {
		x, y := p[0], p[1]
		if pose.Mirror {
			x = -x
		}
		t[i] = SnapPoint(orb.Point{cos*x - sin*y + pose.X, sin*x + cos*y + pose.Y})
	}
	if pose.Mirror {
		slices.Reverse(t)
	}
	return t
}
