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
	gap   float64
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

func sepSortPoints(pts orb.Ring) {
	slices.SortFunc(pts, func(a, b orb.Point) int {
		switch {
		case a[0] < b[0] || (a[0] == b[0] && a[1] < b[1]):
			return -1
		case a == b:
			return 0
		}
		return 1
	})
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
	r := sepRel{
		x0: fj.x0 - fi.x1 - s.gap, y0: fj.y0 - fi.y1 - s.gap,
		x1: fj.x1 - fi.x0 + s.gap, y1: fj.y1 - fi.y0 + s.gap,
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
	t := sepNewTable(a.pieces, sepTurned(b.pieces, turn), s.gap)
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

// sepNewStore prepares a problem's parts.
func sepNewStore(p Problem) (*sepStore, error) {
	s := &sepStore{gap: p.Spacing}
	for i, part := range p.Parts {
		k, err := sepNewKind(i, part.Outline)
		if err != nil {
			return nil, err
		}
		k.form0 = len(s.forms)
		for _, t := range Turns(part, nil) {
			s.forms = append(s.forms, sepNewForm(i, &k, t))
		}
		k.forms = len(s.forms) - k.form0
		s.kinds = append(s.kinds, k)
	}
	s.connect()
	return s, nil
}
