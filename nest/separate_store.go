package nest

import (
	"math"
	"slices"
	"sync/atomic"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A sepStore holds what all lanes of a search share and none changes: the
// kinds, their forms and the tables of every pair of forms. Tables are built
// when first asked for; whoever builds one builds the same.
type sepStore struct {
	kinds  []sepKind
	forms  []sepForm
	gap    float64  // clearance between parts
	coarse float64  // how far outlines of many corners may grow
	edge   float64  // clearance to blocked zones
	allow  [][]bool // by ground, by form: whether its grain allows the form there
	rels   []sepRel // by form of the moved part × form of the standing one
	slots  []atomic.Pointer[sepTable]
	rel    []sepMatrix // relative turns met, for the slots
}

// A sepRel says how to ask the table about a moved form near a standing form:
// take the moved reference point relative to the standing one through m.
//
// A pair without a table has slot −1; its box holds in any turn.
type sepRel struct {
	m    sepMatrix
	slot int32
	box  sepBox // of the no-fit region, relative to the standing part
}

// around is the box of where a form that extends over ext meets b, with the gap.
func (b sepBox) around(ext sepBox, gap float64) sepBox {
	return sepBox{b.x0 - ext.x1 - gap, b.y0 - ext.y1 - gap, b.x1 - ext.x0 + gap, b.y1 - ext.y0 + gap}
}

// sepMostSums is how many convex sums a table may be made of.
const sepMostSums = 600

// tabled reports whether two forms have a table: both lie at listed angles, and
// one is turned against the other by quarters or their outlines are simple
// enough.
func (s *sepStore) tabled(i, j int) bool {
	f, g := &s.forms[i], &s.forms[j]
	a, b := &s.kinds[f.kind], &s.kinds[g.kind]
	if a.free || b.free {
		return false
	}
	return len(a.pieces)*len(b.pieces) <= sepMostSums || sepClean(f.rot.inverse().times(g.rot)).quarter()
}

// quarter reports whether the map takes the axes to the axes, and so the grid
// to the grid.
func (m sepMatrix) quarter() bool {
	return (m.xx == 0 && m.yy == 0) || (m.xy == 0 && m.yx == 0)
}

// loose is the relation of forms without a table; it sees to their bodies.
func (s *sepStore) loose(i, j int) sepRel {
	r := s.embody(s.forms[i].kind) + s.embody(s.forms[j].kind)
	r += s.clearance(s.forms[i].kind, s.forms[j].kind)
	return sepRel{slot: -1, box: sepBox{-r, -r, r, r}}
}

// embody makes a kind's body if it has none, and returns its radius.
func (s *sepStore) embody(kind int) float64 {
	k := &s.kinds[kind]
	if k.body == nil {
		k.body = sepNewBody(k.lean, k.pieces, k.hull, max(s.gap, s.edge))
	}
	return k.body.radius
}

// connect works out the relation of every pair of forms.
func (s *sepStore) connect() {
	n := len(s.forms)
	s.rels = make([]sepRel, n*n)
	slots := map[[2]int]map[sepMatrix]int32{}
	var count int32
	for i := range s.forms {
		for j := range s.forms {
			if !s.tabled(i, j) {
				s.rels[i*n+j] = s.loose(i, j)
				continue
			}
			r, key, turn := s.relation(i, j)
			byTurn := slots[key]
			if byTurn == nil {
				byTurn = map[sepMatrix]int32{}
				slots[key] = byTurn
			}
			id, ok := byTurn[turn]
			if !ok {
				id = count
				byTurn[turn] = id
				s.rel = append(s.rel, turn)
				count++
			}
			r.slot = id
			s.rels[i*n+j] = r
		}
	}
	s.slots = make([]atomic.Pointer[sepTable], count)
}

// relation of moved form i to standing form j. The table of two kinds is kept
// with the lower kind standing as drawn, so that forms with the same relative
// turn share one.
func (s *sepStore) relation(i, j int) (sepRel, [2]int, sepMatrix) {
	fi, fj := &s.forms[i], &s.forms[j]
	r := sepRel{box: fj.ext.around(fi.ext, s.clearance(fi.kind, fj.kind))}
	if fj.kind <= fi.kind {
		back := fj.rot.inverse()
		r.m = back
		return r, [2]int{fj.kind, fi.kind}, sepClean(back.times(fi.rot))
	}
	back := fi.rot.inverse()
	r.m = sepMatrix{-back.xx, -back.xy, -back.yx, -back.yy}
	return r, [2]int{fi.kind, fj.kind}, sepClean(back.times(fj.rot))
}

// clearance is how far two kinds must stay apart.
func (s *sepStore) clearance(a, b int) float64 {
	if s.kinds[a].zone || s.kinds[b].zone {
		return s.edge
	}
	return s.gap
}

// allowed reports whether a form may lie on a kind of sheet.
func (s *sepStore) allowed(form, ground int32) bool { return s.allow[ground][form] }

// sepClean rounds a relative turn so that equal turns reached on different
// ways are one map key, and −0 is 0.
func sepClean(m sepMatrix) sepMatrix {
	round := func(x float64) float64 {
		const steps = 1 << 40
		return float64(int64(x*steps+copysignHalf(x))) / steps
	}
	return sepMatrix{round(m.xx), round(m.xy), round(m.yx), round(m.yy)}
}

func copysignHalf(x float64) float64 {
	if x < 0 {
		return -0.5
	}
	return 0.5
}

// table returns the table of a relation, building it when nobody has.
func (s *sepStore) table(i, j int) *sepTable {
	n := len(s.forms)
	slot := &s.slots[s.rels[i*n+j].slot]
	if t := slot.Load(); t != nil {
		return t
	}
	_, key, turn := s.relation(i, j)
	a, b := &s.kinds[key[0]], &s.kinds[key[1]]
	t := sepPairTable(a, b, turn, s.clearance(key[0], key[1]))
	slot.Store(t)
	return t
}

// sepPairTable makes the table of b, turned, around a.
func sepPairTable(a, b *sepKind, turn sepMatrix, gap float64) *sepTable {
	if !turn.quarter() {
		return sepNewTable(a.pieces, sepTurned(b.pieces, turn), gap)
	}
	return sepTableOf(a.lean, sepTurned(b.lean, turn), gap, func() []sepSum {
		return sepSums(a.pieces, sepTurned(b.pieces, turn))
	})
}

func sepTurned(pieces []orb.Ring, m sepMatrix) []orb.Ring {
	flip := m.xx*m.yy-m.xy*m.yx < 0
	out := make([]orb.Ring, len(pieces))
	for i, r := range pieces {
		out[i] = make(orb.Ring, len(r))
		for j, p := range r {
			x, y := m.apply(p[0], p[1])
			out[i][j] = orb.Point{x, y}
		}
		if flip {
			slices.Reverse(out[i])
		}
	}
	return out
}

// sepNewStore prepares a problem's parts and blocked zones.
func sepNewStore(p Problem) (*sepStore, error) {
	s := &sepStore{gap: p.Spacing, edge: p.Margin}
	grains := grainsOf(p)
	s.coarse = sepCoarseness * sepGroundSize(p)
	for i, part := range p.Parts {
		k, err := sepNewKind(i, part.Outline, s.coarse)
		if err != nil {
			return nil, err
		}
		k.free = sepFreeAngle(part, grains)
		s.add(k, sepTurnsOf(&k, part, grains), part.Grain != nil)
	}
	s.permit(p)
	for i := range p.Sheets {
		if err := s.addZones(i, p.Sheets[i]); err != nil {
			return nil, err
		}
	}
	s.connect()
	return s, nil
}

// add appends a kind with its forms. Turns in which the outline lies alike are
// one form, unless a grain tells them apart.
func (s *sepStore) add(k sepKind, turns []Turn, grained bool) {
	k.form0 = len(s.forms)
	for _, t := range turns {
		f := sepNewForm(len(s.kinds), &k, t)
		if same := s.alike(&k, f); same >= 0 && !grained {
			s.forms[same].also = append(s.forms[same].also, t)
			continue
		}
		s.forms = append(s.forms, f)
	}
	k.forms = len(s.forms) - k.form0
	s.kinds = append(s.kinds, k)
}

// alike finds a form of the kind under way in which the outline lies as in f,
// or −1.
func (s *sepStore) alike(k *sepKind, f sepForm) int {
	for i := k.form0; i < len(s.forms); i++ {
		if g := &s.forms[i]; g.ext.alike(f.ext) && sepAlike(k.lean, g.rot, f.rot) {
			return i
		}
	}
	return -1
}

func (b sepBox) alike(c sepBox) bool {
	return math.Abs(b.x0-c.x0) <= sepSeam && math.Abs(b.y0-c.y0) <= sepSeam &&
		math.Abs(b.x1-c.x1) <= sepSeam && math.Abs(b.y1-c.y1) <= sepSeam
}

// sepAlike reports whether a polygon turned by two maps is the same: ring by
// ring, the same corners and the same middles of sides.
func sepAlike(poly orb.Polygon, m, n sepMatrix) bool {
	for _, ring := range poly {
		a, b := sepMarks(ring, m), sepMarks(ring, n)
		for _, p := range b {
			if !slices.ContainsFunc(a, func(q orb.Point) bool {
				return math.Abs(q[0]-p[0]) <= sepSeam && math.Abs(q[1]-p[1]) <= sepSeam
			}) {
				return false
			}
		}
	}
	return true
}

// sepMarks lists a turned ring's corners and the middles of its sides.
func sepMarks(ring orb.Ring, m sepMatrix) []orb.Point {
	var out []orb.Point
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		for _, r := range [2]orb.Point{p, {(p[0] + q[0]) / 2, (p[1] + q[1]) / 2}} {
			x, y := m.apply(r[0], r[1])
			out = append(out, orb.Point{x, y})
		}
	}
	return out
}

