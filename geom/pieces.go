package geom

import (
	"slices"

	"github.com/paulmach/orb"
)

// ConvexPieces cuts the polygon into convex counter-clockwise rings with
// disjoint interiors whose union is the polygon. No new vertices are made.
//
// Ear clipping (Meisters 1975, Polygons have ears), then diagonals that are not
// needed go (Hertel & Mehlhorn 1983, Fast triangulation of simple polygons): at
// most four times the least number of pieces.
func ConvexPieces(poly orb.Polygon) []orb.Ring {
	p := NormalPolygon(poly)
	if len(p) == 0 {
		return nil
	}
	var triangles []orb.Ring
	for _, r := range cutOpen(p) {
		triangles = append(triangles, clipEars(r)...)
	}
	return mergePieces(triangles)
}

// clipEars cuts a counter-clockwise ring, which may touch itself along cuts,
// into triangles.
func clipEars(ring orb.Ring) []orb.Ring {
	var triangles []orb.Ring
	r := slices.Clone(ring)
	for at := 0; len(r) > 3; {
		i, ok := findEar(r, at)
		n := len(r)
		a, b, c := r[(i+n-1)%n], r[i], r[(i+1)%n]
		if ok && Orient(a, b, c) > 0 {
			triangles = append(triangles, orb.Ring{a, b, c})
		}
		r = slices.Delete(r, i, i+1)
		at = i % len(r)
	}
	if len(r) == 3 && Orient(r[0], r[1], r[2]) > 0 {
		triangles = append(triangles, r)
	}
	return triangles
}

// findEar returns a vertex that can be cut off, looking from a place on. A
// straight vertex may go too, where no ear is left (as in bad input) any does.
func findEar(r orb.Ring, from int) (int, bool) {
	straight := -1
	for k := range r {
		i := (from + k) % len(r)
		if isEar(r, i) {
			return i, true
		}
		if straight < 0 && isStraight(r, i) {
			straight = i
		}
	}
	if straight >= 0 {
		return straight, true
	}
	return from % len(r), false
}

// isStraight reports whether the ring goes straight on, or back, at vertex i.
func isStraight(r orb.Ring, i int) bool {
	n := len(r)
	return Orient(r[(i+n-1)%n], r[i], r[(i+1)%n]) == 0
}

// isEar reports whether the triangle at vertex i lies in the region: the corner
// is convex, the cut leaves both its ends into the region, and no other vertex
// lies in the triangle or on the cut.
func isEar(r orb.Ring, i int) bool {
	n := len(r)
	ia, ic := (i+n-1)%n, (i+1)%n
	a, b, c := r[ia], r[i], r[ic]
	if Orient(a, b, c) <= 0 || a == c {
		return false
	}
	before, after := r[(ia+n-1)%n], r[(ic+1)%n]
	if !cutLeavesInto(a, c, b, before) || !cutLeavesInto(c, a, after, b) {
		return false
	}
	for _, q := range r {
		if q != a && q != b && q != c && inTriangle(q, a, b, c) {
			return false
		}
	}
	return true
}

// cutLeavesInto reports whether the cut from x to y starts inside the region,
// whose boundary leaves x towards next and comes from prev; or along it.
func cutLeavesInto(x, y, next, prev orb.Point) bool {
	if Orient(x, y, prev) == 0 && sameDirection(x, y, prev) {
		return true
	}
	return wedge{x: x, from: next, to: prev}.holds(y)
}

// inTriangle reports whether q lies in the closed counter-clockwise triangle.
func inTriangle(q, a, b, c orb.Point) bool {
	return Orient(a, b, q) >= 0 && Orient(b, c, q) >= 0 && Orient(c, a, q) >= 0
}

// mergePieces joins neighbours along a common edge where the result is convex.
func mergePieces(pieces []orb.Ring) []orb.Ring {
	owner := map[[2]orb.Point]int{} // looked up, never ranged over
	for i, p := range pieces {
		own(owner, p, i)
	}
	for i := range pieces {
		for k := 0; k < len(pieces[i]); k++ {
			p := pieces[i]
			a, b := p[k], p[(k+1)%len(p)]
			j, ok := owner[[2]orb.Point{b, a}]
			if !ok || j == i || len(pieces[j]) == 0 {
				continue
			}
			if m, ok := joinConvex(p, k, pieces[j]); ok {
				pieces[i], pieces[j] = m, nil
				own(owner, m, i)
				k = -1 // look along the new ring from its start
			}
		}
	}
	return slices.DeleteFunc(pieces, func(r orb.Ring) bool { return len(r) == 0 })
}

func own(owner map[[2]orb.Point]int, p orb.Ring, i int) {
	for k, a := range p {
		owner[[2]orb.Point{a, p[(k+1)%len(p)]}] = i
	}
}

// joinConvex joins p and q along p's edge k, which q has the other way, where
// both corners at its ends stay convex.
func joinConvex(p orb.Ring, k int, q orb.Ring) (orb.Ring, bool) {
	n, m := len(p), len(q)
	a, b := p[k], p[(k+1)%n]
	at := 0
	for at < m && (q[at] != b || q[(at+1)%m] != a) {
		at++
	}
	if at == m {
		return nil, false
	}
	beforeA, afterB := p[(k+n-1)%n], p[(k+2)%n]
	beforeB, afterA := q[(at+m-1)%m], q[(at+2)%m]
	if Orient(beforeA, a, afterA) < 0 || Orient(beforeB, b, afterB) < 0 {
		return nil, false
	}
	joined := make(orb.Ring, 0, n+m-2)
	for s := 1; s <= n; s++ { // b … a
		joined = append(joined, p[(k+s)%n])
	}
	for s := 2; s < m; s++ { // after a … before b
		joined = append(joined, q[(at+s)%m])
	}
	return joined, true
}
