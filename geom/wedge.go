package geom

import "github.com/paulmach/orb"

// A wedge is the region around a boundary point x, seen from close by: the
// directions met when turning counter-clockwise from x→from to x→to.
type wedge struct{ x, from, to orb.Point }

// meets reports whether two open wedges at the same point have a direction in
// common. If so, moving clockwise from it one comes to one wedge's first side
// while still in the other.
func (w wedge) meets(v wedge) bool { return v.holds(w.from) || w.holds(v.from) }

// holds reports whether the direction towards d lies in the wedge, its first
// side included and its last side not.
func (w wedge) holds(d orb.Point) bool {
	fromD := Orient(w.x, w.from, d)
	if fromD == 0 && sameDirection(w.x, w.from, d) {
		return true
	}
	dTo := Orient(w.x, d, w.to)
	if dTo == 0 && sameDirection(w.x, w.to, d) {
		return false
	}
	switch Orient(w.x, w.from, w.to) {
	case 1: // less than a half-turn
		return fromD > 0 && dTo > 0
	case -1: // more
		return !(fromD < 0 && dTo < 0)
	}
	return fromD > 0 // a half-turn: a straight edge
}

// sameDirection reports whether a and b, collinear with x, lie on the same side
// of it.
func sameDirection(x, a, b orb.Point) bool {
	return (a[0] > x[0]) == (b[0] > x[0]) && (a[0] < x[0]) == (b[0] < x[0]) &&
		(a[1] > x[1]) == (b[1] > x[1]) && (a[1] < x[1]) == (b[1] < x[1])
}
