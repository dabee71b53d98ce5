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
	probe int
}

// A sepMover owns the scratch of one lane: the probes and the best candidates
// of the move under way.
type sepMover struct {
	rng    *rand.Rand
	probes []sepProbe // sheet looked at × form of the item's kind
	best   [sepKeep]sepPick
	kept   int
	walls  sepNudge
	tune   sepTuning
	moves  int64
}

// relocate moves item i to the best pose found; it reports whether it moved.
func (m *sepMover) relocate(s *sepState, i int) bool {
	m.moves++
	now := s.itemLoss(i)
	m.begin()
	m.sample(s, i)
	pick, ok := m.refine(s, i)
	if !ok || pick.price >= now {
		return false
	}
	s.put(i, pick)
	return true
}

func (m *sepMover) begin() {
	m.kept = 0
	for k := range m.probes {
		m.probes[k].ready = false
	}
}

// probe returns the index of the probe for one form of item i on a sheet,
// aimed when needed; slot tells the sheets of a move apart. It is negative when
// the form cannot lie there.
func (m *sepMover) probe(s *sepState, i, slot int, form, sheet int32) int {
	k := s.kindOf(i)
	at := slot*k.forms + int(form) - k.form0
	for len(m.probes) <= at {
		m.probes = append(m.probes, sepProbe{})
	}
	p := &m.probes[at]
	if !p.ready {
		p.aim(s, i, form, sheet)
	}
	if !p.usable() || !s.store.allowed(form, s.ground[sheet]) {
		return -1
	}
	return at
}

func (p *sepProbe) usable() bool { return p.field.x1 >= p.field.x0 && p.field.y1 >= p.field.y0 }

// sample prices the item's own place, poses around it, poses anywhere on its
// sheet and poses on a few other sheets.
func (m *sepMover) sample(s *sepState, i int) {
	m.sampleAround(s, i)
	m.sampleSheet(s, i, 0, s.sheet[i], m.tune.anywhere)
	if len(s.boxes) < 2 || s.bound(i) {
		return
	}
	for slot := 1; slot <= m.tune.sheets; slot++ {
		sheet := int32(m.rng.IntN(len(s.boxes)))
		if sheet != s.sheet[i] {
			m.sampleSheet(s, i, slot, sheet, m.tune.elsewhere)
		}
	}
}

func (m *sepMover) sampleAround(s *sepState, i int) {
	at := m.probe(s, i, 0, s.form[i], s.sheet[i])
	if at < 0 {
		return
	}
	p := &m.probes[at]
	x, y := p.clamp(s.x[i], s.y[i])
	m.try(s, at, x, y)
	r := s.kindOf(i).size * m.tune.spread
	for range m.tune.around {
		x, y := p.clamp(s.x[i]+(m.rng.Float64()*2-1)*r, s.y[i]+(m.rng.Float64()*2-1)*r)
		m.try(s, at, x, y)
	}
}

// sampleSheet prices about n poses spread over a sheet in all forms.
func (m *sepMover) sampleSheet(s *sepState, i, slot int, sheet int32, n int) {
	k := s.kindOf(i)
	for f := range k.forms {
		at := m.probe(s, i, slot, int32(k.form0+f), sheet)
		if at < 0 {
			continue
		}
		b := m.probes[at].field
		for range (n + k.forms - 1) / k.forms {
			m.try(s, at, b.x0+m.rng.Float64()*(b.x1-b.x0), b.y0+m.rng.Float64()*(b.y1-b.y0))
		}
	}
}

// try prices a pose and keeps it when it is among the best.
func (m *sepMover) try(s *sepState, probe int, x, y float64) {
	bound := math.Inf(1)
	if m.kept == sepKeep {
		bound = m.best[sepKeep-1].price
	}
	p := &m.probes[probe]
	price := p.price(s, x, y, bound)
	if price >= bound {
		return
	}
	m.keep(sepPick{form: p.form, sheet: p.sheet, x: x, y: y, price: price, probe: probe})
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

// refine nudges the kept candidates free if it can, else it descends from every
// one and returns the best end.
func (m *sepMover) refine(s *sepState, i int) (sepPick, bool) {
	if m.kept == 0 {
		return sepPick{}, false
	}
	size := s.kindOf(i).size
	var best sepPick
	best.price = math.Inf(1)
	if c := m.best[0]; c.price == 0 {
		return c, true
	}
	for k := range m.kept {
		c := m.descend(s, m.best[k], m.tune.stepFrom*size, m.tune.stepTo*size)
		if c.price < best.price {
			best = c
		}
	}
	if best.price > 0 && m.nudge(s, &best, m.tune.nudge*size) {
		return best, true
	}
	if best.price > 0 {
		best = m.descend(s, best, m.tune.stepTo*size, m.tune.stepEnd*size)
	}
	return best, true
}

// descend walks downhill from the candidate along random directions, with
// steps that lengthen on success and shorten on failure.
func (m *sepMover) descend(s *sepState, c sepPick, step, end float64) sepPick {
	for step > end && c.price > 0 {
		dx, dy := m.direction(step)
		if m.downhill(s, &c, dx, dy) {
			step *= sepStride
			continue
		}
		step *= sepCaution
	}
	return c
}

// Steps of the descent change by these factors on success and on failure.
const (
	sepStride  = 1.2
	sepCaution = 0.6
)

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
func (m *sepMover) downhill(s *sepState, c *sepPick, dx, dy float64) bool {
	p := &m.probes[c.probe]
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
