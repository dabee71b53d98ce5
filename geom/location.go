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
	for i := range r {
		a, b := r[i], r[(i+1)%len(r)]
		if a == p {
			return OnBoundary
		}
		above, aboveB := a[1] > p[1], b[1] > p[1]
		if above == aboveB {
			if a[1] == p[1] && b[1] == p[1] && OnSegment(p, a, b) {
				return OnBoundary
			}
			continue
		}
		switch side := Orient(a, b, p); {
		case side == 0:
			return OnBoundary
		case (side > 0) == aboveB: // p lies left of an upward edge
			inside = !inside
		}
	}
	if inside {
		return Inside
	}
	return Outside
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
