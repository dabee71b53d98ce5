package geom

import "github.com/paulmach/orb"

// NoFit returns the translations of moving at which its interior meets fixed's:
// an open set, given by its boundary and by the legal translations inside it
// that bound no area. The reference point is moving's own (0, 0). Both polygons
// are simple, of any shape, with holes; they are taken on the grid.
//
// Vertices at which two computed edges cross are rounded to the grid, so that
// polygons placed at one may run into each other by up to half a grid step on
// each axis ([TouchTolerance] covers it); the edges' own ends are exact.
func NoFit(fixed, moving orb.Polygon) Region {
	return noFit(NormalPolygon(SnapPolygon(pullIn(fixed))), NormalPolygon(SnapPolygon(pullIn(moving))))
}

func noFit(fixed, moving orb.Polygon) Region {
	if len(fixed) == 0 || len(moving) == 0 {
		return Region{}
	}
	a, c := turningsOf(usefulRings(fixed, moving), false), turningsOf(usefulRings(moving, fixed), true)
	if len(a) == 1 && len(c) == 1 && a[0].convex() && c[0].convex() {
		return Region{Rings: []orb.Ring{sumConvex(&a[0], &c[0])}}
	}
	ar := borrowArrangement(true)
	defer ar.release()
	for i := range a {
		for j := range c {
			ar.noder.convolve(&a[i], &c[j])
		}
	}
	ar.arrange(nil)
	forbidden := func(w [2]int32) bool { return w[0] > 0 }
	r := Region{Rings: ar.rings(forbidden)}
	ar.addDegenerate(&r, forbidden, true, lazyTest(fixed, moving, (*Index).Overlaps, false))
	return r
}

// InnerFit returns the closed set of translations that keep moving inside
// container, whose holes are blocked zones. Touching is allowed. The reference
// point, the grid and the rounding are those of [NoFit].
func InnerFit(container, moving orb.Polygon) Region {
	return innerFit(NormalPolygon(SnapPolygon(pullIn(container))), NormalPolygon(SnapPolygon(pullIn(moving))))
}

func innerFit(container, moving orb.Polygon) Region {
	if len(container) == 0 || len(moving) == 0 || !boxFits(moving[0], container[0]) {
		return Region{}
	}
	ar := borrowArrangement(true)
	defer ar.release()
	wall := newTurning(ReverseRing(container[0]))
	outline := newTurning(reflectRing(moving[0]))
	ar.noder.convolve(&wall, &outline)
	for _, zone := range container[1:] {
		z := orb.Polygon{OrientRing(zone, true)}
		block := newTurning(z[0])
		for _, c := range turningsOf(usefulRings(moving, z), true) {
			ar.noder.convolve(&block, &c)
		}
	}
	ar.arrange(nil)
	allowed := func(w [2]int32) bool { return w[0] < 0 }
	r := Region{Rings: ar.rings(allowed)}
	ar.addDegenerate(&r, allowed, false, lazyTest(container, moving, (*Index).Holds, true))
	return r
}

// usefulRings returns p's rings without the holes that other's box does not fit
// into: nothing can lie in those, so they might as well be filled. That matters
// beyond speed: the winding number counts a piece with a hole as nothing, and
// common pieces of the remaining rings have none.
func usefulRings(p, other orb.Polygon) orb.Polygon {
	rings := orb.Polygon{p[0]}
	for _, h := range p[1:] {
		if boxFits(other[0], h) {
			rings = append(rings, h)
		}
	}
	return rings
}

// boxFits reports whether a's box fits into b's.
func boxFits(a, b orb.Ring) bool {
	s, t := RingBounds(a), RingBounds(b)
	return s.Max[0]-s.Min[0] <= t.Max[0]-t.Min[0] && s.Max[1]-s.Min[1] <= t.Max[1]-t.Min[1]
}

func turningsOf(p orb.Polygon, reflected bool) []turning {
	var ts []turning
	for _, r := range p {
		if reflected {
			r = reflectRing(r)
		}
		if t := newTurning(r); len(t.pts) >= 3 {
			ts = append(ts, t)
		}
	}
	return ts
}

// lazyTest returns the test whether a translation is legal: that the relation
// of the two polygons is as wanted. The indexes are made at its first use.
func lazyTest(a, b orb.Polygon, relation func(a, b *Index, t orb.Point) bool, want bool) func(orb.Point) bool {
	var ia, ib *Index
	return func(t orb.Point) bool {
		if ia == nil {
			ia, ib = NewIndex(a), NewIndex(b)
		}
		return relation(ia, ib, t) == want
	}
}

// sumConvex is the Minkowski sum of two convex rings: their edges in the order
// of their directions.
func sumConvex(a, c *turning) orb.Ring {
	i, j := lowest(a.pts), lowest(c.pts)
	na, nc := len(a.pts), len(c.pts)
	ring := make(orb.Ring, 0, na+nc)
	for s, t := 0, 0; s < na || t < nc; {
		p, q := a.pts[i], c.pts[j]
		ring = append(ring, orb.Point{p[0] + q[0], p[1] + q[1]})
		order := 0
		switch {
		case s == na:
			order = 1
		case t == nc:
			order = -1
		default:
			order = compareDirections(a.dirs[i], c.dirs[j])
		}
		if order <= 0 {
			i, s = (i+1)%na, s+1
		}
		if order >= 0 {
			j, t = (j+1)%nc, t+1
		}
	}
	return startAtLeast(ring)
}

// lowest is the place of the ring's lowest point, the leftmost of several: its
// edges' directions run once around from +x.
func lowest(r orb.Ring) int {
	at := 0
	for i, p := range r {
		if p[1] < r[at][1] || p[1] == r[at][1] && p[0] < r[at][0] {
			at = i
		}
	}
	return at
}
