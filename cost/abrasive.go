package cost

import "math"

// The machinability formula and its constants [SourceZengKim]:
//
//	u = [ fa·Nm·P^1.594·do^1.374·Ma^0.343 / (C·q·h·dm^0.618) ]^1.15
//
// Published work disputes the thickness exponent (Hlaváč 2021, Materials
// 14:4032), so that one is a parameter here: it may differ from 1.15 about the
// pivot [PivotMM], where the formula keeps its own value.
const (
	ExpPressure = 1.594
	ExpOrifice  = 1.374
	ExpAbrasive = 0.343
	ExpTube     = 0.618
	ExpOuter    = 1.15
)

// PivotMM is the thickness at which a changed thickness exponent leaves the
// speed as it is: half an inch, the usual test plate.
var PivotMM = Quantity{Value: 12.7, Source: Derived}

// The formula's constant in the two unit systems.
var (
	ConstantSI = Quantity{Value: 788, Source: Unverified}
	ConstantUS = Quantity{Value: 163, Source: Unverified}
	// DefaultAbrasiveThicknessExponent is the formula's own.
	DefaultAbrasiveThicknessExponent = Quantity{Value: ExpOuter, RelStdDev: 0.05, Source: SourceZengKim}
)

// Abrasive factors of the formula.
var (
	GarnetFactor     = Quantity{Value: 1, Source: SourceZengKim}
	SilicaSandFactor = Quantity{Value: 0.77, Source: Unverified}
)

// An AbrasiveCut is the input of the machinability formula, in SI-based units.
type AbrasiveCut struct {
	Factor          float64 // fa
	Machinability   float64 // Nm
	PressureMPa     float64
	OrificeMM       float64
	AbrasiveGPerMin float64
	Index           float64 // q
	ThicknessMM     float64
	TubeMM          float64
	// ThicknessExponent is 1.15 in the published formula; 0 means that.
	ThicknessExponent float64
}

// AbrasiveSpeed returns the straight-line speed in mm/min of an abrasive cut.
func AbrasiveSpeed(c AbrasiveCut) float64 {
	return machinabilityLaw(c, ConstantSI.Value) * thicknessPivot(c.ThicknessMM, c.ThicknessExponent)
}

// AbrasiveSpeedUS is the formula in customary units: ksi, inches, lb/min,
// with the speed in in/min and the thickness exponent 1.15.
func AbrasiveSpeedUS(fa, nm, ksi, orificeIn, lbPerMin, q, thicknessIn, tubeIn float64) float64 {
	return machinabilityLaw(AbrasiveCut{
		Factor: fa, Machinability: nm, PressureMPa: ksi, OrificeMM: orificeIn,
		AbrasiveGPerMin: lbPerMin, Index: q, ThicknessMM: thicknessIn, TubeMM: tubeIn,
	}, ConstantUS.Value)
}

// machinabilityLaw is the published form in whichever units constant belongs to.
func machinabilityLaw(c AbrasiveCut, constant float64) float64 {
	jet := c.Factor * c.Machinability * math.Pow(c.PressureMPa, ExpPressure) *
		math.Pow(c.OrificeMM, ExpOrifice) * math.Pow(c.AbrasiveGPerMin, ExpAbrasive)
	work := constant * c.Index * c.ThicknessMM * math.Pow(c.TubeMM, ExpTube)
	return math.Pow(jet/work, ExpOuter)
}

// thicknessPivot turns the published thickness exponent into another one.
func thicknessPivot(mm, exponent float64) float64 {
	if exponent == 0 {
		return 1
	}
	return math.Pow(mm/PivotMM.Value, ExpOuter-exponent)
}

// RelativeSpeed returns the speed at grade index q as a share of the
// separation speed: q^-1.15.
func RelativeSpeed(q float64) float64 { return math.Pow(q, -ExpOuter) }
