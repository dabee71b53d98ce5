package cost

import "math"

// LagFactor relates the jet's lag ℓ to thickness and grade index:
// ℓ = 0.182·h/q.
var LagFactor = Quantity{Value: 0.182, RelStdDev: 0.2, Source: Unverified}

// defaultArcError is the edge error in mm that a grade accepts from the jet's
// lag on arcs and corners where neither order nor machine says [Derived].
var defaultArcError = [...]float64{Separate: 0.5, Rough: 0.2, Medium: 0.1, Good: 0.05, Fine: 0.03}

// A Lag is what the trailing bottom of the jet demands on arcs and corners.
type Lag struct {
	ThicknessMM float64
	Index       float64 // grade index asked for on straight lines
	ErrorMM     float64 // edge error allowed
	// LawMMPerMin is the power law's speed at Index; it falls as q^-Exponent.
	LawMMPerMin, Exponent float64
}

// LengthMM is how far the jet's exit trails its entry on a straight line.
func (l Lag) LengthMM() float64 { return LagLength(l.ThicknessMM, l.Index) }

// LagLength returns the jet's lag in mm at a thickness in mm and a grade index.
func LagLength(thicknessMM, q float64) float64 { return LagFactor.Value * thicknessMM / q }

// ArcIndex returns the grade index that keeps the radial error of an arc of
// radius r mm within errorMM: a lag ℓ on radius R strays by E where
// ℓ = √((R+E)² − R²).
func ArcIndex(thicknessMM, r, errorMM float64) float64 {
	lag := math.Sqrt(errorMM * (2*r + errorMM))
	return LagFactor.Value * thicknessMM / lag
}

// CornerIndex returns the grade index that keeps the trailing jet within
// errorMM of a corner of interior angle thetaDeg: a chord of length ℓ across
// the corner leaves its tip by (ℓ/2)·cos(θ/2) [Derived].
func CornerIndex(thicknessMM, errorMM, thetaDeg float64) float64 {
	return cornerIndex(thicknessMM, errorMM, math.Cos(thetaDeg/2*math.Pi/180))
}

func cornerIndex(thicknessMM, errorMM, cosHalf float64) float64 {
	return LagFactor.Value * thicknessMM * cosHalf / (2 * errorMM)
}

// feed is the law's speed in mm/min where grade index q is needed.
func (l Lag) feed(q float64) float64 {
	if q <= l.Index {
		return l.LawMMPerMin
	}
	return l.LawMMPerMin * math.Pow(l.Index/q, l.Exponent)
}

// errorMM is the edge error the setup allows.
func (s Setup) errorMM() float64 {
	switch {
	case s.ToleranceMM > 0:
		return s.ToleranceMM
	case s.Machine.ArcErrorMM > 0:
		return s.Machine.ArcErrorMM
	}
	return defaultArcError[s.Grade]
}

func (s Setup) lag(law float64) *Lag {
	return &Lag{
		ThicknessMM: s.SolidMM(), Index: s.Grade.Index(), ErrorMM: s.errorMM(),
		LawMMPerMin: law, Exponent: s.gradeExponent(),
	}
}
