package cost

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// A Fit is what test cuts teach.
type Fit struct {
	Learnt []Learnt
	Kept   []Kept
	Rows   []FitRow
	// Speeds says of every material how well the cuts know a speed itself, which
	// is much better than they know its constant and exponents one by one.
	Speeds []FitSpeed
	// Scatter is the relative scatter of the cuts by kind, for kinds present.
	Scatter []Scatter
	// Materials are the known ones among the cuts with what was learnt put in,
	// in order of first sight.
	Materials []Material
	Warnings  []string
	Level     float64 // of the intervals
}

// A Learnt is a number that the cuts taught.
type Learnt struct {
	Param   Param
	Subject string // material, process or pierce method
	// Value is the number itself (Nm, K, κ, seconds or an exponent), with its
	// interval given the numbers that were kept; what those leave open is in the
	// materials' calibrations. It is Student's interval for the scatter of the kind
	// of cut that teaches the number; where several kinds do, their weights are
	// estimates too, and it holds the truth a point less often than it says. Fixed
	// pierce seconds end at 0: where the truth lies there, it holds it more often. StdErr is on the scale of [Param]: of the
	// logarithm for positive constants.
	Value   Interval
	StdErr  float64
	DoF     float64 // degrees of freedom behind StdErr; 0 means an assumed scatter
	Default Quantity
}

// A Kept is a number that the cuts cannot teach; its default stays.
type Kept struct {
	Param   Param
	Subject string
	Default Quantity
	Reason  string
}

// A FitRow is a cut against its prediction.
type FitRow struct {
	Row              int
	Material         string
	Kind             string // speed, part time, pierce time
	Measured, Fitted float64
	Residual         float64 // ln(measured/fitted)
	Scaled           float64 // residual over its own standard deviation
	Leverage         float64 // 0 to 1: how much the row draws the fit to itself
	Outlier          bool    // left out of the fit
}

// A FitSpeed is the speed at the settings of one of a material's cuts, the one
// with the least leverage.
type FitSpeed struct {
	Material    string
	Row         int
	ThicknessMM float64
	Speed       Interval // mm/min
}

// A Scatter is how much repeated measurements of one kind differ.
type Scatter struct {
	Kind    string
	Rel     float64
	DoF     float64
	Assumed bool // too few cuts to tell
}

// Tune fits the machinability or plain constant of every material among the
// cuts, the thickness exponents, the plain jet's other exponents and the pierce
// constants. What the cuts cannot teach keeps its default and is named in Kept.
// Known gives the materials' present numbers; a material not among them is new.
// The error names every unusable row, or says that there are no cuts.
func Tune(cuts []Cut, known map[string]Material) (Fit, error) {
	if len(cuts) == 0 {
		return Fit{}, errors.New("no test cuts: give at least one row")
	}
	var errs []error
	for _, c := range cuts {
		errs = append(errs, c.Validate())
		if namesAsbestos(c.Material) || known[c.Material].Asbestos {
			errs = append(errs, refuseMaterial(Material{Name: c.Material, Asbestos: true}))
		}
	}
	if err := errors.Join(errs...); err != nil {
		return Fit{}, err
	}
	m := newTuneModel(cuts, known)
	m.choose()
	f, err := m.fit()
	if err != nil {
		return Fit{}, err
	}
	return f.report(known), nil
}

// fit runs the fitter, giving up numbers that turn out worse known than their
// defaults.
func (m *tuneModel) fit() (*fitter, error) {
	for {
		f := newFitter(m)
		if len(f.learn) == 0 {
			return nil, errors.New("the cuts teach nothing: every number keeps its default; time some straight cuts")
		}
		if !f.run() {
			return nil, errors.New("the cuts contradict each other or are all alike: the fit has no solution")
		}
		worst := f.worst()
		if worst == noKnob {
			return f, nil
		}
		k := &m.knobs[worst]
		k.learn, k.why = false, weakReason(f.stdErr(worst), k.spread)
	}
}

// worst is the learnt knob that exceeds its limit most, or noKnob.
func (f *fitter) worst() int {
	worst, most := noKnob, 1.0
	for _, k := range f.learn {
		if over := f.stdErr(k) / f.m.knobs[k].limit(); over > most {
			worst, most = k, over
		}
	}
	return worst
}

// place is where a knob stands among the learnt ones.
func (f *fitter) place(knob int) int {
	for j, k := range f.learn {
		if k == knob {
			return j
		}
	}
	return noKnob
}

func (f *fitter) stdErr(knob int) float64 {
	j := f.place(knob)
	return math.Sqrt(f.cov.At(j, j))
}

// knobDoF is the degrees of freedom of the kind of cut that a knob is mostly
// learnt from.
func (f *fitter) knobDoF(knob int) float64 {
	j := f.place(knob)
	var info [cutKinds]float64
	for i, r := range f.m.rows {
		x := f.jac.At(i, j)
		info[r.kind] += f.rowWeight(i) * x * x
	}
	best := speedCut
	for k := range cutKinds {
		if info[k] > info[best] {
			best = k
		}
	}
	return f.dof[best]
}

// quantile is Student's, or the normal one where the scatter is assumed.
func quantile(level, dof float64) float64 {
	p := (1 + level) / 2
	if dof <= 0 {
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: dof}.Quantile(p)
}

func (f *fitter) report(known map[string]Material) Fit {
	fit := Fit{Level: DefaultLevel, Rows: f.reportRows(), Scatter: f.reportScatter()}
	joint := f.joint()
	for i, k := range f.m.knobs {
		if k.learn {
			fit.Learnt = append(fit.Learnt, f.learnt(i, f.stdErr(i)))
		} else {
			fit.Kept = append(fit.Kept, Kept{k.param, k.subject, k.defaultQuantity(), k.why})
		}
	}
	fit.Speeds = f.speeds()
	fit.Materials = f.materials(known, joint)
	fit.Warnings = f.warnings()
	return fit
}

