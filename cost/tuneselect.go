package cost

import (
	"fmt"
	"math"
)

// assumedNoise is the relative scatter of a measured number before the cuts
// themselves tell: speeds and part times well timed, pierces less so [Derived].
var assumedNoise = [cutKinds]float64{speedCut: 0.05, partCut: 0.05, pierceCut: 0.15}

// worthLearning is how many times as wide as the default's own spread an
// exponent's or pierce constant's standard error may be: a number known worse
// than by default is not learnt.
const worthLearning = 1.5

// choose marks the knobs that the cuts can teach and says why of the others.
// Each knob's column of slopes is freed of what the knobs before it explain
// (Gram-Schmidt); what is left bounds how well it can be known.
func (m *tuneModel) choose() {
	v := m.values()
	var basis [][]float64
	learnt := 0
	for i := range m.knobs {
		k := &m.knobs[i]
		if k.why = m.hopeless(i); k.why != "" {
			continue
		}
		left := m.scaled(m.slopes(v, i))
		for _, b := range basis {
			axpy(-dot(left, b), b, left)
		}
		norm := math.Sqrt(dot(left, left))
		if k.why = m.tooWeak(i, norm, learnt); k.why != "" {
			continue
		}
		k.learn = true
		learnt++
		scale(1/norm, left)
		basis = append(basis, left)
	}
}

func (m *tuneModel) scaled(col []float64) []float64 {
	for i, r := range m.rows {
		col[i] /= assumedNoise[r.kind]
	}
	return col
}

// isCoefficient says whether a knob is a material's own number, which is
// learnt from a single cut where need be.
func (k knob) isCoefficient() bool {
	return k.param == ParamMachinability || k.param == ParamPlainK
}

// limit is the greatest standard error at which a knob is worth learning.
func (k knob) limit() float64 {
	if k.isCoefficient() {
		return math.Inf(1)
	}
	return worthLearning * k.spread
}

// hopeless says why the cuts cannot teach a knob whatever their number, or "".
func (m *tuneModel) hopeless(i int) string {
	k := m.knobs[i]
	var regressor func(tuneRow) float64
	what := ""
	switch k.param {
	case ParamMachinability, ParamPlainK:
		if !m.any(func(r tuneRow) bool { return r.coefficient == i && r.kind != pierceCut }) {
			return "only pierces of this material were timed, no cut"
		}
		return ""
	case ParamThicknessExponent:
		regressor, what = func(r tuneRow) float64 { return r.cut.ThicknessMM }, "thickness"
	case ParamPressureExponent:
		regressor, what = func(r tuneRow) float64 { return r.cut.PressureMPa }, "pressure"
	case ParamOrificeExponent:
		regressor, what = func(r tuneRow) float64 { return r.cut.OrificeMM }, "orifice"
	default:
		return ""
	}
	return m.lackOfSpread(i, regressor, what)
}

func (m *tuneModel) any(f func(tuneRow) bool) bool {
	for _, r := range m.rows {
		if f(r) {
			return true
		}
	}
	return false
}

// lackOfSpread says that a setting was never changed, overall or within any
// one material.
func (m *tuneModel) lackOfSpread(i int, setting func(tuneRow) float64, what string) string {
	all, within := newSpread(), map[int]*spread{}
	varied := false
	for _, r := range m.rows {
		if !r.uses(i) {
			continue
		}
		all.add(setting(r))
		if within[r.coefficient] == nil {
			within[r.coefficient] = newSpread()
		}
		within[r.coefficient].add(setting(r))
		varied = varied || within[r.coefficient].ratio() > 1
	}
	switch {
	case all.ratio() == 1:
		return fmt.Sprintf("all %s cuts have the same %s, %.4g", m.knobs[i].subject, what, all.min)
	case !varied:
		return fmt.Sprintf("each material was cut at one %s only", what)
	}
	return ""
}

type spread struct{ min, max float64 }

func newSpread() *spread { return &spread{math.Inf(1), math.Inf(-1)} }

func (s *spread) add(v float64) { s.min, s.max = min(s.min, v), max(s.max, v) }

func (s *spread) ratio() float64 { return s.max / s.min }

// tooWeak says why what is left of a knob's column is too little, or "".
func (m *tuneModel) tooWeak(i int, norm float64, learnt int) string {
	k := m.knobs[i]
	switch {
	case norm < 1e-6:
		return "the cuts change it only together with numbers already learnt"
	case !k.isCoefficient() && learnt+2 > len(m.rows):
		return fmt.Sprintf("too few cuts: %d for %d numbers", len(m.rows), learnt+1)
	case 1/norm > k.limit():
		return weakReason(1/norm, k.spread)
	}
	return ""
}

func weakReason(sd, spread float64) string {
	return fmt.Sprintf("too little spread in the cuts: it would be known to ±%.2g, by default it is to ±%.2g", sd, spread)
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

func axpy(f float64, x, y []float64) {
	for i := range x {
		y[i] += f * x[i]
	}
}

func scale(f float64, x []float64) {
	for i := range x {
		x[i] *= f
	}
}
