package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// OverlapsBeyond reports whether a and b run into each other deeper than tol
// mm: some point of one's boundary, or the middle of one, lies in both and
// farther than tol from the other's boundary. With tol = [TouchTolerance] it
// forgives the rounding of poses and nothing more.
func OverlapsBeyond(a, b orb.Polygon, tol float64) bool {
	return NewIndex(a).OverlapsBeyond(NewIndex(b), orb.Point{}, tol)
}

// SticksOutBeyond reports whether some point of a lies outside b by more than
// tol mm, or some point of b's boundary inside a by more than that.
func SticksOutBeyond(a, b orb.Polygon, tol float64) bool {
	return NewIndex(b).SticksOutBeyond(NewIndex(a), orb.Point{}, tol)
}

// OverlapsBeyond is the function of that name for the polygon and b moved by shift.
func (ix *Index) OverlapsBeyond(b *Index, shift orb.Point, tol float64) bool {
	return ix.Overlaps(b, shift) && ix.meetsDeeper(b, shift, tol, Inside)
}

// SticksOutBeyond is the function of that name for b, moved by shift, against the
// polygon.
func (ix *Index) SticksOutBeyond(b *Index, shift orb.Point, tol float64) bool {
	return !ix.Holds(b, shift) && ix.meetsDeeper(b, shift, tol, Outside)
}

// meetsDeeper looks for a point of b on the wanted side of ix, or of ix's
// boundary inside b, that is farther than tol from the other boundary. Where
// the boundaries nowhere run deep the regions may still be all but equal, which
// the middles tell.
func (ix *Index) meetsDeeper(b *Index, shift orb.Point, tol float64, want Location) bool {
	if ix.boundaryDeeper(b, shift, tol, want) {
		return true
	}
	back := orb.Point{-shift[0], -shift[1]}
	if b.boundaryDeeper(ix, back, tol, Inside) {
		return true
	}
	mid := b.middle()
	if ix.deepAt(orb.Point{mid[0] + shift[0], mid[1] + shift[1]}, tol, want) {
		return true
	}
	mid = ix.middle()
	return want == Inside && b.deepAt(orb.Point{mid[0] + back[0], mid[1] + back[1]}, tol, Inside)
}

