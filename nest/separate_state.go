package nest

// A sepBox is an axis-parallel rectangle.
type sepBox struct{ x0, y0, x1, y1 float64 }

// A sepPlan is where every item is: one entry per copy, blocked zones last.
type sepPlan struct {
	form  []int32
	sheet []int32
	angle []float64 // degrees; counts for free forms only
	x, y  []float64 // reference points
	boxes []sepBox  // by sheet: where material may lie
}

// A sepCast says what the items are; it stays the same all through a search.
type sepCast struct {
	kind   []int32 // by item
	kit    []int32 // by item: the kit it belongs to, or −1
	free   int     // items below this index move, the others are blocked zones
	ground []int32 // by sheet: its kind of sheet
}

// bound reports whether an item may not change sheets on its own.
func (c *sepCast) bound(i int) bool { return c.kit[i] >= 0 }

func (p *sepPlan) clone() sepPlan {
	return sepPlan{
		form:  append([]int32(nil), p.form...),
		sheet: append([]int32(nil), p.sheet...),
		angle: append([]float64(nil), p.angle...),
		x:     append([]float64(nil), p.x...),
		y:     append([]float64(nil), p.y...),
		boxes: append([]sepBox(nil), p.boxes...),
	}
}

// assign makes p equal to q without sharing memory, and without new memory when
// p has enough.
func (p *sepPlan) assign(q *sepPlan) {
	p.form = append(p.form[:0], q.form...)
	p.sheet = append(p.sheet[:0], q.sheet...)
	p.angle = append(p.angle[:0], q.angle...)
	p.x = append(p.x[:0], q.x...)
	p.y = append(p.y[:0], q.y...)
	p.boxes = append(p.boxes[:0], q.boxes...)
}

// inside returns where the reference point of a form that extends over ext may
// be in a box.
func (b sepBox) inside(ext sepBox) sepBox {
	return sepBox{b.x0 - ext.x0, b.y0 - ext.y0, b.x1 - ext.x1, b.y1 - ext.y1}
}

// holds reports whether there is any such place.
func (b sepBox) holds(ext sepBox) bool {
	f := b.inside(ext)
	return f.x1 >= f.x0 && f.y1 >= f.y0
}

// A sepState is a layout in which parts may overlap, with the depth and the
// weight of every pair. Depths are symmetric and both halves are kept; pairs on
// different sheets have none, and their weights rest.
type sepState struct {
	sepPlan
	*sepCast
	store  *sepStore
	n      int         // items
	scale  []float32   // by item: how much its size counts
	rot    []sepMatrix // by item
	ext    []sepBox    // by item: its extent about the reference point
	depth  []float32   // n × n
	weight []float32   // n × n
	on     [][]int32   // by sheet: its items
	at     []int32     // by item: its index in on
	work   int64       // lookups and samples so far
}

func sepNewState(store *sepStore, cast *sepCast, plan sepPlan) *sepState {
	n := len(plan.form)
	s := &sepState{store: store, sepCast: cast, n: n}
	s.scale = make([]float32, n)
	s.depth = make([]float32, n*n)
	s.weight = make([]float32, n*n)
	s.at = make([]int32, n)
	s.rot = make([]sepMatrix, n)
	s.ext = make([]sepBox, n)
	for i := range n {
		s.scale[i] = sepScale(store.kinds[cast.kind[i]].size)
	}
	s.calm()
	s.adopt(&plan)
	return s
}

// adopt replaces the layout by another of the same items.
func (s *sepState) adopt(p *sepPlan) {
	s.sepPlan.assign(p)
	for i := range s.n {
		s.rot[i], s.ext[i] = s.store.lie(s.form[i], s.angle[i])
	}
	s.sort()
	s.measure()
}

// sort lists every sheet's items.
func (s *sepState) sort() {
	for len(s.on) < len(s.boxes) {
		s.on = append(s.on, nil)
	}
	for k := range s.on {
		s.on[k] = s.on[k][:0]
	}
	for i, k := range s.sheet {
		s.enlist(i, k)
	}
}

func (s *sepState) enlist(i int, sheet int32) {
	s.sheet[i] = sheet
	s.at[i] = int32(len(s.on[sheet]))
	s.on[sheet] = append(s.on[sheet], int32(i))
}

func (s *sepState) delist(i int) {
	list := s.on[s.sheet[i]]
	last := list[len(list)-1]
	list[s.at[i]] = last
	s.at[last] = s.at[i]
	s.on[s.sheet[i]] = list[:len(list)-1]
}

