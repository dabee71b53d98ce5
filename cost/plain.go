package cost

import "math"

// Start values of the plain jet's power law u = K·P^a·do^b/h^c [Derived]; K is
// learnt per material from test cuts. The law describes the grade medium;
// other grades scale it by [PlainGradeFactor].
var (
	DefaultPlainPressureExponent  = Quantity{Value: 1.5, RelStdDev: 0.15, Source: Derived}
	DefaultPlainOrificeExponent   = Quantity{Value: 1.2, RelStdDev: 0.15, Source: Derived}
	DefaultPlainThicknessExponent = Quantity{Value: 1, RelStdDev: 0.10, Source: Derived}
	// PlainGradeExponent says how the plain jet's speed falls with the grade
	// index: soft sheet gains less from a slower cut than metal does.
	PlainGradeExponent = Quantity{Value: 0.5, RelStdDev: 0.3, Source: Derived}
)

// A PlainCut is the input of the plain jet's power law.
type PlainCut struct {
	K           float64 // mm/min at 1 MPa, 1 mm orifice, 1 mm thickness
	PressureMPa float64
	OrificeMM   float64
	ThicknessMM float64
	// Exponents; 0 means the start value.
	PressureExponent, OrificeExponent, ThicknessExponent float64
	Index                                                float64 // grade index q
}

func (c PlainCut) filled() PlainCut {
	setDefault(&c.PressureExponent, DefaultPlainPressureExponent.Value)
	setDefault(&c.OrificeExponent, DefaultPlainOrificeExponent.Value)
	setDefault(&c.ThicknessExponent, DefaultPlainThicknessExponent.Value)
	setDefault(&c.Index, Medium.Index())
	return c
}

// PlainSpeed returns the straight-line speed in mm/min of a plain jet.
func PlainSpeed(c PlainCut) float64 { return c.K * plainLaw(c) }

// PlainK returns the K that makes c cut at a speed in mm/min; c.K is ignored.
func PlainK(c PlainCut, mmPerMin float64) float64 { return mmPerMin / plainLaw(c) }

// plainLaw is the speed for K = 1.
func plainLaw(c PlainCut) float64 {
	c = c.filled()
	return math.Pow(c.PressureMPa, c.PressureExponent) * math.Pow(c.OrificeMM, c.OrificeExponent) /
		math.Pow(c.ThicknessMM, c.ThicknessExponent) * PlainGradeFactor(c.Index)
}

// PlainGradeFactor returns the plain jet's speed at grade index q as a share of
// its speed at the grade medium.
func PlainGradeFactor(q float64) float64 {
	return math.Pow(Medium.Index()/q, PlainGradeExponent.Value)
}

// PlainLimitMM returns the thickness in mm beyond which the plain jet is not
// for a family of materials, and whether such a bound is known.
func PlainLimitMM(f Family) (limit Quantity, bounded bool) {
	switch f {
	case Metal:
		return Quantity{Value: 3, Source: SourceJSME}, true // "a few mm"
	case Wood, Stone:
		return Quantity{Value: 20, Source: SourceJSME}, true
	case Plastic:
		return Quantity{Value: 100, Source: SourceJSME}, true
	case Rubber:
		return Quantity{Value: 400, Source: SourceJSME}, true
	case Glass, Ceramic:
		return Quantity{Value: 0, Source: CommonPractice}, true
	}
	return Quantity{}, false
}
