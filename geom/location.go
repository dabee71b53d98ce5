package geom

import "github.com/paulmach/orb"

// A Location says where a point lies against a region.
type Location int

const (
	Outside    Location = -1
	OnBoundary Location = 0
	Inside     Location = 1
)

// LocateInRing says where p lies against the ring's even-odd region, exactly.
func LocateInRing(r orb.Ring, p orb.Point) Location {
	inside := false
	for i, a := range r {
		j := i + 1
		if j == len(r) {
			j = 0
		}
		on, crosses := rayMeets(a, r[j], p)
		if on {
			return OnBoundary
		}
		if crosses {
			inside = !inside
		}
	}
	if inside {
		return Inside
	}
	return Outside
}

// rayMeets says whether p lies on the segment ab and whether the ray from p
// towards +x crosses it. A segment owns its lower end and not its upper one, so
// that a ray through a vertex counts right.
func rayMeets(a, b, p orb.Point) (on, crosses bool) {
	above, bAbove := a[1] > p[1], b[1] > p[1]
	if above == bAbove {
		if above || (a[1] < p[1] && b[1] < p[1]) {
			return false, false
		}
		return OnSegment(p, a, b), false // one end or both at p's height
	}
	if a[0] < p[0] && b[0] < p[0] {
		return false, false
	}
	if a[0] > p[0] && b[0] > p[0] {
		return false, true
	}
	side := Orient(a, b, p)
	return side == 0, (side > 0) == bAbove
}

// Locate says where p lies against the polygon, exactly. The inside of a hole
// is outside.
func Locate(poly orb.Polygon, p orb.Point) Location {
	for i, r := range poly {
		at := LocateInRing(r, p)
		switch {
		case at == OnBoundary:
			return OnBoundary
		case i == 0 && at == Outside:
			return Outside
		case i > 0 && at == Inside:
			return Outside
		}
	}
	if len(poly) == 0 {
		return Outside
	}
	return Inside
}
