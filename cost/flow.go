package cost

import "math"

// OrificeFlow returns the water flow in L/min through an orifice:
// Q = Cd·(π/4)·do²·√(2P/ρ0).
func OrificeFlow(pressureMPa, orificeMM, cd float64) float64 {
	mm3PerS := cd * math.Pi / 4 * orificeMM * orificeMM * BernoulliSpeed(pressureMPa) * mmPerM
	return mm3PerS * secPerMin / mm3PerM3 * litresPerM3
}

// WaterMass returns the mass in kg/min of a water flow in L/min, measured at
// the pump's inlet.
func WaterMass(lPerMin float64) float64 {
	return lPerMin / litresPerM3 * WaterDensity0.Value
}

// JetPower returns the hydraulic power in kW of a flow at a pressure: P·Q.
func JetPower(pressureMPa, lPerMin float64) float64 {
	return pressureMPa * paPerMPa * lPerMin / litresPerM3 / secPerMin / wattsPerKW
}

// KineticPower returns the power in kW that the free jet carries: ½·ṁ·(Cv·v)²
// with the compressible speed.
func KineticPower(pressureMPa, lPerMin, cv float64) float64 {
	v := cv * JetSpeed(pressureMPa)
	return WaterMass(lPerMin) / secPerMin * v * v / 2 / wattsPerKW
}

// PressureForPower returns the pressure in MPa at which an orifice passes a
// jet power in kW: P·Q solved for P.
func PressureForPower(kw, orificeMM, cd float64) float64 {
	atOne := JetPower(1, OrificeFlow(1, orificeMM, cd))
	return math.Pow(kw/atOne, 2.0/3)
}

// MotorPower returns the pump motor's power in kW for a jet power in kW, when
// share of it arrives in the jet.
func MotorPower(jetKW, share float64) float64 { return jetKW / share }

// IntensifierPressure returns the water pressure in MPa that an intensifier
// makes of an oil pressure: r·P_oil·η, r the area ratio and η the efficiency.
func IntensifierPressure(oilMPa, ratio, efficiency float64) float64 {
	return ratio * oilMPa * efficiency
}
