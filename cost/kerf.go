package cost

import "math"

// Constants of the kerf.
var (
	// KerfRatio is kerf width over jet diameter, 1.0 to 1.1.
	KerfRatio = Quantity{Value: 1.05, RelStdDev: 0.03, Source: Unverified}
	// StandOffHalfAngleDeg widens the kerf with the stand-off.
	StandOffHalfAngleDeg = Quantity{Value: 1, RelStdDev: 0.5, Source: Unverified}
	// TaperSeparateMM and TaperFineMM span the usual difference between the
	// kerf's widths at top and bottom.
	TaperSeparateMM = Quantity{Value: 0.25, RelStdDev: 0.3, Source: Unverified}
	TaperFineMM     = Quantity{Value: 0.08, RelStdDev: 0.3, Source: Unverified}
	// TaperLimitDeg bounds the taper of one edge on thin sheet.
	TaperLimitDeg = Quantity{Value: 2, Source: Unverified}
)

// KerfWidth returns the kerf's width in mm at the top: the ratio times the
// jet's diameter and what the stand-off adds.
func KerfWidth(jetMM, standOffMM float64) float64 {
	return KerfRatio.Value*jetMM + 2*standOffMM*math.Tan(StandOffHalfAngleDeg.Value*math.Pi/180)
}

// KerfMM is the kerf width of a setup in mm.
func (s Setup) KerfMM() float64 {
	s = s.filled()
	return KerfWidth(s.jetMM(), s.standOff())
}

// standOff is the stand-off that widens the kerf: a plain jet hardly widens
// within its own.
func (s Setup) standOff() float64 {
	if s.Material.Process == Plain {
		return 0
	}
	return s.Machine.StandOffMM
}

// TaperMM returns by how much the kerf is narrower at the bottom, in mm, both
// edges together: a power of the grade index through the usual values at
// separate and fine, and no more than the taper limit on both edges [Derived].
func TaperMM(q, thicknessMM float64) float64 {
	slope := math.Log(TaperFineMM.Value/TaperSeparateMM.Value) / math.Log(Fine.Index())
	taper := TaperSeparateMM.Value * math.Pow(q, slope)
	return min(taper, 2*thicknessMM*math.Tan(TaperLimitDeg.Value*math.Pi/180))
}

// usualTubeMM is the bore of the tube for which the usual taper is known.
var usualTubeMM = Quantity{Value: 1, Source: Unverified}

// taperScale is the taper of this jet as a share of the usual one: a plain jet
// is thinner than a tube's, and its taper with it [Derived].
func (s Setup) taperScale() float64 {
	if s.Material.Process == Plain {
		return math.Min(1, s.jetMM()/usualTubeMM.Value)
	}
	return 1
}

// The least gap between parts and the shortest lead-in, mm, on thin sheet.
var (
	LeastPartGapMM = Quantity{Value: 2, Source: Unverified}
	LeastLeadInMM  = Quantity{Value: 3, Source: Unverified}
)

// PartGapMM returns the default gap between parts in mm at a thickness in mm:
// max(2, h/2) [Unverified].
func PartGapMM(thicknessMM float64) float64 { return max(LeastPartGapMM.Value, thicknessMM/2) }

// LeadInMM returns the default lead-in in mm at a thickness in mm:
// max(3, 0.3·h) [Unverified].
func LeadInMM(thicknessMM float64) float64 { return max(LeastLeadInMM.Value, 0.3*thicknessMM) }

// SheetMarginMM is the default margin to the sheet's edge, of the usual 5 to 10.
var SheetMarginMM = Quantity{Value: 8, Source: Unverified}

// ThinWebMM returns the web between two cuts in mm at and below which the jet
// breaks through; 0.25 mm at 1.6 mm of aluminium is known to [Unverified],
// taken here in proportion to thickness [Derived].
func ThinWebMM(thicknessMM float64) float64 { return 0.25 * thicknessMM / 1.6 }
