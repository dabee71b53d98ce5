package nest

import "math/bits"

// sepSlots is how many columns and rows a probe cuts its field into.
const sepSlots = 64

// A sepProbe prices candidate poses of one item in one form on one sheet
// against all others. Each neighbour within reach has a bit; a column and a row
// of the field give the neighbours whose no-fit boxes meet them, and the common
// bits are looked up.
type sepProbe struct {
	field  sepBox // where the reference point may be
	kx, ky float64
	words  int
	cols   []uint64 // sepSlots × words
	rows   []uint64
	near   []sepNearby
	form   int32
	sheet  int32
	angle  float64
	body   *sepBody
}

// A sepNearby is one neighbour with all that a lookup needs.
type sepNearby struct {
	t      *sepTable
	m      sepMatrix // from the sheet's frame to the one asked in
	x, y   float64
	weight float64
	item   int32
	tabled bool
	link   sepMatrix // without a table: how the item is turned in the neighbour's frame
	body   *sepBody
	gap    float64
}

// aim readies the probe for item i in a form, at an angle, on a sheet; an i
// below 0 is an item that is not in the layout yet.
func (p *sepProbe) aim(s *sepState, i int, form int32, angle float64, sheet int32) {
	p.form, p.angle, p.sheet = form, angle, sheet
	kind := s.store.forms[form].kind
	p.body = s.store.kinds[kind].body
	rot, ext := s.store.lie(form, angle)
	p.field = s.boxes[sheet].inside(ext)
	p.kx = sepPerSlot(p.field.x1 - p.field.x0)
	p.ky = sepPerSlot(p.field.y1 - p.field.y0)
	p.near = p.near[:0]
	p.clear(len(s.on[sheet]))
	nf := len(s.store.forms)
	rels := s.store.rels[int(form)*nf : int(form)*nf+nf]
	for _, j := range s.on[sheet] {
		if int(j) == i {
			continue
		}
		r := &rels[s.form[j]]
		box := r.box
		if r.slot < 0 {
			box = s.ext[j].around(ext, s.store.clearance(kind, int(s.kind[j])))
		}
		box = sepBox{box.x0 + s.x[j], box.y0 + s.y[j], box.x1 + s.x[j], box.y1 + s.y[j]}
		if box.x1 <= p.field.x0 || box.x0 >= p.field.x1+sepTouch || box.y1 <= p.field.y0 || box.y0 >= p.field.y1+sepTouch {
			continue
		}
		p.mark(len(p.near), box)
		p.near = append(p.near, s.nearby(i, kind, int(j), r, rot))
	}
}

func (s *sepState) nearby(i, kind, j int, r *sepRel, rot sepMatrix) sepNearby {
	n := sepNearby{m: r.m, x: s.x[j], y: s.y[j], weight: 1, item: int32(j), tabled: r.slot >= 0}
	if i >= 0 {
		n.weight = float64(s.weight[i*s.n+j] * s.scale[i] * s.scale[j])
	}
	if n.tabled {
		n.t = s.store.slots[r.slot].Load()
		return n
	}
	n.m = s.rot[j].inverse()
	n.link = n.m.times(rot)
	n.body = s.kindOf(j).body
	n.gap = s.store.clearance(kind, int(s.kind[j]))
	return n
}

func sepPerSlot(length float64) float64 {
	if length <= 0 {
		return 0
	}
	return sepSlots / length
}

func (p *sepProbe) clear(n int) {
	p.words = (n + 63) / 64
	size := sepSlots * p.words
	if cap(p.cols) < size {
		p.cols, p.rows = make([]uint64, size), make([]uint64, size)
	}
	p.cols, p.rows = p.cols[:size], p.rows[:size]
	clear(p.cols)
	clear(p.rows)
}

func (p *sepProbe) mark(k int, box sepBox) {
	word, bit := k>>6, uint64(1)<<(k&63)
	for c, end := sepSlot((box.x0-p.field.x0)*p.kx), sepSlot((box.x1-p.field.x0)*p.kx); c <= end; c++ {
		p.cols[c*p.words+word] |= bit
	}
	for c, end := sepSlot((box.y0-p.field.y0)*p.ky), sepSlot((box.y1-p.field.y0)*p.ky); c <= end; c++ {
		p.rows[c*p.words+word] |= bit
	}
}

func sepSlot(f float64) int {
	if f <= 0 {
		return 0
	}
	return min(int(f), sepSlots-1)
}

// price is the weighted loss of the pose, or something not below bound when it
// is not below bound.
func (p *sepProbe) price(s *sepState, x, y, bound float64) float64 {
	c := sepSlot((x-p.field.x0)*p.kx) * p.words
	r := sepSlot((y-p.field.y0)*p.ky) * p.words
	sum := 0.0
	s.work++
	loose := false
	for w := range p.words {
		m := p.cols[c+w] & p.rows[r+w]
		for m != 0 {
			n := &p.near[w<<6+bits.TrailingZeros64(m)]
			m &= m - 1
			mx, my := n.m.apply(x-n.x, y-n.y)
			d := 0.0
			if n.tabled {
				if n.t == nil {
					n.t = s.store.table(int(p.form), int(s.form[n.item]))
				}
				d = n.t.depth(mx, my)
				s.work++
			} else {
				d = sepPinned(n.body, p.body, sepLink{n.link, mx, my}, n.gap)
				s.work += sepPinWork
				loose = true
			}
			if d > sepTouch {
				sum += d * n.weight
				if sum >= bound {
					return sum
				}
			}
		}
	}
	if loose && sum == 0 {
		return p.priceEdges(s, x, y, c, r, bound)
	}
	return sum
}

// priceEdges is the loss of a pose whose pins are all clear.
func (p *sepProbe) priceEdges(s *sepState, x, y float64, c, r int, bound float64) float64 {
	sum := 0.0
	for w := range p.words {
		m := p.cols[c+w] & p.rows[r+w]
		for m != 0 {
			n := &p.near[w<<6+bits.TrailingZeros64(m)]
			m &= m - 1
			if n.tabled {
				continue
			}
			mx, my := n.m.apply(x-n.x, y-n.y)
			s.work += sepPinWork
			if d := sepClash(n.body, p.body, sepLink{n.link, mx, my}, n.gap); d > sepTouch {
				sum += d * n.weight
				if sum >= bound {
					return sum
				}
			}
		}
	}
	return sum
}

// clamp moves a point into the field.
func (p *sepProbe) clamp(x, y float64) (float64, float64) {
	return min(max(x, p.field.x0), p.field.x1), min(max(y, p.field.y0), p.field.y1)
}
