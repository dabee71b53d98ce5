package cost

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// Check says why s cannot be cut at all: input that contradicts physics or is
// missing, a pump that cannot feed the orifice ([*PumpError]), or a [*Refusal]
// by process, hazard or stack limit. Everything wrong with the input is
// reported together.
func (s Setup) Check() error {
	s = s.filled()
	if r := refuseMaterial(s.Material); r != nil {
		return r
	}
	if err := errors.Join(s.Machine.Validate(), s.Material.Validate(), s.validateCut()); err != nil {
		return err
	}
	if r := refuseProcess(s); r != nil {
		return r
	}
	if err := CheckPump(s.Machine, s.orificeMM()); err != nil {
		return err
	}
	if s.Material.Process == Abrasive {
		if err := s.Machine.validateAbrasive(); err != nil {
			return err
		}
	}
	if r := StackRefusal(s); r != nil {
		return r
	}
	return nil
}

func (s Setup) validateCut() error {
	var errs []error
	if !positive(s.ThicknessMM) {
		errs = append(errs, fmt.Errorf("material %s: thickness %v mm: give a thickness above 0", s.Material.Name, s.ThicknessMM))
	}
	if s.Grade < Separate || s.Grade > Fine {
		errs = append(errs, fmt.Errorf("%v: use separate, rough, medium, good or fine", s.Grade))
	}
	if !within(s.Rates.ClampFactor, 0.1, 1) {
		errs = append(errs, fmt.Errorf("clamp factor %v: give a share between 0.1 and 1", s.Rates.ClampFactor))
	}
	if !within(s.Rates.LayerGapMM, 0, math.MaxFloat64) || s.Rates.CoverSheets < 0 || !within(s.Rates.CoverMM, 0, math.MaxFloat64) {
		errs = append(errs, errors.New("layer gap and cover sheets: give values of 0 or more"))
	}
	return errors.Join(errs...)
}

// Bounds of what is built and sold, with room [Derived]; outside them an input is
// a slip of units.
const (
	minPressureMPa, maxPressureMPa         = 5, 700
	minOrificeMM, maxOrificeMM             = 0.05, 1.0
	minTubeMM, maxTubeMM                   = 0.2, 3.0
	minAbrasiveGPerMin, maxAbrasiveGPerMin = 10, 3000
)

// Validate reports what in m contradicts physics or is missing. A slip of units
// (bar for MPa, inches for millimetres) is named as such.
func (m Machine) Validate() error {
	m = m.Filled()
	var errs []error
	bad := func(format string, args ...any) {
		errs = append(errs, fmt.Errorf("machine "+m.ID+": "+format, args...))
	}
	if m.Process != Plain && m.Process != Abrasive {
		bad("process %q: use plain or abrasive", m.Process)
	}
	if !within(m.PressureMPa, minPressureMPa, maxPressureMPa) {
		bad("pressure %v MPa%s: give %v to %v MPa", m.PressureMPa, pressureSlip(m.PressureMPa), minPressureMPa, maxPressureMPa)
	}
	for _, d := range []float64{m.OrificeMM, m.PlainOrificeMM} {
		if !within(d, minOrificeMM, maxOrificeMM) {
			bad("orifice %v mm%s: give %v to %v mm", d, lengthSlip(d, minOrificeMM, maxOrificeMM), minOrificeMM, maxOrificeMM)
			break
		}
	}
	if m.Process == Abrasive {
		if err := m.validateAbrasive(); err != nil {
			errs = append(errs, err)
		}
	}
	for _, f := range m.fields() {
		if !(f.value >= f.least) || !(f.value <= f.most) {
			bad("%s %v: give %v to %v", f.name, f.value, f.least, f.most)
		}
	}
	return errors.Join(errs...)
}

// validateAbrasive checks what only an abrasive cut uses.
func (m Machine) validateAbrasive() error {
	var errs []error
	if !within(m.TubeMM, minTubeMM, maxTubeMM) {
		errs = append(errs, fmt.Errorf("machine %s: mixing tube bore %v mm%s: give %v to %v mm", m.ID, m.TubeMM, lengthSlip(m.TubeMM, minTubeMM, maxTubeMM), minTubeMM, maxTubeMM))
	} else if m.TubeMM <= m.OrificeMM {
		errs = append(errs, fmt.Errorf("machine %s: mixing tube bore %v mm is not wider than the orifice of %v mm: about three times as wide is usual", m.ID, m.TubeMM, m.OrificeMM))
	}
	if !within(m.AbrasiveGPerMin, minAbrasiveGPerMin, maxAbrasiveGPerMin) {
		errs = append(errs, fmt.Errorf("machine %s: abrasive flow %v g/min: give %v to %v g/min", m.ID, m.AbrasiveGPerMin, minAbrasiveGPerMin, maxAbrasiveGPerMin))
	}
	return errors.Join(errs...)
}

type bounded struct {
	name               string
	value, least, most float64
}

