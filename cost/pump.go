package cost

import (
	"fmt"
	"math"
)

// UsualOrificesMM are the jewel sizes commonly stocked, 4 to 20 thousandths of
// an inch [CommonPractice].
var UsualOrificesMM = thousandths(4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 18, 20)

func thousandths(thou ...float64) []float64 {
	mm := make([]float64, len(thou))
	for i, t := range thou {
		mm[i] = MMFromInch(t / 1000)
	}
	return mm
}

// A PumpError says that a pump's motor cannot feed an orifice.
type PumpError struct {
	Machine            string // its id
	OrificeMM          float64
	PressureMPa        float64
	NeedKW, HaveKW     float64 // of the motor
	LargestMM, UsualMM float64 // what the motor can feed; UsualMM is 0 when no usual size is small enough
	FeedableMPa        float64 // pressure this orifice could be fed at
}

// Error says what the orifice needs, what the pump has, and what it could feed.
func (e *PumpError) Error() string {
	usual := "no usual size is small enough"
	if e.UsualMM > 0 {
		usual = fmt.Sprintf("the largest usual size is %.3f mm", e.UsualMM)
	}
	return fmt.Sprintf("machine %s: a %.3f mm orifice at %.0f MPa needs a %.1f kW motor, the pump has %.1f kW: fit at most %.3f mm (%s), or run at %.0f MPa or less",
		e.Machine, e.OrificeMM, e.PressureMPa, e.NeedKW, e.HaveKW, e.LargestMM, usual, e.FeedableMPa)
}

// CheckPump says whether m's motor can feed an orifice at m's pressure; the
// error is a [*PumpError]. A motor of 0 kW is not known and passes.
func CheckPump(m Machine, orificeMM float64) error {
	m = m.Filled()
	need := MotorPower(JetPower(m.PressureMPa, OrificeFlow(m.PressureMPa, orificeMM, m.OrificeCd)), m.MotorToJet)
	if m.MotorKW <= 0 || need <= m.MotorKW {
		return nil
	}
	largest := LargestOrifice(m)
	return &PumpError{
		Machine: m.ID, OrificeMM: orificeMM, PressureMPa: m.PressureMPa,
		NeedKW: need, HaveKW: m.MotorKW, LargestMM: largest, UsualMM: usualUpTo(largest),
		FeedableMPa: PressureForPower(m.MotorKW*m.MotorToJet, orificeMM, m.OrificeCd),
	}
}

// LargestOrifice returns the largest orifice in mm that m's motor feeds at m's
// pressure; infinite when the motor is not known.
func LargestOrifice(m Machine) float64 {
	m = m.Filled()
	if m.MotorKW <= 0 {
		return math.Inf(1)
	}
	atOne := JetPower(m.PressureMPa, OrificeFlow(m.PressureMPa, 1, m.OrificeCd))
	return math.Sqrt(m.MotorKW * m.MotorToJet / atOne)
}

func usualUpTo(mm float64) float64 {
	best := 0.0
	for _, d := range UsualOrificesMM {
		if d <= mm {
			best = d
		}
	}
	return best
}