// calm forgets all weights.
func (s *sepState) calm() {
	for i := range s.weight {
		s.weight[i] = 1
	}
}

// measure works all depths out afresh.
func (s *sepState) measure() {
	clear(s.depth)
	for _, list := range s.on {
		for a, i := range list {
			for _, j := range list[:a] {
				s.setDepth(int(i), int(j), s.pairDepth(int(i), int(j)))
			}
		}
	}
}

// put gives an item a pose and works its depths out.
func (s *sepState) put(i int, p sepPick) {
	if p.sheet != s.sheet[i] {
		for _, j := range s.on[s.sheet[i]] {
			s.setDepth(i, int(j), 0)
		}
		s.delist(i)
		s.enlist(i, p.sheet)
	}
	s.turn(i, p.form, p.angle)
	s.x[i], s.y[i] = p.x, p.y
	for _, j := range s.on[p.sheet] {
		if int(j) != i {
			s.setDepth(i, int(j), s.pairDepth(i, int(j)))
		}
	}
}

// turn gives an item a form and an angle.
func (s *sepState) turn(i int, form int32, angle float64) {
	s.form[i], s.angle[i] = form, angle
	s.rot[i], s.ext[i] = s.store.lie(form, angle)
}

func (s *sepState) setDepth(i, j int, d float64) {
	s.depth[i*s.n+j] = float32(d)
	s.depth[j*s.n+i] = float32(d)
}

// pairDepth is how deep two items on one sheet run into each other; depths that
// the grid cannot tell from touching count as none.
func (s *sepState) pairDepth(i, j int) float64 {
	if i >= s.free && j >= s.free {
		return 0
	}
	fi, fj := int(s.form[i]), int(s.form[j])
	r := &s.store.rels[fi*len(s.store.forms)+fj]
	dx, dy := s.x[i]-s.x[j], s.y[i]-s.y[j]
	if dx <= r.box.x0 || dx >= r.box.x1 || dy <= r.box.y0 || dy >= r.box.y1 {
		return 0
	}
	s.work++
	d := 0.0
	if r.slot >= 0 {
		mx, my := r.m.apply(dx, dy)
		d = s.store.table(fi, fj).depth(mx, my)
	} else {
		d = s.bodyDepth(i, j, dx, dy)
	}
	if d <= sepTouch {
		return 0
	}
	return d
}

// bodyDepth is pairDepth for a pair without a table.
func (s *sepState) bodyDepth(i, j int, dx, dy float64) float64 {
	s.work += sepPinWork
	a, b := s.kindOf(j).body, s.kindOf(i).body
	back := s.rot[j].inverse()
	link := sepLink{m: back.times(s.rot[i])}
	link.x, link.y = back.apply(dx, dy)
	gap := s.store.clearance(int(s.kind[i]), int(s.kind[j]))
	if d := sepPinned(a, b, link, gap); d > sepTouch {
		return d
	}
	s.work += sepPinWork
	return sepClash(a, b, link, gap)
}

// sepPinWork is how many lookups the pins of a pair count for.
const sepPinWork = 12

// loss is the sum of all scaled depths, without weights.
func (s *sepState) loss() float64 {
	sum := 0.0
	for i := range s.free {
		row, scale := s.depth[i*s.n:i*s.n+s.n], s.scale[i]
		for _, j := range s.on[s.sheet[i]] {
			if d := row[j]; d > 0 && (int(j) > i) {
				sum += float64(d * scale * s.scale[j])
			}
		}
	}
	return sum
}

// itemLoss is the weighted loss of one item.
func (s *sepState) itemLoss(i int) float64 {
	sum := 0.0
	row, w := s.depth[i*s.n:i*s.n+s.n], s.weight[i*s.n:i*s.n+s.n]
	for _, j := range s.on[s.sheet[i]] {
		if d := row[j]; d > 0 {
			sum += float64(d * w[j] * s.scale[j])
		}
	}
	return sum * float64(s.scale[i])
}

func (s *sepState) collides(i int) bool {
	row := s.depth[i*s.n : i*s.n+s.n]
	for _, j := range s.on[s.sheet[i]] {
		if row[j] > 0 {
			return true
		}
	}
	return false
}

func (s *sepState) kindOf(i int) *sepKind { return &s.store.kinds[s.kind[i]] }

// confine moves an item into its sheet's box.
func (s *sepState) confine(i int) {
	f := s.boxes[s.sheet[i]].inside(s.ext[i])
	s.x[i] = max(min(s.x[i], f.x1), f.x0)
	s.y[i] = max(min(s.y[i], f.y1), f.y0)
}
