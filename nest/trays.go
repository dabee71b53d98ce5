package nest

// trays turns placing orders into layouts on sheets: each unit goes to the
// first sheet, in the order they are opened, on which it fits, and the next
// sheet of the opening order is opened when it fits on none. Like stripDecoder
// it resumes where an order parts from the one before.
type trays struct {
	pre    *prepared
	nos    *nofits
	units  []unit
	clip   *clipper
	plan   []int32  // ground to open first, second, …
	fields []*field // by position in the plan; kept for reuse
	opened int
	genes  []gene
	log    []trayStep
	count  int64
}

// trayStep is what became of one gene.
type trayStep struct {
	field  int32 // position in the plan, or -1 when the unit found no place
	copies int32
	opened int32 // sheets open before it
}

func newTrays(pre *prepared, nos *nofits, units []unit, plan []int32) *trays {
	return &trays{pre: pre, nos: nos, units: units, plan: plan, clip: &clipper{}}
}

// decode places the genes in order. It gives up, with ok false, when more than
// limit sheets would be opened; units that fit on none are left out and counted.
func (t *trays) decode(genes []gene, limit int) (left int, ok bool) {
	n := 0
	for n < len(genes) && n < len(t.genes) && genes[n] == t.genes[n] {
		n++
	}
	t.rollback(n)
	for _, g := range genes[n:] {
		t.place(g)
		if t.opened > limit {
			return 0, false
		}
	}
	t.count++
	for _, st := range t.log {
		if st.field < 0 {
			left++
		}
	}
	return left, true
}

// rollback takes genes back until n are left.
func (t *trays) rollback(n int) {
	for len(t.genes) > n {
		last := len(t.genes) - 1
		st := t.log[last]
		if st.field >= 0 {
			fd := t.fields[st.field]
			fd.rollback(len(fd.placed) - int(st.copies))
		}
		t.opened = int(st.opened)
		t.genes, t.log = t.genes[:last], t.log[:last]
	}
}

// place puts one gene's unit on the first sheet that takes it.
func (t *trays) place(g gene) {
	st := trayStep{field: -1, opened: int32(t.opened)}
	u := &t.units[g.kind]
	for i := 0; i < len(t.plan); i++ {
		fresh := i >= t.opened
		if fresh && t.sameAsLast(i) {
			continue // an equal empty sheet has just refused it
		}
		if t.at(i).placeUnit(u, g.turn) {
			st.field, st.copies = int32(i), int32(len(u.kinds))
			t.opened = max(t.opened, i+1)
			break
		}
	}
	t.genes = append(t.genes, g)
	t.log = append(t.log, st)
}

// sameAsLast tells whether sheet i of the plan is of the kind of the one before
// and both are unopened.
func (t *trays) sameAsLast(i int) bool {
	return i > t.opened && t.plan[i] == t.plan[i-1]
}

// at is the field at a position of the plan.
func (t *trays) at(i int) *field {
	for len(t.fields) <= i {
		t.fields = append(t.fields, nil)
	}
	g := &t.pre.grounds[t.plan[i]]
	if t.fields[i] == nil || t.fields[i].ground != g {
		t.fields[i] = newField(t.pre, t.nos, g, t.clip)
	}
	return t.fields[i]
}

// placeOn places all copies of a unit on one field, or none.
func (fd *field) placeUnit(u *unit, turn int32) bool {
	if u.area > fd.ground.room-fd.usedArea() {
		return false
	}
	if len(u.kinds) > 1 {
		turn = AnyTurn
	}
	before := len(fd.placed)
	for _, k := range u.kinds {
		at, ok := fd.spot(k, turn)
		if !ok {
			fd.rollback(before)
			return false
		}
		fd.place(at)
	}
	return true
}

// layouts reports the sheets that hold something.
func (t *trays) layouts() []Layout {
	var out []Layout
	for _, fd := range t.fields[:min(t.opened, len(t.fields))] {
		if fd != nil && len(fd.placed) > 0 {
			out = append(out, fd.layout())
		}
	}
	return out
}
