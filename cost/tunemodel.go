package cost

import (
	"math"
)

// A knob is one number that test cuts may teach. Positive constants are held as
// natural logarithms; see [Param].
type knob struct {
	param   Param
	subject string  // material, process or pierce method
	value   float64 // present value; at first the default
	spread  float64 // standard deviation of the default
	source  Source  // of the default
	learn   bool
	why     string // where not learnt
}

// A tuneRow is a cut with the places of the numbers that its prediction uses.
type tuneRow struct {
	cut                                   Cut
	kind                                  cutKind
	logMeasured                           float64
	coefficient, thickness, pressure, jet int
	pierceSec, pierceFactor               int
}

// A tuneModel predicts the cuts from the knobs.
type tuneModel struct {
	knobs []knob
	rows  []tuneRow
}

const noKnob = -1

// newTuneModel lays out the knobs in the order in which they are worth
// learning: materials first, then pierces, then the exponents.
func newTuneModel(cuts []Cut, known map[string]Material) *tuneModel {
	m := &tuneModel{}
	for _, c := range cuts {
		m.rows = append(m.rows, tuneRow{cut: c, kind: c.kind(), logMeasured: math.Log(c.measured()), pressure: noKnob, jet: noKnob, pierceSec: noKnob, pierceFactor: noKnob})
	}
	for i := range m.rows {
		m.rows[i].coefficient = m.coefficientKnob(m.rows[i], known)
	}
	for i := range m.rows {
		if r := &m.rows[i]; r.kind == pierceCut || r.cut.Pierces > 0 {
			r.pierceFactor = m.pierceKnob(r.cut.Pierce)
		}
	}
	for i := range m.rows {
		m.exponentKnobs(&m.rows[i], known)
	}
	for i := range m.rows {
		if r := &m.rows[i]; r.pierceFactor != noKnob {
			r.pierceSec = m.knob(knob{param: ParamPierceSec, subject: "pierces", value: DefaultPierceSec.Value, spread: SpreadPierceSec.Value, source: DefaultPierceSec.Source})
		}
	}
	return m
}

// knob returns the place of a knob, adding it where it is new.
func (m *tuneModel) knob(k knob) int {
	for i, have := range m.knobs {
		if have.param == k.param && have.subject == k.subject {
			return i
		}
	}
	m.knobs = append(m.knobs, k)
	return len(m.knobs) - 1
}

// coefficientKnob starts at the known material's number, or at what the cut
// itself says where the material is new.
func (m *tuneModel) coefficientKnob(r tuneRow, known map[string]Material) int {
	k := knob{param: ParamMachinability, subject: r.cut.Material, value: math.Log(100), spread: 1, source: Unverified}
	if r.cut.Process == Plain {
		k.param, k.value = ParamPlainK, math.Log(100)
	}
	if mat, ok := known[r.cut.Material]; ok && mat.Process == r.cut.Process && mat.coefficient().Value > 0 {
		q := mat.coefficient()
		k.value, k.source = math.Log(q.Value), q.Source
		if q.RelStdDev > 0 {
			k.spread = q.RelStdDev
		}
	}
	return m.knob(k)
}

func (m *tuneModel) pierceKnob(method PierceMethod) int {
	q := PierceFactorStationary
	name := Stationary // a low-pressure start is a stationary one at its own pressure
	if method == Moving {
		q, name = PierceFactorMoving, Moving
	}
	return m.knob(knob{param: ParamPierceFactor, subject: string(name), value: math.Log(q.Value), spread: q.RelStdDev, source: q.Source})
}

// exponentKnobs share one exponent among all materials of a process. It starts
// at what the first known one has.
func (m *tuneModel) exponentKnobs(r *tuneRow, known map[string]Material) {
	mat := known[r.cut.Material]
	if mat.Process != r.cut.Process {
		mat = Material{Process: r.cut.Process}
	}
	mat = mat.Filled()
	add := func(p Param, q, model Quantity) int {
		rel := q.RelStdDev
		if rel == 0 {
			rel = model.RelStdDev
		}
		return m.knob(knob{param: p, subject: string(r.cut.Process), value: q.Value, spread: q.Value * rel, source: q.Source})
	}
	if r.cut.Process == Abrasive {
		r.thickness = add(ParamThicknessExponent, mat.ThicknessExponent, DefaultAbrasiveThicknessExponent)
		return
	}
	r.thickness = add(ParamThicknessExponent, mat.ThicknessExponent, DefaultPlainThicknessExponent)
	r.pressure = add(ParamPressureExponent, mat.PressureExponent, DefaultPlainPressureExponent)
	r.jet = add(ParamOrificeExponent, mat.OrificeExponent, DefaultPlainOrificeExponent)
}

