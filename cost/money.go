package cost

// Money is where the money of a piece of work goes, in the rates' currency.
type Money struct {
	Material, Machine, Labour, Abrasive, Power, Water, Disposal, Wear, Cover float64
}

// Total is the sum of all.
func (m Money) Total() float64 {
	return m.Material + m.Process()
}

// Process is all but the material.
func (m Money) Process() float64 {
	return m.Machine + m.Labour + m.Abrasive + m.Power + m.Water + m.Disposal + m.Wear + m.Cover
}

// Price returns the money of a usage at these rates, sheetMoney being the price
// of one sheet.
func (r Rates) Price(u Usage, sheetMoney float64) Money {
	return Money{
		Material: u.Sheets * sheetMoney,
		Machine:  u.OccupiedSec / secPerHour * r.MachinePerHour,
		Labour:   u.LabourSec / secPerHour * r.LabourPerHour,
		Abrasive: u.AbrasiveKg * r.AbrasivePerKg,
		Power:    u.EnergyKWh * r.PowerPerKWh,
		Water:    u.WaterL / litresPerM3 * r.WaterPerM3,
		Disposal: u.SludgeKg * r.DisposalPerKg,
		Wear:     share(u.TubeH, r.TubeLifeH)*r.TubePrice + share(u.OrificeH, r.OrificeLifeH)*r.OrificePrice,
		Cover:    u.Covers * r.CoverPrice,
	}
}

// share is part over whole; 0 of an unknown whole.
func share(part, whole float64) float64 {
	if whole <= 0 {
		return 0
	}
	return part / whole
}

// Plus returns the sum of two.
func (m Money) Plus(v Money) Money { return m.add(v, 1) }

// Times returns m n times over.
func (m Money) Times(n float64) Money { return Money{}.add(m, n) }

func (m Money) add(v Money, n float64) Money {
	return Money{
		Material: m.Material + n*v.Material, Machine: m.Machine + n*v.Machine, Labour: m.Labour + n*v.Labour,
		Abrasive: m.Abrasive + n*v.Abrasive, Power: m.Power + n*v.Power, Water: m.Water + n*v.Water,
		Disposal: m.Disposal + n*v.Disposal, Wear: m.Wear + n*v.Wear, Cover: m.Cover + n*v.Cover,
	}
}
