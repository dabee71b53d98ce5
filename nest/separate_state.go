package nest

// A sepBox is an axis-parallel rectangle.
type sepBox struct{ x0, y0, x1, y1 float64 }

// A sepPlan is where every item is: one entry per copy, blocked zones last.
type sepPlan struct {
	form  []int32
	sheet []int32
	x, y  []float64 // reference points
	boxes []sepBox  // by sheet: where material may lie
}

func (p *sepPlan) clone() sepPlan {
	return sepPlan{
		form:  append([]int32(nil), p.form...),
		sheet: append([]int32(nil), p.sheet...),
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
	p.x = append(p.x[:0], q.x...)
	p.y = append(p.y[:0], q.y...)
	p.boxes = append(p.boxes[:0], q.boxes...)
}

// inner returns where the reference point of a form may be on a sheet.
func (s *sepStore) inner(b sepBox, form int32) sepBox {
	f := &s.forms[form]
	return sepBox{b.x0 - f.x0, b.y0 - f.y0, b.x1 - f.x1, b.y1 - f.y1}
}

// A sepState is a layout in which parts may overlap, with the depth and the
// weight of every pair. Depths are symmetric and both halves are kept.
type sepState struct {
	sepPlan
	store  *sepStore
	n      int       // items
	free   int       // items below this index move, the others are blocked zones
	depth  []float32 // n × n
	weight []float32 // n × n
	scale  []float32 // by item: how much its size counts
	work   int64     // lookups and samples so far
}

func sepNewState(store *sepStore, plan sepPlan, free int) *sepState {
	n := len(plan.form)
	s := &sepState{sepPlan: plan.clone(), store: store, n: n, free: free}
	s.depth = make([]float32, n*n)
	s.weight = make([]float32, n*n)
	s.scale = make([]float32, n)
	for i := range n {
		s.scale[i] = sepScale(store.kinds[store.forms[plan.form[i]].kind].size)
	}
	s.calm()
	s.measure()
	return s
}

// calm forgets all weights.
func (s *sepState) calm() {
	for i := range s.weight {
		s.weight[i] = 1
	}
}

// measure works all depths out afresh.
func (s *sepState) measure() {
	for i := range s.n {
		for j := range i {
			s.setDepth(i, j, s.pairDepth(i, j))
		}
	}
}

// remeasure works out the depths of one item.
func (s *sepState) remeasure(i int) {
	for j := range s.n {
		if j != i {
			s.setDepth(i, j, s.pairDepth(i, j))
		}
	}
}

func (s *sepState) setDepth(i, j int, d float64) {
	s.depth[i*s.n+j] = float32(d)
	s.depth[j*s.n+i] = float32(d)
}

// pairDepth is how deep two items run into each other; depths that the grid
// cannot tell from touching count as none.
func (s *sepState) pairDepth(i, j int) float64 {
	if s.sheet[i] != s.sheet[j] || (i >= s.free && j >= s.free) {
		return 0
	}
	fi, fj := int(s.form[i]), int(s.form[j])
	r := &s.store.rels[fi*len(s.store.forms)+fj]
	dx, dy := s.x[i]-s.x[j], s.y[i]-s.y[j]
	if dx <= r.x0 || dx >= r.x1 || dy <= r.y0 || dy >= r.y1 {
		return 0
	}
	s.work++
	mx, my := r.m.apply(dx, dy)
	d := s.store.table(fi, fj).depth(mx, my)
	if d <= sepTouch {
		return 0
	}
	return d
}

// loss is the sum of all scaled depths, without weights.
func (s *sepState) loss() float64 {
	sum := 0.0
	for i := range s.free {
		row := s.depth[i*s.n : i*s.n+s.n]
		for j, d := range row {
			if d > 0 && (j > i || j >= s.free) {
				sum += float64(d * s.scale[i] * s.scale[j])
			}
		}
	}
	return sum
}

// itemLoss is the weighted loss of one item.
func (s *sepState) itemLoss(i int) float64 {
	sum := 0.0
	row, w := s.depth[i*s.n:i*s.n+s.n], s.weight[i*s.n:i*s.n+s.n]
	for j, d := range row {
		if d > 0 {
			sum += float64(d * w[j] * s.scale[i] * s.scale[j])
		}
	}
	return sum
}