// values are the knobs' present values.
func (m *tuneModel) values() []float64 {
	v := make([]float64, len(m.knobs))
	for i, k := range m.knobs {
		v[i] = k.value
	}
	return v
}

// predict is the logarithm of what row r would measure with these values.
func (m *tuneModel) predict(r tuneRow, v []float64) float64 {
	switch r.kind {
	case speedCut:
		return r.logSpeed(v, r.cut.Grade.Index())
	case pierceCut:
		return math.Log(r.pierceSeconds(v))
	}
	sec := r.cut.CutMM / math.Exp(r.logSpeed(v, r.cut.Grade.Index())) * secPerMin
	if r.cut.Pierces > 0 {
		sec += float64(r.cut.Pierces) * r.pierceSeconds(v)
	}
	return math.Log(sec)
}

// logSpeed is the power law at grade index q, as [AbrasiveSpeed] and
// [PlainSpeed] have it, in the knobs.
func (r tuneRow) logSpeed(v []float64, q float64) float64 {
	c := r.cut
	if c.Process == Plain {
		return v[r.coefficient] + v[r.pressure]*math.Log(c.PressureMPa) + v[r.jet]*math.Log(c.OrificeMM) -
			v[r.thickness]*math.Log(c.ThicknessMM) + math.Log(PlainGradeFactor(q))
	}
	factor := c.AbrasiveFactor
	setDefault(&factor, GarnetFactor.Value)
	base := AbrasiveSpeed(AbrasiveCut{
		Factor: factor, Machinability: 1, PressureMPa: c.PressureMPa, OrificeMM: c.OrificeMM,
		AbrasiveGPerMin: c.AbrasiveGPerMin, Index: q, ThicknessMM: PivotMM.Value, TubeMM: c.TubeMM,
	})
	return math.Log(base) + ExpOuter*v[r.coefficient] - v[r.thickness]*math.Log(c.ThicknessMM/PivotMM.Value)
}

// leastPierceSec, seconds, keeps the fit away from logarithms of nothing: below
// what a stop watch tells.
var leastPierceSec = Quantity{Value: 1e-3, Source: Derived}

// SpreadPierceSec is how far, in seconds, the fixed part of a pierce may be from
// its default before test cuts tell; judgement.
var SpreadPierceSec = Quantity{Value: 0.2, Source: Derived}

func (r tuneRow) pierceSeconds(v []float64) float64 {
	c := r.cut
	jet, exponent := c.TubeMM, ExpPressure*ExpOuter
	if c.Process == Plain {
		jet, exponent = c.OrificeMM, v[r.pressure]
	}
	t := PierceTime(v[r.pierceSec], math.Exp(v[r.pierceFactor]), jet, math.Exp(r.logSpeed(v, Separate.Index())))
	if c.Pierce == LowPressure {
		t *= LowPressureFactor(c.PressureMPa, c.LowPressureMPa, exponent)
	}
	return max(t, leastPierceSec.Value)
}

// residuals are measured less predicted, in logarithms.
func (m *tuneModel) residuals(v []float64) []float64 {
	out := make([]float64, len(m.rows))
	for i, r := range m.rows {
		out[i] = r.logMeasured - m.predict(r, v)
	}
	return out
}

// slopes is the derivative of every row's prediction by one knob.
func (m *tuneModel) slopes(v []float64, knob int) []float64 {
	const step = 1e-5
	up, down := append([]float64{}, v...), append([]float64{}, v...)
	up[knob] += step
	down[knob] -= step
	out := make([]float64, len(m.rows))
	for i, r := range m.rows {
		if r.uses(knob) {
			out[i] = (m.predict(r, up) - m.predict(r, down)) / (2 * step)
		}
	}
	return out
}

func (r tuneRow) uses(knob int) bool {
	switch knob {
	case r.coefficient, r.thickness, r.pressure, r.jet:
		return true
	case r.pierceSec, r.pierceFactor:
		return r.pierceFactor != noKnob
	}
	return false
}
