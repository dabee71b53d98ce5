package cost

import "math"

// A shift is a departure of the uncertain inputs from their likely values: a
// sum of what each driver does. Logarithms are natural; zero is no departure.
type shift struct {
	pressure, abrasive, tube float64 // ln of the jet's settings
	coefficient              float64 // ln Nm or ln K
	thicknessExponent        float64
	pressureExponent         float64 // plain jet only
	orificeExponent          float64 // plain jet only
	clamp                    float64 // ln φ
	accel                    float64 // ln
	pierce                   float64 // ln κ
	pierceSec                float64 // t0, s
	handle                   float64 // ln of every handling time
}

func (a shift) plus(b shift, z float64) shift {
	return shift{
		pressure: a.pressure + z*b.pressure, abrasive: a.abrasive + z*b.abrasive, tube: a.tube + z*b.tube,
		coefficient:       a.coefficient + z*b.coefficient,
		thicknessExponent: a.thicknessExponent + z*b.thicknessExponent,
		pressureExponent:  a.pressureExponent + z*b.pressureExponent,
		orificeExponent:   a.orificeExponent + z*b.orificeExponent,
		clamp:             a.clamp + z*b.clamp, accel: a.accel + z*b.accel,
		pierce: a.pierce + z*b.pierce, pierceSec: a.pierceSec + z*b.pierceSec, handle: a.handle + z*b.handle,
	}
}

// lawAt is what the shift adds to the logarithm of the power law's speed at a
// solid thickness.
func (a shift) lawAt(s Setup, mm float64) float64 {
	if s.Material.Process == Plain {
		return a.coefficient + s.pressureExponent()*a.pressure +
			a.pressureExponent*math.Log(s.Machine.PressureMPa) +
			a.orificeExponent*math.Log(s.orificeMM()) - a.thicknessExponent*math.Log(mm)
	}
	return ExpOuter*(a.coefficient+ExpPressure*a.pressure+ExpAbrasive*a.abrasive-ExpTube*a.tube) -
		a.thicknessExponent*math.Log(mm/PivotMM.Value)
}
