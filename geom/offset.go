package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Offset returns the polygon grown by d mm (shrunk when d < 0), with round
// joins flattened to tol mm on the safe side ([ChordTolerance] where tol is not
// positive): a grown polygon contains the true offset, a shrunk one is
// contained in it. Edges along an axis move by exactly |d| rounded up to the
// grid; others by up to 8·[Grid] more, which pays for the rounding of their
// ends. A polygon shrunk to nothing gives none; one shrunk through a neck gives
// several.
func Offset(p orb.Polygon, d, tol float64) []orb.Polygon {
	p = NormalPolygon(SnapPolygon(pullIn(p)))
	if len(p) == 0 {
		return nil
	}
	if !(tol > 0) {
		tol = ChordTolerance
	}
	switch {
	case d > 0:
		return growPolygon(p, d, tol)
	case d < 0:
		return shrinkPolygon(p, -d, tol)
	}
	return []orb.Polygon{p}
}

// growPolygon grows the outer ring and takes away what is left of the holes.
func growPolygon(p orb.Polygon, d, tol float64) []orb.Polygon {
	grown := growRing(p[0], d, tol)
	var left []orb.Polygon
	for _, h := range p[1:] {
		left = append(left, shrinkRing(OrientRing(h, true), d, tol)...)
	}
	if len(left) == 0 {
		return grown
	}
	return Difference(grown, left)
}

// shrinkPolygon shrinks the outer ring and takes away the grown holes.
func shrinkPolygon(p orb.Polygon, d, tol float64) []orb.Polygon {
	shrunk := shrinkRing(p[0], d, tol)
	var blocked []orb.Polygon
	for _, h := range p[1:] {
		blocked = append(blocked, growRing(OrientRing(h, true), d, tol)...)
	}
	if len(blocked) == 0 || len(shrunk) == 0 {
		return shrunk
	}
	return Difference(shrunk, blocked)
}

// growRing grows the inside of a counter-clockwise ring.
func growRing(r orb.Ring, d, tol float64) []orb.Polygon {
	inside := func(w [2]int32) bool { return w[0] > 0 }
	return windingRegion(shiftedRing(r, d, tol), inside)
}

// shrinkRing shrinks the inside of a counter-clockwise ring: it grows the
// outside, whose boundary is the ring run backwards. The shifted curve winds
// clockwise around what is left. It would also do so around places from which
// the whole ring is nearer than d; no such ring has room for a disc of that
// radius, and its box tells. The last test catches the same for the few grid
// steps by which the shifted curve lies deeper.
func shrinkRing(r orb.Ring, d, tol float64) []orb.Polygon {
	box := RingBounds(r)
	if box.Max[0]-box.Min[0] <= 2*d || box.Max[1]-box.Min[1] <= 2*d {
		return nil
	}
	inside := func(w [2]int32) bool { return w[0] < 0 }
	var kept []orb.Polygon
	for _, p := range windingRegion(shiftedRing(ReverseRing(r), d, tol), inside) {
		if BoundaryDistance(p[0][0], orb.Polygon{r}) >= d-Grid/16 {
			kept = append(kept, p)
		}
	}
	return kept
}

// windingRegion is the region that a closed curve winds around as asked.
func windingRegion(curve orb.Ring, inside func(w [2]int32) bool) []orb.Polygon {
	ar := borrowArrangement(false)
	defer ar.release()
	ar.addRing(curve, 0)
	ar.arrange(func(s *stretch) bool { return bounds(s, inside) })
	return ar.polygons(inside)
}

// shiftedRing moves a ring's edges d mm to their right and joins them: around
// left turns by tangents of the round corner, across right turns straight on.
// The curve winds at least once around every point nearer than d to what lies
// on the ring's left. (A straight step across a right turn cuts off a lens that
// lies within d of the corner and counts it twice instead of once.)
func shiftedRing(r orb.Ring, d, tol float64) orb.Ring {
	r = straighten(r)
	curve := make(orb.Ring, 0, 4*len(r))
	for i, v := range r {
		in := edgeShift(r[(i+len(r)-1)%len(r)], v, d)
		out := edgeShift(v, r[(i+1)%len(r)], d)
		if crossSign(in.dir[0], in.dir[1], out.dir[0], out.dir[1]) <= 0 {
			curve = append(curve, in.foot(v), out.foot(v))
			continue
		}
		curve = appendCorner(curve, v, in, out, d, tol)
	}
	return OpenRing(curve)
}

// A shift says how an edge moves to its right.
type shift struct {
	dir    orb.Point // the edge, as a vector
	unit   orb.Point // its direction
	by     float64   // mm
	onAxis bool
}

func edgeShift(a, b orb.Point, d float64) shift {
	dir := orb.Point{b[0] - a[0], b[1] - a[1]}
	s := shift{dir: dir, by: d + roundingMargin, onAxis: dir[0] == 0 || dir[1] == 0}
	l := math.Hypot(dir[0], dir[1])
	s.unit = orb.Point{dir[0] / l, dir[1] / l}
	if s.onAxis {
		s.by = math.Ceil(d/Grid) * Grid
	}
	return s
}

// foot is where the shifted edge passes v.
func (s shift) foot(v orb.Point) orb.Point { return s.beyond(v, 0) }

// beyond is the grid point a way along the shifted edge from v's foot.
func (s shift) beyond(v orb.Point, along float64) orb.Point {
	return SnapPoint(orb.Point{
		v[0] + s.by*s.unit[1] + along*s.unit[0],
		v[1] - s.by*s.unit[0] + along*s.unit[1],
	})
}

// appendCorner adds the corners of tangents around v. The first and the last
// tangent are the shifted edges themselves; where such an edge runs along an
// axis its corner stays on it exactly.
func appendCorner(curve orb.Ring, v orb.Point, in, out shift, d, tol float64) orb.Ring {
	turn := math.Atan2(in.unit[0]*out.unit[1]-in.unit[1]*out.unit[0], in.unit[0]*out.unit[0]+in.unit[1]*out.unit[1])
	turn = math.Abs(turn)
	step := 2 * math.Atan2(math.Sqrt(tol*(2*d+tol)), d)
	k := int(math.Max(1, math.Ceil(turn/math.Min(step, maxChordTurn)-1e3*epsilon)))
	half := turn / float64(2*k)
	reach := math.Ceil(d*math.Tan(half)/Grid+1) * Grid
	start := math.Atan2(-in.unit[0], in.unit[1])
	radius := (d + roundingMargin) / math.Cos(half)
	for i := range k {
		switch {
		case i == 0 && in.onAxis:
			curve = append(curve, in.beyond(v, reach))
		case i == k-1 && out.onAxis:
			curve = append(curve, out.beyond(v, -reach))
		default:
			s, c := math.Sincos(start + float64(2*i+1)*half)
			curve = append(curve, SnapPoint(orb.Point{v[0] + radius*c, v[1] + radius*s}))
		}
	}
	return curve
}
