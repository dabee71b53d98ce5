package cost

// A Limit says what bounds a feed or a time.
type Limit string

// The limits. The first three bound a straight line's feed, all of them a time.
const (
	LimitLaw      Limit = "power law"        // what the jet cuts at this grade and height
	LimitMaterial Limit = "material cap"     // the feed that the sheet bears
	LimitMachine  Limit = "machine cap"      // the fastest cutting feed of the machine
	LimitBends    Limit = "arcs and corners" // slowed so that the edge keeps its grade
	LimitMotion   Limit = "acceleration"     // speeding up, slowing down and the pull in bends
)

// A Speed is a cutting feed on a straight line and what bounds it.
type Speed struct {
	MMPerMin float64
	Law      float64 // mm/min by the power law alone, stack factor included
	Limit    Limit
}

// SpeedOf returns the straight-line feed of a setup: the power law at the
// stack's thickness times the stack factor, bounded by the caps of material
// and machine. The error is that of [Setup.Check].
func SpeedOf(s Setup) (Speed, error) {
	if err := s.Check(); err != nil {
		return Speed{}, err
	}
	return s.filled().speed(), nil
}

func (s Setup) speed() Speed { return s.bounded(s.lawOnly()) }

// lawOnly is the power law's speed in mm/min through the whole stack.
func (s Setup) lawOnly() float64 {
	return s.StackFactor() * s.lawSpeed(s.Grade.Index(), s.SolidMM())
}

// bounded applies the feed caps to a speed in mm/min.
func (s Setup) bounded(law float64) Speed {
	v := Speed{MMPerMin: law, Law: law, Limit: LimitLaw}
	v.bound(s.Material.FeedCapMMPerMin.Value, LimitMaterial)
	v.bound(s.Machine.FeedCapMMPerMin, LimitMachine)
	return v
}

func (v *Speed) bound(feedCap float64, l Limit) {
	if feedCap > 0 && v.MMPerMin > feedCap {
		v.MMPerMin, v.Limit = feedCap, l
	}
}

// lawSpeed is the power law in mm/min at grade index q and a solid thickness.
func (s Setup) lawSpeed(q, mm float64) float64 {
	if s.Material.Process == Plain {
		return PlainSpeed(s.plainCut(q, mm))
	}
	return AbrasiveSpeed(s.abrasiveCut(q, mm))
}

func (s Setup) abrasiveCut(q, mm float64) AbrasiveCut {
	return AbrasiveCut{
		Factor: s.Machine.AbrasiveFactor, Machinability: s.Material.Machinability.Value,
		PressureMPa: s.Machine.PressureMPa, OrificeMM: s.Machine.OrificeMM,
		AbrasiveGPerMin: s.Machine.AbrasiveGPerMin, Index: q, ThicknessMM: mm, TubeMM: s.Machine.TubeMM,
		ThicknessExponent: s.Material.ThicknessExponent.Value,
	}
}

func (s Setup) plainCut(q, mm float64) PlainCut {
	return PlainCut{
		K: s.Material.PlainK.Value, PressureMPa: s.Machine.PressureMPa, OrificeMM: s.orificeMM(), ThicknessMM: mm,
		PressureExponent: s.Material.PressureExponent.Value, OrificeExponent: s.Material.OrificeExponent.Value,
		ThicknessExponent: s.Material.ThicknessExponent.Value, Index: q,
	}
}

// gradeExponent is how speed falls with the grade index: u ∝ q^-e.
func (s Setup) gradeExponent() float64 {
	if s.Material.Process == Plain {
		return PlainGradeExponent.Value
	}
	return ExpOuter
}

// pressureExponent is how speed grows with pressure: u ∝ P^e.
func (s Setup) pressureExponent() float64 {
	if s.Material.Process == Plain {
		return s.Material.PressureExponent.Value
	}
	return ExpPressure * ExpOuter
}
