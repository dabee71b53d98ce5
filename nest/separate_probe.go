package nest

import "math/bits"

// sepSlots is how many columns and rows a probe cuts its field into.
const sepSlots = 32

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
	loose  []sepLoose
	form   int32
	sheet  int32
	angle  float64
	body   *sepBody
}

// A sepNearby is one neighbour with all that a lookup needs.
type sepNearby struct {
	t      *sepTable // nil until first asked, and for a pair without a table
	m      sepMatrix // from the sheet's frame to the one asked in
	x, y   float64
	weight float64
	item   int32
	loose  int32 // index into sepProbe.loose, or −1 for a pair with a table
}

// A sepLoose is what a neighbour without a table needs besides.
type sepLoose struct {
	turn sepMatrix // how the item is turned in the neighbour's frame
	body *sepBody
	gap  float64
}

// sepAimPerWork is how many neighbours are readied in the time of one lookup.
const sepAimPerWork = 4

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
	list := s.on[sheet]
	s.work += int64(len(list)) / sepAimPerWork
	p.clear(len(list))
	nf := len(s.store.forms)
	rels := s.store.rels[int(form)*nf : int(form)*nf+nf]
	var weight []float32
	if i >= 0 {
		weight = s.weight[i*s.n : i*s.n+s.n]
	}
	for _, j := range list {
		if int(j) == i {
			continue
		}
		r := &rels[s.form[j]]
		box := r.box
		if r.slot < 0 {
			box = s.ext[j].around(ext, s.store.clearance(kind, int(s.kind[j])))
		}
		x, y := s.x[j], s.y[j]
		if x+box.x1 <= p.field.x0 || x+box.x0 >= p.field.x1+sepTouch || y+box.y1 <= p.field.y0 || y+box.y0 >= p.field.y1+sepTouch {
			continue
		}
		p.mark(len(p.near), box, x-p.field.x0, y-p.field.y0)
		p.near = append(p.near, sepNearby{})
		n := &p.near[len(p.near)-1]
		n.m, n.x, n.y, n.item, n.loose = r.m, x, y, j, -1
		n.weight = 1
		if i >= 0 {
			n.weight = float64(weight[j] * s.scale[i] * s.scale[j])
		}
		if r.slot >= 0 {
			n.t = s.store.slots[r.slot].Load()
		} else {
			p.loosen(s, n, kind, rot)
		}
	}
}

// loosen gives a neighbour without a table what it needs.
func (p *sepProbe) loosen(s *sepState, n *sepNearby, kind int, rot sepMatrix) {
	j := n.item
	n.m = s.rot[j].inverse()
	n.loose = int32(len(p.loose))
	p.loose = append(p.loose, sepLoose{
		turn: n.m.times(rot), body: s.kindOf(int(j)).body, gap: s.store.clearance(kind, int(s.kind[j])),
	})
}

func sepPerSlot(length float64) float64 {
	if length <= 0 {
		return 0
	}
	return sepSlots / length
}

// clear empties the probe for up to n neighbours.
func (p *sepProbe) clear(n int) {
	p.near, p.loose = p.near[:0], p.loose[:0]
	p.words = (n + 63) / 64
	size := sepSlots * p.words
	if cap(p.cols) < size {
		p.cols, p.rows = make([]uint64, size), make([]uint64, size)
	}
	p.cols, p.rows = p.cols[:size], p.rows[:size]
	clear(p.cols)
	clear(p.rows)
	if cap(p.near) < n {
		p.near = make([]sepNearby, 0, n)
	}
}

// mark gives neighbour k its bit in the columns and rows that its box meets
// when it stands at (x, y) in the field.
func (p *sepProbe) mark(k int, box sepBox, x, y float64) {
	word, bit := k>>6, uint64(1)<<(k&63)
	c, end := sepSlot((x+box.x0)*p.kx), sepSlot((x+box.x1)*p.kx)
	for at := c*p.words + word; c <= end; c++ {
		p.cols[at] |= bit
		at += p.words
	}
	c, end = sepSlot((y+box.y0)*p.ky), sepSlot((y+box.y1)*p.ky)
	for at := c*p.words + word; c <= end; c++ {
		p.rows[at] |= bit
		at += p.words
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
			if n.loose < 0 {
				if n.t == nil {
					n.t = s.store.table(int(p.form), int(s.form[n.item]))
				}
				d = n.t.depth(mx, my)
				s.work++
			} else {
				l := &p.loose[n.loose]
				d = sepPinned(l.body, p.body, sepLink{l.turn, mx, my}, l.gap)
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
			if n.loose < 0 {
				continue
			}
			l := &p.loose[n.loose]
			mx, my := n.m.apply(x-n.x, y-n.y)
			s.work += sepPinWork
			if d := sepClash(l.body, p.body, sepLink{l.turn, mx, my}, l.gap); d > sepTouch {
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
