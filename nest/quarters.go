package nest

import (
	"github.com/paulmach/orb"

	"kerfold/geom"
)

// Most parts may lie in quarter turns, and a scene turned by a quarter is the same
// scene: the no-fit polygon of two shapes that are both turned is the one of the
// unturned two, turned; that of two shapes the other way round is its reflection
// in a point. On the grid both are exact. So of the sixteen ways in which two
// parts in four turns each meet, and the sixteen the other way round, four are
// worked out.

// quarterOutline turns an outline that lies in its corner by quarters and puts it
// into its corner again.
func quarterOutline(p orb.Polygon, h, w float64, quarters int) orb.Polygon {
	for range quarters & 3 {
		p = quarterTurned(p, h)
		h, w = w, h
	}
	return p
}

// quarterTurned turns by one quarter counter-clockwise and moves right by h, the
// height of what lies in the corner, so that it lies in the corner again.
func quarterTurned(p orb.Polygon, h float64) orb.Polygon {
	out := make(orb.Polygon, len(p))
	for i, ring := range p {
		out[i] = make(orb.Ring, len(ring))
		for k, pt := range ring {
			out[i][k] = orb.Point{h - pt[1], pt[0]}
		}
	}
	return out
}

// relate finds, for a new shape, an earlier one that it is a quarter turn of.
func (sp *shapePool) relate(outline orb.Polygon, s *shape) {
	for q := 1; q < 4; q++ {
		back := quarterOutline(outline, s.h, s.w, 4-q)
		j, known := sp.byKey[outlineKey(back)]
		if known && sp.shapes[j].quarter == 0 {
			base := &sp.shapes[j]
			s.base, s.quarter = j, q
			s.body = quarterOutline(base.body, base.h, base.w, q)
			return
		}
	}
}

// quarterTable lists, for every shape that others are turned from, the shapes
// that it gives in 0 to 3 quarter turns; −1 where no part has that turn.
func (sp *shapePool) quarterTable() map[int][4]int {
	table := map[int][4]int{}
	for i := range sp.shapes {
		s := &sp.shapes[i]
		if s.quarter != 0 {
			continue
		}
		row := [4]int{i, -1, -1, -1}
		for q := 1; q < 4; q++ {
			if j, ok := sp.byKey[outlineKey(quarterOutline(s.outline, s.h, s.w, q))]; ok {
				row[q] = j
			}
		}
		table[i] = row
	}
	return table
}

// A derivation says how to get the no-fit polygon of a pair from another pair's.
type derivation struct {
	fixed, moving int
	quarters      int
	reflected     bool
}

// derived finds the pair to work out in the place of another one; ok is false
// when that is itself, or when a shape it needs does not occur.
func (pre *prepared) derived(fixed, moving int) (d derivation, ok bool) {
	f, m := &pre.shapes[fixed], &pre.shapes[moving]
	if f.base <= m.base {
		other := pre.quarters[m.base][(m.quarter-f.quarter)&3]
		return derivation{f.base, other, f.quarter, false}, other >= 0 && f.quarter != 0
	}
	other := pre.quarters[f.base][(f.quarter-m.quarter)&3]
	return derivation{m.base, other, m.quarter, true}, other >= 0
}

// turned is the no-fit polygon of the pair it was derived for.
func (n *nofit) turned(pre *prepared, d derivation) *nofit {
	f, m := &pre.shapes[d.fixed], &pre.shapes[d.moving]
	fw, fh, mw, mh := f.w, f.h, m.w, m.h
	at := func(x, y float64) orb.Point {
		fw, fh, mw, mh := fw, fh, mw, mh
		for range d.quarters {
			x, y = fh-mh-y, x
			fw, fh, mw, mh = fh, fw, mh, mw
		}
		if d.reflected {
			x, y = -x, -y
		}
		return orb.Point{x, y}
	}
	var r geom.Region
	for l := 0; l+1 < len(n.loops); l++ {
		ring := make(orb.Ring, 0, n.loops[l+1]-n.loops[l])
		for _, e := range n.edges[n.loops[l]:n.loops[l+1]] {
			ring = append(ring, at(e.ax, e.ay))
		}
		r.Rings = append(r.Rings, ring)
	}
	for _, e := range n.edges[n.winding:] {
		a, b := at(e.ax, e.ay), at(geom.Snap(e.ax+e.ux*e.length), e.by)
		if e.length == 0 {
			r.Points = append(r.Points, a)
		} else {
			r.Segments = append(r.Segments, [2]orb.Point{a, b})
		}
	}
	return newNofit(r)
}