func (f *fitter) learnt(i int, sd float64) Learnt {
	k := f.m.knobs[i]
	dof := f.knobDoF(i)
	half := quantile(DefaultLevel, dof) * sd
	v := f.v[i]
	return Learnt{
		Param: k.param, Subject: k.subject, StdErr: sd, DoF: dof, Default: k.defaultQuantity(),
		Value: Interval{k.plain(v - half), k.plain(v), k.plain(v + half), DefaultLevel},
	}
}

// plain turns a knob's value into the number itself.
func (k knob) plain(v float64) float64 {
	switch k.param {
	case ParamMachinability, ParamPlainK, ParamPierceFactor:
		return math.Exp(v)
	case ParamPierceSec:
		return max(0, v)
	}
	return v
}

// defaultQuantity is the number before the fit; a knob keeps it in value.
func (k knob) defaultQuantity() Quantity {
	q := Quantity{Value: k.plain(k.value), RelStdDev: k.spread, Source: k.source}
	switch k.param {
	case ParamThicknessExponent, ParamPressureExponent, ParamOrificeExponent:
		q.RelStdDev = k.spread / k.value
	case ParamPierceSec:
		q.RelStdDev = 0
	}
	return q
}

func (f *fitter) reportRows() []FitRow {
	res := f.m.residuals(f.v)
	out := make([]FitRow, len(f.m.rows))
	for i, r := range f.m.rows {
		s := f.sigma[r.kind]
		out[i] = FitRow{
			Row: r.cut.Row, Material: r.cut.Material, Kind: r.kind.String(),
			Measured: r.cut.measured(), Fitted: r.cut.measured() / math.Exp(res[i]),
			Residual: res[i], Leverage: f.hat[i], Outlier: f.weight[i] == 0,
			Scaled: res[i] / (s * math.Sqrt(max(1e-9, 1-f.hat[i]))),
		}
	}
	return out
}

func (f *fitter) reportScatter() []Scatter {
	var out []Scatter
	for k := range cutKinds {
		if f.m.any(func(r tuneRow) bool { return r.kind == k }) {
			out = append(out, Scatter{k.String(), f.sigma[k], f.dof[k], f.dof[k] == 0})
		}
	}
	return out
}

// highLeverage is the leverage from which one cut decides the fit [Derived].
const highLeverage = 0.8

func (f *fitter) warnings() []string {
	var out []string
	for i, r := range f.m.rows {
		if f.weight[i] == 0 {
			out = append(out, fmt.Sprintf("row %d, %s: left out as an outlier: measured %.4g, the other cuts say %.4g", r.cut.Row, r.cut.Material, r.cut.measured(), math.Exp(f.m.predict(r, f.v))))
		} else if f.hat[i] > highLeverage {
			out = append(out, fmt.Sprintf("row %d, %s: the fit hangs on this cut alone (leverage %.2f): repeat it", r.cut.Row, r.cut.Material, f.hat[i]))
		}
	}
	return out
}

// joint is the covariance of all knobs: the learnt ones as the cuts leave them,
// the others as their defaults have it, and the former's dependence on the
// latter: had a default been other, the fit would have been other too.
func (f *fitter) joint() *mat.SymDense {
	n, p := len(f.m.knobs), len(f.learn)
	joint := mat.NewSymDense(n, nil)
	for a, i := range f.learn {
		for b, j := range f.learn {
			if i <= j {
				joint.SetSym(i, j, f.cov.At(a, b))
			}
		}
	}
	for k, kn := range f.m.knobs {
		if kn.learn {
			continue
		}
		// d learnt / d default = −(JᵀWJ)⁻¹·JᵀW·slope
		slope, g := f.m.slopes(f.v, k), mat.NewVecDense(p, nil)
		for i := range f.m.rows {
			g.AddScaledVec(g, -f.rowWeight(i)*slope[i], mat.NewVecDense(p, mat.Row(nil, i, f.jac)))
		}
		g.MulVec(f.cov, g)
		full := mat.NewVecDense(n, nil)
		full.SetVec(k, 1)
		for a, i := range f.learn {
			full.SetVec(i, g.AtVec(a))
		}
		joint.SymRankOne(joint, kn.spread*kn.spread, full)
	}
	return joint
}

// speeds picks for every material the speed cut with the least leverage.
func (f *fitter) speeds() []FitSpeed {
	var out []FitSpeed
	var at []int
	seen := map[int]int{}
	for i, r := range f.m.rows {
		if r.kind != speedCut || f.weight[i] == 0 {
			continue
		}
		place, known := seen[r.coefficient]
		if !known {
			place = len(at)
			seen[r.coefficient] = place
			at = append(at, i)
		}
		if f.hat[i] < f.hat[at[place]] {
			at[place] = i
		}
	}
	for _, i := range at {
		out = append(out, f.speed(i))
	}
	return out
}

// speed is the fitted speed of a row with its interval.
func (f *fitter) speed(i int) FitSpeed {
	r := f.m.rows[i]
	sd := math.Sqrt(f.hat[i]) * f.sigma[r.kind]
	half := quantile(DefaultLevel, f.dof[r.kind]) * sd
	v := f.m.predict(r, f.v)
	return FitSpeed{
		Material: r.cut.Material, Row: r.cut.Row, ThicknessMM: r.cut.ThicknessMM,
		Speed: Interval{math.Exp(v - half), math.Exp(v), math.Exp(v + half), DefaultLevel},
	}
}
