package cost

import "math"

// Constants of the pierce law t = t0 + κ·dm/u1, u1 the separation speed, by
// method [Derived; calibrate with test cuts].
var (
	PierceFactorStationary = Quantity{Value: 50, RelStdDev: 0.3, Source: Derived}
	PierceFactorMoving     = Quantity{Value: 22.5, RelStdDev: 0.3, Source: Derived}
	DefaultPierceSec       = Quantity{Value: 0, Source: Derived}
)

// PierceTime returns the seconds to pierce: t0 + κ·d/u1, t0 in seconds, d the
// jet's diameter in mm and u1 the separation speed in mm/min at the sheet's
// thickness [Derived].
func PierceTime(t0, kappa, jetMM, separationMMPerMin float64) float64 {
	return t0 + kappa*jetMM/(separationMMPerMin/secPerMin)
}

// LowPressureFactor returns how much longer piercing takes at a lower pressure:
// (P/P_low)^exponent, pressures in MPa, exponent 1.83 for the abrasive formula
// [Derived]. It is 1 where the low pressure is no lower.
func LowPressureFactor(pressureMPa, lowMPa, exponent float64) float64 {
	if lowMPa >= pressureMPa {
		return 1
	}
	return math.Pow(pressureMPa/lowMPa, exponent)
}

// PierceMethod is the method a setup uses: the material's wish, low pressure
// for brittle and laminated sheet, else the machine's.
func (s Setup) PierceMethod() PierceMethod {
	switch m := s.Material; {
	case m.Pierce != "":
		return m.Pierce
	case m.Brittle || m.Laminate:
		return LowPressure
	case s.Machine.Pierce != "":
		return s.Machine.Pierce
	case m.Process == Plain:
		return Stationary
	}
	return Moving
}

// pierceConstants returns t0 and κ of a setup.
func (s Setup) pierceConstants() (t0, kappa Quantity) {
	kappa = PierceFactorStationary
	if s.PierceMethod() == Moving {
		kappa = PierceFactorMoving
	}
	return s.Material.PierceSec.or(DefaultPierceSec), s.Material.PierceFactor.or(kappa)
}

// hasPierceTable says whether the machine's own pierce times replace the law.
func (s Setup) hasPierceTable() bool {
	return s.Machine.PierceFixedSec > 0 || s.Machine.PierceSecPerMM > 0
}

// PierceSec returns the seconds of one pierce through the whole stack, without
// the head's own delays.
func (s Setup) PierceSec() float64 { return s.filled().pierceSec(shift{}) }

func (s Setup) pierceSec(sh shift) float64 {
	h, gentle := s.SolidMM(), s.gentle()
	if s.hasPierceTable() {
		return (s.Machine.PierceFixedSec + s.Machine.PierceSecPerMM*h) * gentle * math.Exp(sh.pierce)
	}
	t0, kappa := s.pierceConstants()
	u1 := s.lawSpeed(Separate.Index(), h) * math.Exp(sh.lawAt(s, h))
	return PierceTime(max(0, t0.Value+sh.pierceSec), kappa.Value*math.Exp(sh.pierce), s.jetMM(), u1) * gentle
}

// gentle is how much longer a low-pressure start takes; 1 for other methods.
func (s Setup) gentle() float64 {
	if s.PierceMethod() != LowPressure {
		return 1
	}
	return LowPressureFactor(s.Machine.PressureMPa, s.Machine.LowPressureMPa, s.pressureExponent())
}

// headSec is the head's own delay at every pierce.
func (m Machine) headSec() float64 { return max(0, m.HeadSec) }

// PierceHoleMM returns the diameter in mm of the hole that a pierce leaves:
// 1.5 to 2 times the jet's, a moving head the wider [Unverified].
func PierceHoleMM(method PierceMethod, jetMM float64) float64 {
	if method == Moving {
		return 2 * jetMM
	}
	return 1.5 * jetMM
}