func (m Machine) fields() []bounded {
	inf := math.Inf(1)
	return []bounded{
		{"pressure ripple", m.PressureRipple, 0, 0.5},
		{"motor kW", m.MotorKW, 0, 2000},
		{"motor-to-jet share", m.MotorToJet, 0.1, 1},
		{"discharge coefficient", m.OrificeCd, 0.3, 1},
		{"abrasive factor", m.AbrasiveFactor, 0.05, 5},
		{"feed cap mm/min", m.FeedCapMMPerMin, 1, inf},
		{"rapid mm/min", m.RapidMMPerMin, 1, inf},
		{"acceleration mm/s²", m.AccelMMPerS2, 1, inf},
		{"corner deviation mm", m.CornerDeviationMM, 0, 10},
		{"arc error mm", m.ArcErrorMM, 0, 10},
		{"pierce seconds", m.PierceFixedSec, 0, 3600},
		{"pierce seconds per mm", m.PierceSecPerMM, 0, 600},
		{"low pressure MPa", m.LowPressureMPa, 1, maxPressureMPa},
		{"largest stack mm", m.MaxStackMM, 0, inf},
		{"hours per day", m.HoursPerDay, 0, 24},
	}
}

// Validate reports what in m is missing or impossible.
func (m Material) Validate() error {
	var errs []error
	if m.Process != Plain && m.Process != Abrasive {
		errs = append(errs, fmt.Errorf("material %s: process %q: use plain or abrasive", m.Name, m.Process))
	} else if c := m.coefficient(); !positive(c.Value) {
		errs = append(errs, fmt.Errorf("material %s: %s: give a %s above 0, or learn it from test cuts", m.Name, m.Process, map[Process]string{Plain: "plain_k", Abrasive: "machinability"}[m.Process]))
	}
	if m.Calibration != nil {
		if err := m.Calibration.Validate(); err != nil {
			errs = append(errs, fmt.Errorf("material %s: %w", m.Name, err))
		}
	}
	for _, q := range []struct {
		name string
		v    Quantity
	}{
		{"thickness exponent", m.ThicknessExponent},
		{"pressure exponent", m.PressureExponent},
		{"orifice exponent", m.OrificeExponent},
		{"density", m.DensityKgPerM3},
		{"feed cap", m.FeedCapMMPerMin},
	} {
		if !(q.v.Value >= 0) || math.IsInf(q.v.Value, 0) || !(q.v.RelStdDev >= 0) {
			errs = append(errs, fmt.Errorf("material %s: %s %v: give a value of 0 or more", m.Name, q.name, q.v.Value))
		}
	}
	return errors.Join(errs...)
}

// CheckJetSpeed says whether a stated jet speed in m/s is possible at a
// pressure in MPa: no jet is faster than Bernoulli's.
func CheckJetSpeed(mPerS, pressureMPa float64) error {
	ideal := BernoulliSpeed(pressureMPa)
	if mPerS <= ideal {
		return nil
	}
	return fmt.Errorf("jet speed %.0f m/s is impossible at %.0f MPa: the ideal limit is %.0f m/s, and %.0f m/s would need at least %.0f MPa",
		mPerS, pressureMPa, ideal, mPerS, PressureForSpeed(mPerS))
}

// Warnings names settings of m that work but are unusual: the usual ranges are
// common practice, the room left around them judgement [Derived].
func (m Machine) Warnings() []string {
	m = m.Filled()
	if m.Process != Abrasive || m.OrificeMM <= 0 || m.TubeMM <= 0 {
		return nil
	}
	var out []string
	if r := m.TubeMM / m.OrificeMM; !within(r, 2, 4.5) {
		out = append(out, fmt.Sprintf("machine %s: mixing tube is %.1f times the orifice; about 3 is usual [%s]", m.ID, r, CommonPractice))
	}
	if l := AbrasiveLoading(m); !within(l, 0.05, 0.25) {
		out = append(out, fmt.Sprintf("machine %s: abrasive is %.0f %% of the water's mass; 10 to 15 %% is usual [%s]", m.ID, 100*l, CommonPractice))
	}
	return out
}

// AbrasiveLoading returns the abrasive's mass as a share of the water's.
func AbrasiveLoading(m Machine) float64 {
	m = m.Filled()
	water := WaterMass(OrificeFlow(m.PressureMPa, m.OrificeMM, m.OrificeCd))
	return m.AbrasiveGPerMin / gramsPerKg / water
}

func positive(v float64) bool { return v > 0 && !math.IsInf(v, 0) }

func within(v, least, most float64) bool { return v >= least && v <= most }

func pressureSlip(mpa float64) string {
	switch {
	case within(mpa, 1000, 7000):
		return " (bar? that would be " + short(MPaFromBar(mpa)) + " MPa)"
	case mpa > 7000:
		return " (psi? that would be " + short(MPaFromKSI(mpa/1000)) + " MPa)"
	}
	return ""
}

func lengthSlip(v, least, most float64) string {
	if mm := MMFromInch(v); v > 0 && v < least && within(mm, least, most) {
		return " (inches? that would be " + short(mm) + " mm)"
	}
	return ""
}

func short(v float64) string { return fmt.Sprintf("%.4g", v) }

// namesAsbestos says whether a material's name says that it holds asbestos.
func namesAsbestos(name string) bool {
	n := strings.NewReplacer("-", " ", "_", " ").Replace(strings.ToLower(name))
	for _, free := range []string{"asbestos free", "non asbestos", "no asbestos"} {
		n = strings.ReplaceAll(n, free, "")
	}
	return strings.Contains(n, "asbest")
}
