package nest

import (
	"math"
	"math/rand/v2"
)

// sepKeep is how many of the sampled poses are refined.
const sepKeep = 3

// A sepPick is one candidate pose and its price.
type sepPick struct {
	form  int32
	sheet int32
	x, y  float64
	price float64
}

// A sepMover owns the scratch of one lane: a probe per form and the best
// candidates of the move under way.
type sepMover struct {
	rng    *rand.Rand
	probes []sepProbe // by form of the item's kind
	best   [sepKeep]sepPick
	kept   int
	tune   sepTuning
	moves  int64
}

// relocate moves item i to the best pose found; it reports whether it moved.
func (m *sepMover) relocate(s *sepState, i int) bool {
	m.moves++
	now := s.itemLoss(i)
	m.begin()
	m.sample(s, i)
	pick, ok := m.refine(s)
	if !ok || pick.price >= now {
		return false
	}
	s.put(i, pick)
	return true
}

// put sets an item's pose and works its depths out.
func (s *sepState) put(i int, p sepPick) {
	s.form[i], s.sheet[i], s.x[i], s.y[i] = p.form, p.sheet, p.x, p.y
	s.remeasure(i)
}

func (m *sepMover) begin() {
	m.kept = 0
	for k := range m.probes {
		m.probes[k].ready = false
	}
}

// probe returns the probe for one form of item i, aimed when needed.
func (m *sepMover) probe(s *sepState, i int, form int32) *sepProbe {
	base := int32(s.store.kinds[s.store.forms[form].kind].form0)
	for len(m.probes) <= int(form-base) {
		m.probes = append(m.probes, sepProbe{})
	}
	p := &m.probes[form-base]
	if !p.ready {
		p.aim(s, i, form, s.sheet[i])
	}
	return p
}

// sample prices the item's own place, poses around it and poses anywhere.
func (m *sepMover) sample(s *sepState, i int) {
	k := &s.store.kinds[s.store.forms[s.form[i]].kind]
	own := m.probe(s, i, s.form[i])
	if own.usable() {
		x, y := own.clamp(s.x[i], s.y[i])
		m.try(s, own, s.sheet[i], x, y)
		for range m.tune.around {
			r := k.size * m.tune.spread
			x, y := own.clamp(s.x[i]+(m.rng.Float64()*2-1)*r, s.y[i]+(m.rng.Float64()*2-1)*r)
			m.try(s, own, s.sheet[i], x, y)
		}
	}
	for f := range k.forms {
		p := m.probe(s, i, int32(k.form0+f))
		if !p.usable() {
			continue
		}
		for range (m.tune.anywhere + k.forms - 1) / k.forms {
			x := p.field.x0 + m.rng.Float64()*(p.field.x1-p.field.x0)
			y := p.field.y0 + m.rng.Float64()*(p.field.y1-p.field.y0)
			m.try(s, p, s.sheet[i], x, y)
		}
	}
}

func (p *sepProbe) usable() bool { return p.field.x1 >= p.field.x0 && p.field.y1 >= p.field.y0 }

// try prices a pose and keeps it when it is among the best.
func (m *sepMover) try(s *sepState, p *sepProbe, sheet int32, x, y float64) {
	bound := math.Inf(1)
	if m.kept == sepKeep {
		bound = m.best[sepKeep-1].price
	}
	price := p.price(s, x, y, bound)
	if price >= bound {
		return
	}
	m.keep(sepPick{form: p.form, sheet: sheet, x: x, y: y, price: price})
}

func (m *sepMover) keep(c sepPick) {
	at := min(m.kept, sepKeep-1)
	for at > 0 && m.best[at-1].price > c.price {
		m.best[at] = m.best[at-1]
		at--
	}
	m.best[at] = c
	m.kept = min(m.kept+1, sepKeep)
}

// refine descends from every kept candidate and returns the best end.
func (m *sepMover) refine(s *sepState) (sepPick, bool) {
	if m.kept == 0 {
		return sepPick{}, false
	}
	var best sepPick
	best.price = math.Inf(1)
	for k := range m.kept {
		c := m.descend(s, m.best[k], m.tune.stepFrom, m.tune.stepTo)
		if c.price < best.price {
			best = c
		}
	}
	if best.price > 0 {
		best = m.descend(s, best, m.tune.stepTo, m.tune.stepEnd)
	}
	return best, true
}

// descend walks downhill from the candidate along random directions, with
// steps that lengthen on success and shorten on failure; steps are shares of
// the item's size.
func (m *sepMover) descend(s *sepState, c sepPick, from, to float64) sepPick {
	k := &s.store.kinds[s.store.forms[c.form].kind]
	p := &m.probes[int(c.form)-k.form0]
	step, end := from*k.size, to*k.size
	for step > end && c.price > 0 {
		dx, dy := m.direction(step)
		if m.downhill(s, p, &c, dx, dy) {
			step *= 1.2
			continue
		}
		step *= 0.6
	}
	return c
}

// direction picks one of the two axes or the two diagonals.
func (m *sepMover) direction(step float64) (dx, dy float64) {
	switch m.rng.Uint32() & 3 {
	case 0:
		return step, 0
	case 1:
		return 0, step
	case 2:
		return step * math.Sqrt2 / 2, step * math.Sqrt2 / 2
	}
	return step * math.Sqrt2 / 2, -step * math.Sqrt2 / 2
}

// downhill tries both ways along a direction and takes the better if it pays.
func (m *sepMover) downhill(s *sepState, p *sepProbe, c *sepPick, dx, dy float64) bool {
	better := false
	x, y := c.x, c.y
	for _, sign := range [2]float64{1, -1} {
		tx, ty := p.clamp(x+sign*dx, y+sign*dy)
		if price := p.price(s, tx, ty, c.price); price < c.price {
			c.x, c.y, c.price = tx, ty, price
			better = true
		}
	}
	return better
}
