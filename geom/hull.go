package geom

import (
	"slices"

	"github.com/paulmach/orb"
)

// ConvexHull returns the convex hull of the points as a counter-clockwise ring
// without collinear vertices, starting at the lowest-left point (least x, then
// least y). Fewer than three points come back where all are collinear.
// Andrew 1979, Another efficient algorithm for convex hulls in two dimensions.
func ConvexHull(pts []orb.Point) orb.Ring {
	s := slices.Clone(pts)
	slices.SortFunc(s, comparePoints)
	s = slices.Compact(s)
	if len(s) < 3 {
		return orb.Ring(s)
	}
	lower := halfHull(s)
	slices.Reverse(s)
	upper := halfHull(s)
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}

func halfHull(s []orb.Point) orb.Ring {
	var h orb.Ring
	for _, p := range s {
		for len(h) >= 2 && Orient(h[len(h)-2], h[len(h)-1], p) <= 0 {
			h = h[:len(h)-1]
		}
		h = append(h, p)
	}
	return h
}

// comparePoints orders points by x, then y.
func comparePoints(a, b orb.Point) int {
	switch {
	case a[0] < b[0]:
		return -1
	case a[0] > b[0]:
		return 1
	case a[1] < b[1]:
		return -1
	case a[1] > b[1]:
		return 1
	}
	return 0
}

// IsConvex reports whether a counter-clockwise ring never turns right and
// winds once. Collinear vertices are allowed.
func IsConvex(r orb.Ring) bool {
	n := len(r)
	if n < 3 {
		return false
	}
	flips := 0
	for i := range r {
		a, b, c := r[i], r[(i+1)%n], r[(i+2)%n]
		if Orient(a, b, c) < 0 {
			return false
		}
		if comparePoints(a, b) != comparePoints(b, c) {
			flips++
		}
	}
	return flips == 2 // a ring that winds twice turns back four times
}