// sepAllTurns lists the turns that any of the grains allows.
func sepAllTurns(part Part, grains []*float64) []Turn {
	var all []Turn
	for _, g := range grains {
		for _, t := range Turns(part, g) {
			all = appendTurn(all, t)
		}
	}
	return all
}

// sepCoarseness is how far, as a share of the size of the sheet, an outline of
// many corners may grow when it is simplified: two parts that touch lose at
// most twice that, which is half of the loss of 1e-4 that we allow ourselves.
const sepCoarseness = 2.5e-5

// sepGroundSize is the extent of the smallest sheet, or the strip's width.
func sepGroundSize(p Problem) float64 {
	if p.StripWidth > 0 {
		return p.StripWidth
	}
	size := math.Inf(1)
	for _, sh := range p.Sheets {
		b := geom.Bounds(sh.Outline)
		size = min(size, max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]))
	}
	return size
}

// sepFreeAngle reports whether a part may lie at any angle wherever it lies.
func sepFreeAngle(part Part, grains []*float64) bool {
	if !part.FreeAngle {
		return false
	}
	for _, g := range grains {
		if g != nil && part.Grain != nil {
			return false
		}
	}
	return true
}

// sepTurnsOf lists the turns of a kind's forms; a free kind has one form a side.
func sepTurnsOf(k *sepKind, part Part, grains []*float64) []Turn {
	switch {
	case !k.free:
		return sepAllTurns(part, grains)
	case part.Mirror:
		return []Turn{{}, {Mirror: true}}
	}
	return []Turn{{}}
}

// permit notes which forms each kind of sheet allows.
func (s *sepStore) permit(p Problem) {
	var grains []*float64
	if p.StripWidth > 0 {
		grains = grainsOf(p)
	}
	for i := range p.Sheets {
		grains = append(grains, p.Sheets[i].Grain)
	}
	for _, g := range grains {
		allow := make([]bool, len(s.forms))
		for i := range s.kinds {
			k := &s.kinds[i]
			for f, form := range s.forms[k.form0 : k.form0+k.forms] {
				allow[k.form0+f] = k.free || slices.Contains(Turns(p.Parts[k.part], g), form.turn)
			}
		}
		s.allow = append(s.allow, allow)
	}
}
