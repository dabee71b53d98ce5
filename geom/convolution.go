package geom

import (
	"slices"

	"github.com/paulmach/orb"
)

// A turning is a ring made ready for convolution: no collinear vertices, the
// edges' directions, and the edges sorted by direction. The region lies on the
// ring's left.
type turning struct {
	pts   orb.Ring
	dirs  []orb.Point // dirs[i] leads from pts[i] to its successor
	turns []int       // +1 where the ring turns left at pts[i]
	order []int32     // edges by direction, counter-clockwise from +x
}

func newTurning(r orb.Ring) turning {
	t := turning{pts: straighten(r)}
	n := len(t.pts)
	t.dirs = make([]orb.Point, n)
	t.turns = make([]int, n)
	t.order = make([]int32, n)
	for i, p := range t.pts {
		q := t.pts[(i+1)%n]
		t.dirs[i] = orb.Point{q[0] - p[0], q[1] - p[1]}
		t.order[i] = int32(i)
	}
	for i := range t.pts {
		a, b := t.dirs[(i+n-1)%n], t.dirs[i]
		t.turns[i] = crossSign(a[0], a[1], b[0], b[1])
	}
	slices.SortFunc(t.order, func(i, j int32) int { return compareDirections(t.dirs[i], t.dirs[j]) })
	return t
}

// convex reports whether the ring is convex and counter-clockwise.
func (t *turning) convex() bool {
	for _, s := range t.turns {
		if s <= 0 {
			return false
		}
	}
	wraps := 0 // turning left all the way, the direction passes +x once per winding
	for i := range t.dirs {
		if compareDirections(t.dirs[i], t.dirs[(i+1)%len(t.dirs)]) > 0 {
			wraps++
		}
	}
	return wraps == 1
}

// compareDirections orders vectors counter-clockwise from +x, exactly.
func compareDirections(a, b orb.Point) int {
	if ha, hb := lowerHalf(a), lowerHalf(b); ha != hb {
		if hb {
			return -1
		}
		return 1
	}
	return -crossSign(a[0], a[1], b[0], b[1])
}

// lowerHalf reports whether a direction's angle is in [180°, 360°).
func lowerHalf(d orb.Point) bool { return d[1] < 0 || d[1] == 0 && d[0] < 0 }

// convolve adds the convolution of two rings: every edge of one moved by every
// vertex of the other at which that ring turns through the edge's direction,
// run backwards where it turns right. The segments form closed curves whose
// winding number at t counts the pieces in which the region of a meets the
// region of −c moved by t (Guibas, Ramshaw & Stolfi 1983, A kinetic framework
// for computational geometry). Parallel edges are told apart by thinking c
// turned by an infinitesimal angle.
func (n *noder) convolve(a, c *turning) {
	n.sweepEdges(a, c, false)
	n.sweepEdges(c, a, true)
}

// sweepEdges adds the edges of e moved by the vertices of v. The directions met
// in a left turn from d to d′ are [d, d′), or (d, d′] where after is set.
func (n *noder) sweepEdges(v, e *turning, after bool) {
	for i, p := range v.pts {
		from, to := v.dirs[(i+len(v.pts)-1)%len(v.pts)], v.dirs[i]
		back := v.turns[i] < 0
		if back {
			from, to = to, from
		}
		for k, at := 0, e.firstFrom(from, after); k < len(e.order); k, at = k+1, at+1 {
			if at == len(e.order) {
				at = 0
			}
			j := e.order[at]
			if !turnsThrough(from, to, e.dirs[j], after) {
				break
			}
			n.addMoved(e, j, p, back)
		}
	}
}

// addMoved adds edge j moved by p.
func (n *noder) addMoved(e *turning, j int32, p orb.Point, back bool) {
	q, r := e.pts[j], e.pts[(int(j)+1)%len(e.pts)]
	q, r = orb.Point{q[0] + p[0], q[1] + p[1]}, orb.Point{r[0] + p[0], r[1] + p[1]}
	if back {
		q, r = r, q
	}
	n.add(q, r, 0)
}

// firstFrom is the place in the order of the first edge whose direction is d or
// beyond (beyond only, where after is set).
func (t *turning) firstFrom(d orb.Point, after bool) int {
	lo, hi := 0, len(t.order)
	for lo < hi {
		mid := int(uint(lo+hi) >> 1)
		c := compareDirections(t.dirs[t.order[mid]], d)
		if c < 0 || c == 0 && after {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo % max(1, len(t.order))
}

// turnsThrough reports whether a left turn of less than a half-turn passes
// through direction d.
func turnsThrough(from, to, d orb.Point, after bool) bool {
	a, b := crossSign(from[0], from[1], d[0], d[1]), crossSign(d[0], d[1], to[0], to[1])
	if after {
		return a > 0 && (b > 0 || b == 0 && alike(d, to))
	}
	return b > 0 && (a > 0 || a == 0 && alike(d, from))
}

// alike reports whether two parallel vectors point the same way.
func alike(a, b orb.Point) bool { return a[0]*b[0]+a[1]*b[1] > 0 }

// reflectRing turns a ring by 180 degrees about the origin.
func reflectRing(r orb.Ring) orb.Ring {
	m := make(orb.Ring, len(r))
	for i, p := range r {
		m[i] = orb.Point{-p[0], -p[1]}
	}
	return m
}
