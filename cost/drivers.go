package cost

import (
	"fmt"
	"math"
	"slices"
	"strings"
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