// OverlapDepth is how deep, in mm, two polygons run into each other, to within
// half a grid step: the least tolerance at which [OverlapsBeyond] forgives it. It
// is 0 when they touch or are apart. It is meant for reports, not for searches.
func OverlapDepth(a, b orb.Polygon) float64 {
	ia, ib := NewIndex(a), NewIndex(b)
	if !ia.Overlaps(ib, orb.Point{}) {
		return 0
	}
	lo, hi := 0.0, distance(ia.box.Min, ia.box.Max)
	for hi-lo > Grid/2 {
		if mid := (lo + hi) / 2; ia.meetsDeeper(ib, orb.Point{}, mid, Inside) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// OverlapArea is the area in mm² that two polygons have in common, up to the
// rounding of their crossings to the grid.
func OverlapArea(a, b orb.Polygon) float64 {
	sum := 0.0
	for _, p := range Intersection([]orb.Polygon{a}, []orb.Polygon{b}) {
		sum += PolygonArea(p)
	}
	return sum
}

// middle is a point well inside the polygon.
func (ix *Index) middle() orb.Point {
	ix.midOnce.Do(func() {
		size := max(ix.box.Max[0]-ix.box.Min[0], ix.box.Max[1]-ix.box.Min[1])
		ix.mid = ix.Pole(size / 64).Center
	})
	return ix.mid
}

// deepAt reports whether p lies on the wanted side, farther than tol from the
// boundary.
func (ix *Index) deepAt(p orb.Point, tol float64, want Location) bool {
	return ix.Locate(p) == want && ix.BoundaryDistance(p) > tol
}

// boundaryDeeper looks along the edges of b, moved by shift.
func (ix *Index) boundaryDeeper(b *Index, shift orb.Point, tol float64, want Location) bool {
	for e, p := range b.pts {
		q := b.pts[b.next[e]]
		p, q := orb.Point{p[0] + shift[0], p[1] + shift[1]}, orb.Point{q[0] + shift[0], q[1] + shift[1]}
		for _, s := range ix.farStretches(p, q, tol) {
			mid := (s[0] + s[1]) / 2
			if ix.deepAt(orb.Point{p[0] + mid*(q[0]-p[0]), p[1] + mid*(q[1]-p[1])}, tol, want) {
				return true
			}
		}
	}
	return false
}

// farStretches returns the shares of the segment pq that lie farther than tol
// from the boundary: what the edges' tol-wide surroundings leave of [0, 1].
func (ix *Index) farStretches(p, q orb.Point, tol float64) [][2]float64 {
	var close [][2]float64
	for r, hi := ix.row(min(p[1], q[1])-tol), ix.row(max(p[1], q[1])+tol); r <= hi; r++ {
		for _, f := range ix.inRow(r) {
			s, t := ix.pts[f], ix.pts[ix.next[f]]
			if max(s[0], t[0])+tol < min(p[0], q[0]) || min(s[0], t[0])-tol > max(p[0], q[0]) {
				continue
			}
			if iv, ok := closeStretch(p, q, s, t, tol); ok {
				close = append(close, iv)
			}
		}
	}
	slices.SortFunc(close, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	var far [][2]float64
	at := 0.0
	for _, iv := range close {
		if iv[0] > at {
			far = append(far, [2]float64{at, iv[0]})
		}
		at = max(at, iv[1])
	}
	if at < 1 {
		far = append(far, [2]float64{at, 1})
	}
	return far
}

// closeStretch returns the shares of pq within tol of the segment st: one
// stretch, as the surroundings of a segment are convex.
func closeStretch(p, q, s, t orb.Point, tol float64) ([2]float64, bool) {
	iv := [2]float64{math.Inf(1), math.Inf(-1)}
	add := func(lo, hi float64) {
		lo, hi = max(lo, 0), min(hi, 1)
		if lo <= hi {
			iv[0], iv[1] = min(iv[0], lo), max(iv[1], hi)
		}
	}
	addDisc(p, q, s, tol, add)
	addDisc(p, q, t, tol, add)
	addBand(p, q, s, t, tol, add)
	return iv, iv[0] <= iv[1]
}

// addDisc adds the shares of pq in the disc around c.
func addDisc(p, q, c orb.Point, r float64, add func(lo, hi float64)) {
	dx, dy := q[0]-p[0], q[1]-p[1]
	len2 := dx*dx + dy*dy
	if len2 == 0 {
		if distance(p, c) <= r {
			add(0, 1)
		}
		return
	}
	foot := ((c[0]-p[0])*dx + (c[1]-p[1])*dy) / len2
	off := ((c[1]-p[1])*dx - (c[0]-p[0])*dy) / math.Sqrt(len2)
	if h2 := r*r - off*off; h2 >= 0 {
		h := math.Sqrt(h2 / len2)
		add(foot-h, foot+h)
	}
}

// addBand adds the shares of pq in the rectangle that reaches tol to either
// side of st.
func addBand(p, q, s, t orb.Point, tol float64, add func(lo, hi float64)) {
	l := distance(s, t)
	if l == 0 {
		return
	}
	ux, uy := (t[0]-s[0])/l, (t[1]-s[1])/l
	along := [2]float64{(p[0]-s[0])*ux + (p[1]-s[1])*uy, (q[0]-s[0])*ux + (q[1]-s[1])*uy}
	across := [2]float64{(p[1]-s[1])*ux - (p[0]-s[0])*uy, (q[1]-s[1])*ux - (q[0]-s[0])*uy}
	lo1, hi1 := shareBetween(along, 0, l)
	lo2, hi2 := shareBetween(across, -tol, tol)
	add(max(lo1, lo2), min(hi1, hi2))
}

// shareBetween returns the shares at which a value that runs evenly from v[0]
// to v[1] lies in [lo, hi]; an empty stretch has its end before its start.
func shareBetween(v [2]float64, lo, hi float64) (from, to float64) {
	d := v[1] - v[0]
	if d == 0 {
		if v[0] >= lo && v[0] <= hi {
			return 0, 1
		}
		return 1, 0
	}
	from, to = (lo-v[0])/d, (hi-v[0])/d
	if from > to {
		from, to = to, from
	}
	return max(from, 0), min(to, 1)
}
