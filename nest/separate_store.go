package nest

import (
	"slices"
	"sync/atomic"

	"github.com/paulmach/orb"
)

// A sepStore holds what all lanes of a search share and none changes: the
// kinds, their forms and the tables of every pair of forms. Tables are built
// when first asked for; whoever builds one builds the same.
type sepStore struct {
	kinds []sepKind
	forms []sepForm
	gap   float64  // clearance between parts
	edge  float64  // clearance to blocked zones
	allow [][]bool // by ground, by form: whether its grain allows the form there
	rels  []sepRel // by form of the moved part × form of the standing one
	slots []atomic.Pointer[sepTable]
	rel   []sepMatrix // relative turns met, for the slots
}

// A sepRel says how to ask the table about a moved form near a standing form:
// take the moved reference point relative to the standing one through m.
type sepRel struct {
	m              sepMatrix
	slot           int32
	x0, y0, x1, y1 float64 // box of the no-fit region, relative to the standing part
}

// connect works out the relation of every pair of forms.
func (s *sepStore) connect() {
	n := len(s.forms)
	s.rels = make([]sepRel, n*n)
	slots := map[[2]int]map[sepMatrix]int32{}
	var count int32
	for i := range s.forms {
		for j := range s.forms {
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
	gap := s.clearance(fi.kind, fj.kind)
	r := sepRel{
		x0: fj.x0 - fi.x1 - gap, y0: fj.y0 - fi.y1 - gap,
		x1: fj.x1 - fi.x0 + gap, y1: fj.y1 - fi.y0 + gap,
	}
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
	t := sepNewTable(a.pieces, sepTurned(b.pieces, turn), s.clearance(key[0], key[1]))
	slot.Store(t)
	return t
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
	for i, part := range p.Parts {
		k, err := sepNewKind(i, part.Outline)
		if err != nil {
			return nil, err
		}
		s.add(k, sepAllTurns(part, grains))
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

// add appends a kind with its forms.
func (s *sepStore) add(k sepKind, turns []Turn) {
	k.form0, k.forms = len(s.forms), len(turns)
	for _, t := range turns {
		s.forms = append(s.forms, sepNewForm(len(s.kinds), &k, t))
	}
	s.kinds = append(s.kinds, k)
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
				allow[k.form0+f] = slices.Contains(Turns(p.Parts[k.part], g), form.turn)
			}
		}
		s.allow = append(s.allow, allow)
	}
}
