package cost

import "math"

// JetSpeedUS returns the ideal jet speed in ft/s at a pressure in psi:
// 12.186·√P [SourceWJTA].
func JetSpeedUS(psi float64) float64 { return 12.186 * math.Sqrt(psi) }

// FlowUS returns the ideal flow in US gallons per minute through an orifice in
// inches at a pressure in psi, discharge coefficient 1: 29.91·D²·√P [SourceWJTA].
func FlowUS(psi, orificeIn float64) float64 {
	return 29.91 * orificeIn * orificeIn * math.Sqrt(psi)
}

// JetHP returns the jet's power in horsepower at a pressure in ksi and a flow
// in US gallons per minute: 0.58·P·Q [SourceWJTA].
func JetHP(ksi, gpm float64) float64 { return 0.58 * ksi * gpm }
