package cost

import "math"

// How fast a jet widens in the air of a void, as the half-angle of its cone in
// degrees: an abrasive jet loses its coherence, a plain jet of good coherence
// hardly changes within 25 mm [Derived from that observation].
var (
	VoidHalfAngleDeg      = Quantity{Value: 2, RelStdDev: 0.5, Source: Derived}
	PlainVoidHalfAngleDeg = Quantity{Value: 0.2, RelStdDev: 0.5, Source: Derived}
)

// VoidFactor returns the share of its speed that a jet of diameter jetMM keeps
// after gapsMM of air in all. The widened jet is taken to cut as one from a
// tube as wide would: (d/(d + 2g·tan α))^(0.618·1.15) [Derived].
func VoidFactor(jetMM, gapsMM, halfAngleDeg float64) float64 {
	wide := jetMM + 2*gapsMM*math.Tan(halfAngleDeg*math.Pi/180)
	return math.Pow(jetMM/wide, ExpTube*ExpOuter)
}

// StackFactor returns φ, the share of the solid's speed that this stack
// reaches: 1 for a single sheet, else the clamp factor less what the gaps cost.
func (s Setup) StackFactor() float64 {
	s = s.filled()
	if !s.isStack() {
		return 1
	}
	angle := VoidHalfAngleDeg
	if s.Material.Process == Plain {
		angle = PlainVoidHalfAngleDeg
	}
	return s.Rates.ClampFactor * VoidFactor(s.jetMM(), s.GapsMM(), angle.Value)
}
