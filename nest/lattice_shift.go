package nest

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Of all shifts of a lattice, those that hold most copies on a box are found
// exactly. Let a shift have the most inside. Moved left until some copy touches
// the box's left edge, and then down until one touches its lower edge, the lattice
// loses no copy on the way: a copy leaves only after touching. So it is enough to
// look at the shifts in which one copy touches the left edge and one the lower
// edge, and of those there are about as many as copies.

// touching visits those shifts.
func (t *latTurned) touching(b sepBox, visit func(o orb.Point)) {
	for left := range t.at {
		f := b.inside(t.ext[left])
		if f.x1 < f.x0 || f.y1 < f.y0 {
			continue
		}
		x := f.x0 - t.at[left][0] // copy (0, 0) of this motif's copy touches
		for low := range t.at {
			g := b.inside(t.ext[low])
			// With the shift's y at 0, copies that could touch below lie this low.
			y0, y1 := g.y0-(f.y1-t.at[left][1]), g.y0-(f.y0-t.at[left][1])
			t.points(sepBox{g.x0, y0, g.x1, y1}, low, orb.Point{x, 0}, func(_, y float64) {
				visit(orb.Point{x, g.y0 - y})
			})
		}
	}
}

// points visits copies k of the motif whose reference points lie in a field.
func (t *latTurned) points(f sepBox, k int, o orb.Point, visit func(x, y float64)) {
	t.rowsIn(f, k, o, func(x, y float64, from, to int) {
		for i := from; i <= to; i++ {
			visit(x+float64(i)*t.u[0], y+float64(i)*t.u[1])
		}
	})
}

// most is the most copies that any shift has inside the box, and that shift.
func (t *latTurned) most(b sepBox) (n int, at orb.Point) {
	t.touching(b, func(o orb.Point) {
		if c := t.count(b, o); c > n {
			n, at = c, o
		}
	})
	return n, at
}

// shifts finds the shifts of a turned cell at which the box holds most copies:
// one for every number of copies, for the rim does better beside some than beside
// others.
func (l *latSheet) shifts(t *latTurned) []latClipped {
	var list []latClipped
	t.touching(l.box, func(o orb.Point) {
		n := t.count(l.box, o)
		if n > 0 && !slices.ContainsFunc(list, func(c latClipped) bool { return c.count == n }) {
			list = append(list, latClipped{t: t, o: o, count: n})
		}
	})
	slices.SortStableFunc(list, func(a, b latClipped) int { return b.count - a.count })
	return list[:min(len(list), latPerCell)]
}

// count is how many copies lie inside the box when the origin is at o.
func (t *latTurned) count(b sepBox, o orb.Point) int {
	n := 0
	for k := range t.at {
		t.rows(b, k, o, func(_, _ float64, from, to int) { n += to - from + 1 })
	}
	return n
}

// rows visits the runs i = from … to of the copies k at (x, y) + i·u that lie
// inside the box.
func (t *latTurned) rows(b sepBox, k int, o orb.Point, visit func(x, y float64, from, to int)) {
	t.rowsIn(b.inside(t.ext[k]), k, o, visit)
}

// rowsIn visits the runs whose reference points lie in a field.
func (t *latTurned) rowsIn(f sepBox, k int, o orb.Point, visit func(x, y float64, from, to int)) {
	if f.x1 < f.x0 || f.y1 < f.y0 {
		return
	}
	ox, oy := o[0]+t.at[k][0], o[1]+t.at[k][1]
	lo, hi := t.span(f, ox, oy)
	for j := lo; j <= hi; j++ {
		x, y := ox+float64(j)*t.v[0], oy+float64(j)*t.v[1]
		from, to := math.Inf(-1), math.Inf(1)
		from, to = latClip(from, to, x, t.u[0], f.x0, f.x1)
		from, to = latClip(from, to, y, t.u[1], f.y0, f.y1)
		if i0, i1 := math.Ceil(from-latRound), math.Floor(to+latRound); i0 <= i1 {
			visit(x, y, int(i0), int(i1))
		}
	}
}

// latRound forgives rounding where a copy lies along an edge.
const latRound = 1e-9

// span is the range of j for which any copy can lie in the field.
func (t *latTurned) span(f sepBox, ox, oy float64) (lo, hi int) {
	det := latCross(t.u, t.v)
	least, most := math.Inf(1), math.Inf(-1)
	for _, c := range [4]orb.Point{{f.x0, f.y0}, {f.x1, f.y0}, {f.x0, f.y1}, {f.x1, f.y1}} {
		j := latCross(t.u, orb.Point{c[0] - ox, c[1] - oy}) / det
		least, most = min(least, j), max(most, j)
	}
	return int(math.Floor(least)), int(math.Ceil(most))
}

// latClip narrows the range of i to where x + i·d lies in [lo, hi].
func latClip(from, to, x, d, lo, hi float64) (float64, float64) {
	if math.Abs(d) < latRound {
		if x < lo-latRound || x > hi+latRound {
			return 1, 0
		}
		return from, to
	}
	a, b := (lo-x)/d, (hi-x)/d
	return max(from, min(a, b)), min(to, max(a, b))
}
