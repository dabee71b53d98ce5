package cost

import "math"

// A Usage is what a piece of work uses up.
type Usage struct {
	JetSec, HeadSec, HandleSec float64
	OccupiedSec                float64 // the machine is held
	LabourSec                  float64
	WaterL, AbrasiveKg         float64
	EnergyKWh                  float64 // at the pump's motor
	KerfKg                     float64 // material turned to fines
	SludgeKg                   float64 // spent abrasive and fines
	TubeH, OrificeH            float64 // running hours taken from their lives
	Sheets, Covers             float64
}

// WaterLPerMin is the water flow of a setup in L/min.
func (s Setup) WaterLPerMin() float64 {
	s = s.filled()
	return OrificeFlow(s.Machine.PressureMPa, s.orificeMM(), s.Machine.OrificeCd)
}

// JetKW is the jet's hydraulic power in kW.
func (s Setup) JetKW() float64 { return JetPower(s.Machine.PressureMPa, s.WaterLPerMin()) }

// MotorKW is the power in kW that the pump's motor draws while the jet is on.
func (s Setup) MotorKW() float64 { return MotorPower(s.JetKW(), s.filled().Machine.MotorToJet) }

// abrasiveKgPerMin is the abrasive flow, none for a plain cut.
func (s Setup) abrasiveKgPerMin() float64 {
	if s.Material.Process == Plain {
		return 0
	}
	return s.Machine.AbrasiveGPerMin / gramsPerKg
}

// KerfMass returns the mass in kg of a kerf: ρ·w·h·L (kg/m³ and mm).
func KerfMass(densityKgPerM3, kerfMM, thicknessMM, lengthMM float64) float64 {
	return densityKgPerM3 * kerfMM * thicknessMM * lengthMM / mm3PerM3
}

// usage is what a run with this time uses.
func (s Setup) usage(t Time, sh shift) Usage {
	jetMin := t.JetSec() / secPerMin
	u := Usage{
		JetSec: t.JetSec(), HeadSec: t.HeadSec(), HandleSec: t.HandleSec,
		OccupiedSec: t.OccupiedSec(s.Machine.Tables), LabourSec: s.labourSec(t),
		WaterL:     s.WaterLPerMin() * jetMin * math.Exp(sh.pressure/2),
		AbrasiveKg: s.abrasiveKgPerMin() * jetMin * math.Exp(sh.abrasive),
		EnergyKWh:  s.MotorKW() * t.JetSec() / secPerHour * math.Exp(sh.pressure*3/2),
		KerfKg:     KerfMass(s.Material.DensityKgPerM3.Value, s.KerfMM(), s.SolidMM(), t.CutMM),
		OrificeH:   t.JetSec() / secPerHour,
		Sheets:     float64(s.Depth()), Covers: float64(s.covers()),
	}
	if s.Material.Process == Abrasive {
		u.TubeH = u.OrificeH
	}
	u.SludgeKg = u.AbrasiveKg + u.KerfKg
	return u
}

// labourSec is the operator's time: all handling, and the head's time but for
// the share it runs unattended. With two tables one operator does both at once.
func (s Setup) labourSec(t Time) float64 {
	attended := t.HeadSec() * (1 - s.Rates.UnattendedShare)
	if s.Machine.Tables >= 2 {
		return max(attended, t.HandleSec)
	}
	return attended + t.HandleSec
}

// Plus returns the sum of two usages.
func (u Usage) Plus(v Usage) Usage { return u.add(v, 1) }

// Times returns u n times over.
func (u Usage) Times(n float64) Usage { return Usage{}.add(u, n) }

func (u Usage) add(v Usage, n float64) Usage {
	return Usage{
		JetSec: u.JetSec + n*v.JetSec, HeadSec: u.HeadSec + n*v.HeadSec, HandleSec: u.HandleSec + n*v.HandleSec,
		OccupiedSec: u.OccupiedSec + n*v.OccupiedSec, LabourSec: u.LabourSec + n*v.LabourSec,
		WaterL: u.WaterL + n*v.WaterL, AbrasiveKg: u.AbrasiveKg + n*v.AbrasiveKg, EnergyKWh: u.EnergyKWh + n*v.EnergyKWh,
		KerfKg: u.KerfKg + n*v.KerfKg, SludgeKg: u.SludgeKg + n*v.SludgeKg,
		TubeH: u.TubeH + n*v.TubeH, OrificeH: u.OrificeH + n*v.OrificeH,
		Sheets: u.Sheets + n*v.Sheets, Covers: u.Covers + n*v.Covers,
	}
}
