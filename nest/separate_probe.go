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
	ready  bool
}

// A sepNearby is one neighbour with all that a lookup needs.
type sepNearby struct {
	t      *sepTable
	m      sepMatrix
	x, y   float64
	weight float64
	item   int32
}

// aim readies the probe for item i in the form on the sheet.
func (p *sepProbe) aim(s *sepState, i int, form, sheet int32) {
	p.form, p.sheet, p.ready = form, sheet, true
	p.field = s.store.inner(s.boxes[sheet], form)
	p.kx = sepPerSlot(p.field.x1 - p.field.x0)
	p.ky = sepPerSlot(p.field.y1 - p.field.y0)
	p.near = p.near[:0]
	p.clear(len(s.on[sheet]))
	nf := len(s.store.forms)
	rels := s.store.rels[int(form)*nf : int(form)*nf+nf]
	weight := s.weight[i*s.n : i*s.n+s.n]
	for _, item := range s.on[sheet] {
		j := int(item)
		if j == i {
			continue
		}
		r := &rels[s.form[j]]
		x, y := s.x[j], s.y[j]
		if x+r.x1 <= p.field.x0 || x+r.x0 >= p.field.x1 || y+r.y1 <= p.field.y0 || y+r.y0 >= p.field.y1 {
			if !p.thin(x, y, r) {
				continue
			}
		}
		p.mark(len(p.near), x, y, r)
		p.near = append(p.near, sepNearby{
			t: s.store.slots[r.slot].Load(), m: r.m, x: x, y: y,
			weight: float64(weight[j] * s.scale[i] * s.scale[j]), item: item,
		})
	}
}

// thin reports whether the neighbour meets a field without width or height.
func (p *sepProbe) thin(x, y float64, r *sepRel) bool {
	return x+r.x1 > p.field.x0 && x+r.x0 < p.field.x1+1e-9 && y+r.y1 > p.field.y0 && y+r.y0 < p.field.y1+1e-9
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

func (p *sepProbe) mark(k int, x, y float64, r *sepRel) {
	word, bit := k>>6, uint64(1)<<(k&63)
	for c := sepSlot((x + r.x0 - p.field.x0) * p.kx); c <= sepSlot((x+r.x1-p.field.x0)*p.kx); c++ {
		p.cols[c*p.words+word] |= bit
	}
	for c := sepSlot((y + r.y0 - p.field.y0) * p.ky); c <= sepSlot((y+r.y1-p.field.y0)*p.ky); c++ {
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
	for w := range p.words {
		m := p.cols[c+w] & p.rows[r+w]
		for m != 0 {
			n := &p.near[w<<6+bits.TrailingZeros64(m)]
			m &= m - 1
			mx, my := n.m.apply(x-n.x, y-n.y)
			if n.t == nil {
				n.t = s.store.table(int(p.form), int(s.form[n.item]))
			}
			d := n.t.depth(mx, my)
			s.work++
			if d > sepTouch {
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
