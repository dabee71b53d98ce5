package nest

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A latTurned is a cell turned to lie on a sheet: every copy of its motif is a
// form of the part that the sheet allows.
type latTurned struct {
	u, v  orb.Point
	at    []orb.Point
	form  []int32
	angle []float64
	ext   []sepBox
}

// latCells finds the densest cell of every motif that the turns allow, densest
// first. An outline of many convex pieces is searched with in a simpler form,
// which contains it, and the best cells are tightened in full.
func latCells(k *sepKind, turns []Turn, most int, gap float64, seed uint64) []latCell {
	return latCellsIn(k, turns, most, gap, seed, latAnyhow)
}

// latRowStarts is latStarts for rows of a given direction, which leave less to
// search.
const latRowStarts = 24

func latCellsIn(k *sepKind, turns []Turn, most int, gap float64, seed uint64, rows latRows) []latCell {
	coarse, starts := k.coarser(), latStarts
	if rows != latAnyhow {
		starts = latRowStarts
	}
	var cells []latCell
	for i, motif := range latMotifs(turns, max(1, most)) {
		rng := rand.New(rand.NewPCG(seed, uint64(i)+1+uint64(rows)<<32))
		cells = append(cells, latSearch(latNewMotif(&coarse, motif, gap), rows, rng, starts*len(motif))...)
	}
	latSort(cells)
	cells = cells[:min(len(cells), latKeptCells)]
	if len(coarse.pieces) == len(k.pieces) || len(k.pieces) > latFinePieces {
		return cells
	}
	var t latTightener
	for i := range cells {
		cells[i].latMotif = latNewMotif(k, cells[i].turns, gap)
		t.tighten(&cells[i])
	}
	latSort(cells)
	return cells
}

func latSort(cells []latCell) {
	slices.SortStableFunc(cells, func(a, b latCell) int { return cmp.Compare(b.density(), a.density()) })
}

const (
	latCoarsePieces = 12    // convex pieces above which an outline is simplified
	latFinePieces   = 80    // convex pieces up to which cells are tightened in full
	latCoarseness   = 0.004 // how far, as a share of its size, a simpler outline may grow
)

// coarser returns the kind with an outline of fewer pieces that contains it.
func (k *sepKind) coarser() sepKind {
	c := *k
	for tol := k.size * latCoarseness; len(c.pieces) > latCoarsePieces && tol < k.size/8; tol *= 2 {
		c.lean = geom.SimplifyOutwardWithin(k.lean, geom.PolygonLength(k.lean)*tol/k.area, tol)
		c.pieces = geom.ConvexPieces(c.lean)
		c.hull = geom.ConvexHull(c.lean[0])
	}
	return c
}

// latKeptCells is how many cells are tried on a sheet: a looser one may meet
// its edges better.
const latKeptCells = 8

// turned returns the cell turned by an angle, or false when that gives a copy a
// turn that the ground does not allow.
func (c *latCell) turned(s *sepStore, kind int, ground int32, deg float64) (latTurned, bool) {
	m := sepTurnMatrix(Turn{AngleDeg: deg})
	t := latTurned{u: latApply(m, c.u), v: latApply(m, c.v)}
	for i, turn := range c.turns {
		turn.AngleDeg = turn.AngleDeg + deg
		form, angle, ok := s.formOf(kind, turn)
		if !ok || !s.allowed(form, ground) {
			return t, false
		}
		_, ext := s.lie(form, angle)
		t.at = append(t.at, latApply(m, c.at[i]))
		t.form, t.angle, t.ext = append(t.form, form), append(t.angle, angle), append(t.ext, ext)
	}
	return t, true
}

func latApply(m sepMatrix, p orb.Point) orb.Point {
	x, y := m.apply(p[0], p[1])
	return orb.Point{x, y}
}

// formOf finds the form of a kind for a turn, and its angle where it is free.
func (s *sepStore) formOf(kind int, t Turn) (form int32, angle float64, ok bool) {
	k := &s.kinds[kind]
	angle = sepSnapAngle(t.AngleDeg)
	for i := k.form0; i < k.form0+k.forms; i++ {
		f := &s.forms[i]
		if f.is(angle, t.Mirror) {
			return int32(i), angle, true
		}
	}
	return 0, 0, false
}

// latAngles lists the angles to turn a cell by: those between turns that the
// part may have, and, for a part that may lie at any angle, those that lay the
// lattice's short vectors along the sheet's edges and some in between.
func latAngles(s *sepStore, kind int, c *latCell) []float64 {
	k := &s.kinds[kind]
	var list []float64
	add := func(deg float64) {
		deg = sepSnapAngle(deg)
		if !slices.Contains(list, deg) {
			list = append(list, deg)
		}
	}
	if !k.free {
		for _, f := range s.forms[k.form0 : k.form0+k.forms] {
			if f.turn.Mirror == c.turns[0].Mirror {
				add(f.turn.AngleDeg - c.turns[0].AngleDeg)
			}
		}
		return list
	}
	for _, w := range []orb.Point{c.u, c.v, {c.u[0] + c.v[0], c.u[1] + c.v[1]}, {c.u[0] - c.v[0], c.u[1] - c.v[1]}} {
		deg := math.Atan2(w[1], w[0]) * 180 / math.Pi
		add(-deg)
		add(90 - deg)
	}
	for n := range latFreeAngles {
		add(float64(n) * 180 / latFreeAngles)
	}
	return list
}

// latFreeAngles is how many evenly spread angles are tried besides.
const latFreeAngles = 18

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
	f := b.inside(t.ext[k])
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

// picks lists the copies inside the box as poses.
func (t *latTurned) picks(b sepBox, o orb.Point, sheet int32) []sepPick {
	var out []sepPick
	for k := range t.at {
		t.rows(b, k, o, func(x, y float64, from, to int) {
			for i := from; i <= to; i++ {
				out = append(out, sepPick{
					form: t.form[k], angle: t.angle[k], sheet: sheet,
					x: x + float64(i)*t.u[0], y: y + float64(i)*t.u[1],
				})
			}
		})
	}
	return out
}
