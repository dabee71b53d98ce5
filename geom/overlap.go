package geom

import "github.com/paulmach/orb"

// InteriorsOverlap reports whether the interiors of two simple polygons meet,
// exactly for any finite coordinates. Touching is no overlap.
func InteriorsOverlap(a, b orb.Polygon) bool {
	return NewIndex(a).Overlaps(NewIndex(b), orb.Point{})
}

// Within reports whether a lies in the closed polygon b, exactly.
func Within(a, b orb.Polygon) bool { return NewIndex(b).Holds(NewIndex(a), orb.Point{}) }

// Overlaps reports whether the polygon's interior meets that of b moved by
// shift. It is exact when adding the shift is, as on the grid. Touching is no
// overlap.
func (ix *Index) Overlaps(b *Index, shift orb.Point) bool {
	if !openBoxesMeet(ix.box, b.box, shift) {
		return false
	}
	m := meeting{a: ix, b: b, shift: shift}
	return m.overlap()
}

// Holds reports whether b moved by shift lies in the closed polygon. It is
// exact when adding the shift is, as on the grid.
func (ix *Index) Holds(b *Index, shift orb.Point) bool {
	for k := range 2 {
		if b.box.Min[k]+shift[k] < ix.box.Min[k] || b.box.Max[k]+shift[k] > ix.box.Max[k] {
			return false
		}
	}
	m := meeting{a: ix, b: b, shift: shift, outsideA: true}
	return !m.overlap()
}

func openBoxesMeet(a, b orb.Bound, shift orb.Point) bool {
	return a.Min[0] < b.Max[0]+shift[0] && b.Min[0]+shift[0] < a.Max[0] &&
		a.Min[1] < b.Max[1]+shift[1] && b.Min[1]+shift[1] < a.Max[1]
}

// A meeting asks whether the interior of b, moved by shift, meets the interior
// of a, or the outside of a where outsideA is set.
//
// It does so when two edges cross; or when, at a point where the boundaries
// touch, the regions seen from close by have a direction in common; or when a
// ring that touches nothing lies inside the other region. These are all the
// cases: the boundary of a common area consists of pieces of either boundary,
// and a piece that ends nowhere on the other boundary is a whole ring.
type meeting struct {
	a, b     *Index
	shift    orb.Point
	outsideA bool
	touchedA []bool // by ring
	touchedB []bool
	flags    [16]bool // backs the two slices for polygons of few rings
}

func (m *meeting) overlap() bool {
	na, nb := len(m.a.first), len(m.b.first)
	flags := m.flags[:]
	if na+nb > len(flags) {
		flags = make([]bool, na+nb)
	}
	m.touchedA, m.touchedB = flags[:na], flags[na:na+nb]
	for e := range m.b.pts {
		if m.edgeOverlaps(int32(e)) {
			return true
		}
	}
	return m.ringOfBInside() || m.ringOfAInside()
}

// at is vertex i of b in its place.
func (m *meeting) at(i int32) orb.Point {
	p := m.b.pts[i]
	return orb.Point{p[0] + m.shift[0], p[1] + m.shift[1]}
}

// edgeOverlaps looks at edge e of b against the edges of a near it.
func (m *meeting) edgeOverlaps(e int32) bool {
	p, q := m.at(e), m.at(m.b.next[e])
	xlo, xhi := min(p[0], q[0]), max(p[0], q[0])
	ylo, yhi := min(p[1], q[1]), max(p[1], q[1])
	box := &m.a.box
	if xhi < box.Min[0] || xlo > box.Max[0] || yhi < box.Min[1] || ylo > box.Max[1] {
		return false
	}
	lo, hi := m.a.row(ylo), m.a.row(yhi)
	for r := lo; r <= hi; r++ {
		for _, f := range m.a.inRow(r) {
			s, t := m.a.pts[f], m.a.pts[m.a.next[f]]
			if max(s[0], t[0]) < xlo || min(s[0], t[0]) > xhi || max(s[1], t[1]) < ylo || min(s[1], t[1]) > yhi {
				continue
			}
			if lo != hi && m.a.row(max(ylo, min(s[1], t[1]))) != r {
				continue // looked at in the first band they share
			}
			if m.pairOverlaps(e, f, p, q, s, t) {
				return true
			}
		}
	}
	return false
}

// pairOverlaps looks at edge e = pq of b and edge f = st of a. A touch at an
// edge's end is looked at from the edge that starts there.
func (m *meeting) pairOverlaps(e, f int32, p, q, s, t orb.Point) bool {
	sp, sq := Orient(s, t, p), Orient(s, t, q)
	if sp*sq > 0 {
		return false
	}
	ps, pt := Orient(p, q, s), Orient(p, q, t)
	if ps*pt > 0 {
		return false
	}
	if sp != 0 && sq != 0 && ps != 0 && pt != 0 {
		return true
	}
	m.touchedA[m.a.ring[f]], m.touchedB[m.b.ring[e]] = true, true
	if sp == 0 && p != t && OnSegment(p, s, t) {
		in := s
		if p == s {
			in = m.a.pts[m.a.prev[f]]
		}
		if m.wedgesMeet(p, in, t, m.at(m.b.prev[e]), q) {
			return true
		}
	}
	if ps == 0 && s != p && s != q && OnSegment(s, p, q) {
		return m.wedgesMeet(s, m.a.pts[m.a.prev[f]], t, p, q)
	}
	return false
}

// wedgesMeet compares the regions at the common boundary point x, where a's
// boundary comes from aIn and goes to aOut, and b's likewise. The inside lies
// to the left of a boundary.
func (m *meeting) wedgesMeet(x, aIn, aOut, bIn, bOut orb.Point) bool {
	a := m.a.insideSector
	if m.outsideA {
		a = m.a.outsideSector
	}
	return a(x, aOut, aIn).meets(m.sectorOfB(x, bOut, bIn))
}

// sectorOfB is b's inside sector at x in its place.
func (m *meeting) sectorOfB(x, out, in orb.Point) wedge {
	if !m.b.pinched() {
		return wedge{x, out, in}
	}
	back := func(p orb.Point) orb.Point { return orb.Point{p[0] - m.shift[0], p[1] - m.shift[1]} }
	w := m.b.insideSector(back(x), back(out), back(in))
	return wedge{x, out, orb.Point{w.to[0] + m.shift[0], w.to[1] + m.shift[1]}}
}

// ringOfBInside looks for a ring of b that touches nothing and lies in a (or
// outside a, where that is asked).
func (m *meeting) ringOfBInside() bool {
	want := Inside
	if m.outsideA {
		want = Outside
	}
	for k, v := range m.b.first {
		if !m.touchedB[k] && m.a.Locate(m.at(v)) == want {
			return true
		}
	}
	return false
}

// ringOfAInside looks for a ring of a that touches nothing and lies in b: on
// both sides of it lies interior of b.
func (m *meeting) ringOfAInside() bool {
	for k, v := range m.a.first {
		p := m.a.pts[v]
		if !m.touchedA[k] && m.b.Locate(orb.Point{p[0] - m.shift[0], p[1] - m.shift[1]}) == Inside {
			return true
		}
	}
	return false
}
