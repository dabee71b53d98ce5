package cost

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// An Assumption is one uncertain input: what is assumed of it, and how far it
// may be off.
type Assumption struct {
	Key    string // shared by all estimates it enters
	Text   string // what is assumed, for reports
	Spread float64
	Unit   string // of Spread: "%" (relative standard deviation) or "" (absolute)
	Source Source
	effect shift // of one standard deviation
}

// Spreads of what is neither tabled nor measured, as relative standard
// deviations [Derived] judgement; test cuts replace some.
var (
	SpreadAbrasiveFlow = Quantity{Value: 0.05, Source: Derived}
	// SpreadTube is what a bore that grows by 15 % over its life means, evenly
	// spread: 0.15/√12.
	SpreadTube   = Quantity{Value: 0.15 / 3.4641016151377544, Source: Derived}
	SpreadAccel  = Quantity{Value: 0.20, Source: Derived}
	SpreadHandle = Quantity{Value: 0.20, Source: Derived}
	SpreadPierce = Quantity{Value: 0.30, Source: Derived}
)

// Assumptions lists what makes the times and prices of a setup uncertain, in a
// fixed order by key. Prices per unit are taken as given.
func Assumptions(s Setup) []Assumption {
	s = s.filled()
	out := s.machineAssumptions()
	out = append(out, s.materialAssumptions()...)
	if s.isStack() {
		out = append(out, percent("clamping", "share of the solid's speed that a clamped stack reaches", DefaultClampFactor.RelStdDev, DefaultClampFactor.Source, shift{clamp: 1}))
	}
	out = append(out, percent("handling", "loading, clamping and taking off parts", SpreadHandle.Value, SpreadHandle.Source, shift{handle: 1}))
	slices.SortFunc(out, func(a, b Assumption) int { return strings.Compare(a.Key, b.Key) })
	return out
}

// percent is an assumption on the logarithm of an input; unit is the shift of
// one natural unit.
func percent(key, text string, rel float64, src Source, unit shift) Assumption {
	return Assumption{Key: key, Text: text, Spread: 100 * rel, Unit: "%", Source: src, effect: shift{}.plus(unit, rel)}
}

func (s Setup) machineAssumptions() []Assumption {
	m := s.Machine
	rippleText := fmt.Sprintf("pressure anywhere within ±%.3g %% for the whole cut", 100*m.PressureRipple)
	out := []Assumption{
		percent("pressure "+m.ID, rippleText, m.PressureRipple/math.Sqrt(3), m.Source, shift{pressure: 1}),
		percent("acceleration "+m.ID, "the control reaches its stated acceleration", SpreadAccel.Value, SpreadAccel.Source, shift{accel: 1}),
	}
	if s.Material.Process == Abrasive {
		out = append(
			out,
			percent("abrasive flow "+m.ID, "abrasive feed as set", SpreadAbrasiveFlow.Value, SpreadAbrasiveFlow.Source, shift{abrasive: 1}),
			percent("tube wear "+m.ID, "mixing tube half worn", SpreadTube.Value, SpreadTube.Source, shift{tube: 1}),
		)
	}
	return out
}

// materialAssumptions are the calibration's where there is one, and the
// separate spreads of every number that it does not cover.
func (s Setup) materialAssumptions() []Assumption {
	m := s.Material
	out := m.Calibration.assumptions(m.Name)
	for _, a := range s.separateAssumptions() {
		if !m.Calibration.covers(a.param) {
			out = append(out, a.Assumption)
		}
	}
	return out
}

type paramAssumption struct {
	Assumption
	param Param
}

func (s Setup) separateAssumptions() []paramAssumption {
	m := s.Material
	_, kappa := s.pierceConstants()
	if kappa.RelStdDev == 0 {
		kappa.RelStdDev = SpreadPierce.Value
	}
	pierce := paramAssumption{percent("pierce "+m.Name, "pierce constant κ", kappa.RelStdDev, kappa.Source, shift{pierce: 1}), ParamPierceFactor}
	if m.Process == Plain {
		return []paramAssumption{
			{percent("plain constant "+m.Name, "plain-jet constant K", m.PlainK.RelStdDev, m.PlainK.Source, shift{coefficient: 1}), ParamPlainK},
			{exponent("plain thickness exponent", m.ThicknessExponent, shift{thicknessExponent: 1}), ParamThicknessExponent},
			pierce,
		}
	}
	return []paramAssumption{
		{percent("machinability "+m.Name, "machinability number Nm", m.Machinability.RelStdDev, m.Machinability.Source, shift{coefficient: 1}), ParamMachinability},
		{exponent("abrasive thickness exponent", m.ThicknessExponent, shift{thicknessExponent: 1}), ParamThicknessExponent},
		pierce,
	}
}

func exponent(key string, q Quantity, unit shift) Assumption {
	sd := q.Value * q.RelStdDev
	return Assumption{Key: key, Text: "exponent of thickness in the speed", Spread: sd, Source: q.Source, effect: shift{}.plus(unit, sd)}
}

// unit is the shift that one unit of a fitted parameter makes.
func (p Param) unit() shift {
	switch p {
	case ParamMachinability, ParamPlainK:
		return shift{coefficient: 1}
	case ParamThicknessExponent:
		return shift{thicknessExponent: 1}
	case ParamPressureExponent:
		return shift{pressureExponent: 1}
	case ParamOrificeExponent:
		return shift{orificeExponent: 1}
	case ParamPierceSec:
		return shift{pierceSec: 1}
	case ParamPierceFactor:
		return shift{pierce: 1}
	}
	return shift{}
}

func (c *Calibration) covers(p Param) bool {
	return c != nil && slices.Contains(c.Params, p)
}

// assumptions turns the joint uncertainty into independent causes: the columns
// of the covariance's Cholesky factor. Few test cuts widen them as Student's t
// does at [DefaultLevel].
func (c *Calibration) assumptions(material string) []Assumption {
	if c == nil {
		return nil
	}
	l, ok := c.factor()
	if !ok {
		return nil
	}
	var out []Assumption
	for j := range c.Params {
		var effect shift
		for i, p := range c.Params {
			effect = effect.plus(p.unit(), l.At(i, j)*c.widening())
		}
		out = append(out, Assumption{
			Key:  fmt.Sprintf("calibration %s %d", material, j+1),
			Text: fmt.Sprintf("what the test cuts leave open, %d of %d", j+1, len(c.Params)), Spread: 1, Source: Measured, effect: effect,
		})
	}
	return out
}

func (c *Calibration) factor() (*mat.TriDense, bool) {
	n := len(c.Params)
	if n == 0 || len(c.Covariance) != n {
		return nil, false
	}
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			sym.SetSym(i, j, c.Covariance[i][j])
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(sym) {
		return nil, false
	}
	var l mat.TriDense
	chol.LTo(&l)
	return &l, true
}

// widening is the ratio of Student's quantile to the normal one.
func (c *Calibration) widening() float64 {
	if c.DoF <= 0 {
		return 1
	}
	p := (1 + DefaultLevel) / 2
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(c.DoF)}
	return t.Quantile(p) / distuv.UnitNormal.Quantile(p)
}
