package nest

import (
	"math"
	"math/rand/v2"

	"kerfold/geom"
)

// sepKeep is how many of the sampled poses are refined.
const sepKeep = 3

// A sepPick is one candidate pose and its price.
type sepPick struct {
	form  int32
	sheet int32
	angle float64
	x, y  float64
	price float64
	probe int
}

// A sepMover owns the scratch of one lane: the probes and the best candidates
// of the move under way.
type sepMover struct {
	rng    *rand.Rand
	probes []sepProbe // one per sheet, form and angle looked at
	used   int        // probes in use
	spare  sepProbe   // for trying another angle
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
	m.kept, m.used = 0, 0
}

// probe aims a probe for one form of item i, at an angle, on a sheet and returns
// its index, or −1 when the form cannot lie there.
func (m *sepMover) probe(s *sepState, i int, form int32, angle float64, sheet int32) int {
	if !s.store.allowed(form, s.ground[sheet]) {
		return -1
	}
	if !s.store.forms[form].free { // one of its own only where it may be turned
		for k := range m.used {
			if p := &m.probes[k]; p.form == form && p.sheet == sheet {
				return k
			}
		}
	}
	if m.used == len(m.probes) {
		m.probes = append(m.probes, sepProbe{})
	}
	p := &m.probes[m.used]
	p.aim(s, i, form, angle, sheet)
	if !p.usable() {
		return -1
	}
	m.used++
	return m.used - 1
}

func (p *sepProbe) usable() bool { return p.field.x1 >= p.field.x0 && p.field.y1 >= p.field.y0 }

// sample prices the item's own place, poses around it, poses anywhere on its
// sheet and poses on a few other sheets.
func (m *sepMover) sample(s *sepState, i int) {
	m.sampleAround(s, i)
	m.sampleSheet(s, i, s.sheet[i], m.tune.anywhere)
	if len(s.boxes) < 2 || s.bound(i) {
		return
	}
	for range m.tune.sheets {
		sheet := int32(m.rng.IntN(len(s.boxes)))
		if sheet != s.sheet[i] {
			m.sampleSheet(s, i, sheet, m.tune.elsewhere)
		}
	}
}

func (m *sepMover) sampleAround(s *sepState, i int) {
	m.sampleNear(s, i, s.angle[i], m.tune.around)
	if !s.store.forms[s.form[i]].free {
		return
	}
	for range m.tune.leans {
		m.sampleNear(s, i, s.angle[i]+m.rng.NormFloat64()*m.tune.lean, m.tune.around/m.tune.leans)
	}
}

// sampleNear prices n poses around the item's place at an angle.
func (m *sepMover) sampleNear(s *sepState, i int, angle float64, n int) {
	at := m.probe(s, i, s.form[i], sepSnapAngle(angle), s.sheet[i])
	if at < 0 {
		return
	}
	p := &m.probes[at]
	m.tryClamped(s, p, at, s.x[i], s.y[i])
	r := s.kindOf(i).size * m.tune.spread
	for range n {
		m.tryClamped(s, p, at, s.x[i]+(m.rng.Float64()*2-1)*r, s.y[i]+(m.rng.Float64()*2-1)*r)
	}
}

func (m *sepMover) tryClamped(s *sepState, p *sepProbe, at int, x, y float64) {
	x, y = p.clamp(x, y)
	m.try(s, at, x, y)
}

// sampleSheet prices about n poses spread over a sheet in all forms; free forms
// at a few angles each.
func (m *sepMover) sampleSheet(s *sepState, i int, sheet int32, n int) {
	k := s.kindOf(i)
	lots := k.forms
	if k.free {
		lots *= m.tune.angles
	}
	for f := range lots {
		angle := 0.0
		if k.free {
			angle = s.store.guess(k, m.rng)
		}
		at := m.probe(s, i, int32(k.form0+f%k.forms), angle, sheet)
		if at < 0 {
			continue
		}
		b := m.probes[at].field
		for range (n + lots - 1) / lots {
			m.try(s, at, b.x0+m.rng.Float64()*(b.x1-b.x0), b.y0+m.rng.Float64()*(b.y1-b.y0))
		}
	}
}

// sepAngleStep is the grid of free angles in degrees; a power of two, so that
// sums stay on it. At a metre from the reference point it is a quarter of a
// micrometre.
const sepAngleStep = 1.0 / (1 << 16)

func sepSnapAngle(deg float64) float64 {
	return geom.NormalDeg(math.Round(deg/sepAngleStep) * sepAngleStep)
}

// guess draws an angle for a free kind: half of the time one that lays an edge
// of its hull along an axis, else any.
func (s *sepStore) guess(k *sepKind, rng *rand.Rand) float64 {
	if rng.Uint32()&1 == 0 {
		return sepSnapAngle(rng.Float64() * 360)
	}
	e := rng.IntN(len(k.hull))
	p, q := k.hull[e], k.hull[(e+1)%len(k.hull)]
	quarter := float64(rng.IntN(4)) * 90
	return sepSnapAngle(quarter - math.Atan2(q[1]-p[1], q[0]-p[0])*180/math.Pi)
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
	m.keep(sepPick{form: p.form, sheet: p.sheet, angle: p.angle, x: x, y: y, price: price, probe: probe})
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
		c := m.descend(s, i, m.best[k], m.tune.stepFrom*size, m.tune.stepTo*size)
		if c.price < best.price {
			best = c
		}
	}
	if best.price > 0 && m.nudge(s, &best, m.tune.nudge*size) {
		return best, true
	}
	if best.price > 0 {
		best = m.descend(s, i, best, m.tune.stepTo*size, m.tune.stepEnd*size)
	}
	return best, true
}

// descend walks downhill from the candidate along random directions, with
// steps that lengthen on success and shorten on failure.
func (m *sepMover) descend(s *sepState, i int, c sepPick, step, end float64) sepPick {
	free := s.store.forms[c.form].free
	if free { // its probe may be turned, so it is its own
		c.probe = m.probe(s, i, c.form, c.angle, c.sheet)
	}
	for step > end && c.price > 0 {
		better := false
		if free && m.rng.Uint32()%3 == 0 {
			better = m.lean(s, i, &c, step)
		} else {
			dx, dy := m.direction(step)
			better = m.downhill(s, &c, dx, dy)
		}
		if better {
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

// lean turns the candidate a little, so that its outer parts move by about the
// step, and keeps the turn if it pays.
func (m *sepMover) lean(s *sepState, i int, c *sepPick, step float64) bool {
	turn := step / s.kindOf(i).body.radius * 180 / math.Pi
	for _, sign := range [2]float64{1, -1} {
		angle := sepSnapAngle(c.angle + sign*turn)
		m.spare.aim(s, i, c.form, angle, c.sheet)
		if !m.spare.usable() {
			continue
		}
		x, y := m.spare.clamp(c.x, c.y)
		if price := m.spare.price(s, x, y, c.price); price < c.price {
			c.angle, c.x, c.y, c.price = angle, x, y, price
			m.probes[c.probe], m.spare = m.spare, m.probes[c.probe]
			return true
		}
	}
	return false
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
