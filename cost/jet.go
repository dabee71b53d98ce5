package cost

import "math"

// Constants of water under pressure.
var (
	// WaterDensity0 is ρ0, kg/m³, at 20 °C and ambient pressure.
	WaterDensity0 = Quantity{Value: 998.2, Source: CommonPractice}
	// WaterL (MPa) and WaterC are the constants of ρ = ρ0·(1 + P/L)^c.
	WaterL = Quantity{Value: 300, Source: SourceHashish}
	WaterC = Quantity{Value: 0.1368, Source: SourceHashish}
)

// BernoulliSpeed returns the ideal speed in m/s of an incompressible water jet:
// v = √(2P/ρ0). No jet is faster.
func BernoulliSpeed(pressureMPa float64) float64 {
	return math.Sqrt(2 * pressureMPa * paPerMPa / WaterDensity0.Value)
}

// JetSpeed returns the speed in m/s of a water jet with the water's
// compressibility [SourceHashish]:
// v = √{2L/(ρ0(1−c)) · [(1+P/L)^(1−c) − 1]}.
func JetSpeed(pressureMPa float64) float64 {
	l, c := WaterL.Value, WaterC.Value
	head := math.Expm1((1 - c) * math.Log1p(pressureMPa/l))
	return math.Sqrt(2 * l * paPerMPa / (WaterDensity0.Value * (1 - c)) * head)
}

// WaterDensity returns the density in kg/m³ of water under pressure:
// ρ = ρ0·(1 + P/L)^c.
func WaterDensity(pressureMPa float64) float64 {
	return WaterDensity0.Value * math.Pow(1+pressureMPa/WaterL.Value, WaterC.Value)
}

// PressureForSpeed returns the least pressure in MPa that an ideal jet of speed
// v (m/s) needs: P = ρ0·v²/2.
func PressureForSpeed(mPerS float64) float64 {
	return WaterDensity0.Value * mPerS * mPerS / 2 / paPerMPa
}
