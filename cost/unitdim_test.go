package cost

import (
	"math"
	"strings"
)

// A unit is one in which this package counts. The minute is another unit than
// the second, the gram another than the kilogram: so a conversion left out shows.
type unit int

const (
	millimetre unit = iota
	metre
	second
	minute
	hour
	gram
	kilogram
	megapascal
	kilowatt
	litre
	currency
	allUnits
)

// A dim is the power to which each unit enters a number.
type dim [allUnits]float64

func (d dim) times(e dim) dim {
	for u := range d {
		d[u] += e[u]
	}
	return d
}

func (d dim) pow(p float64) dim {
	for u := range d {
		d[u] *= p
	}
	return d
}

func (d dim) per(e dim) dim { return d.times(e.pow(-1)) }

func base(u unit) dim {
	var d dim
	d[u] = 1
	return d
}

var (
	pure      dim
	mm        = base(millimetre)
	metres    = base(metre)
	sec       = base(second)
	perMinute = base(minute).pow(-1)
	hours     = base(hour)
	kg        = base(kilogram)
	mpa       = base(megapascal)
	kw        = base(kilowatt)
	litres    = base(litre)
	cash      = base(currency)
	m3        = metres.pow(3)
	mPerS     = metres.per(sec)
	mmPerMin  = mm.times(perMinute)
	mmPerS    = mm.per(sec)
	mmPerS2   = mm.per(sec.pow(2))
	gPerMin   = base(gram).times(perMinute)
	lPerMin   = litres.times(perMinute)
	kgPerMin  = kg.times(perMinute)
	kgPerM3   = kg.per(m3)
	kwh       = kw.times(hours)
	pascal    = kg.per(metres).per(sec.pow(2))
	watt      = pascal.times(m3).per(sec)
)

// A measure is a choice of units: by how much the number of something measured
// in each of them grows when the unit shrinks.
type measure [allUnits]float64

func (m measure) factor(d dim) float64 {
	ln := 0.0
	for u, f := range m {
		ln += d[u] * math.Log(f)
	}
	return math.Exp(ln)
}

// nameUnits are the units that names carry at their end, longer ones first.
var nameUnits = []struct {
	end string
	dim dim
}{
	{"MMPerMin", mmPerMin},
	{"MMPerS2", mmPerS2},
	{"SecPerMM", sec.per(mm)},
	{"SecPerSheet", sec},
	{"SecPerPart", sec},
	{"Sec", sec},
	{"GPerMin", gPerMin},
	{"KgPerM3", kgPerM3},
	{"PerHour", cash.per(hours)},
	{"PerKg", cash.per(kg)},
	{"PerKWh", cash.per(kwh)},
	{"PerM3", cash.per(m3)},
	{"Price", cash},
	{"Money", cash},
	{"KWh", kwh},
	{"KW", kw},
	{"Kg", kg},
	{"MPa", mpa},
	{"MM", mm},
	{"HoursPerDay", hours},
	{"WaterL", litres},
	{"TubeH", hours},
	{"OrificeH", hours},
	{"LifeH", hours},
	{"MostH", hours},
}

// unitOfName is the unit that a name carries.
func unitOfName(name string) (dim, bool) {
	for _, n := range nameUnits {
		if strings.HasSuffix(name, n.end) {
			return n.dim, true
		}
	}
	return pure, false
}

// fieldUnits are the units of fields whose names carry none. A number in a field
// that has a unit neither here nor in its name is a mistake.
var fieldUnits = map[string]dim{
	"Speed.Law":         mmPerMin,
	"Work.RapidsMM":     mm,
	"FitSpeed.Speed":    mmPerMin,
	"PathTime.Sec":      sec,
	"RunEstimate.Money": cash, "StackForecast.SecondsEstimate": sec, "StackForecast.MoneyEstimate": cash, "StackChoice.Seconds": sec,
	"PartDepth.SecondsEstimate": sec, "PartDepth.MoneyEstimate": cash,
	"Money.Material": cash, "Money.Machine": cash, "Money.Labour": cash, "Money.Abrasive": cash, "Money.Power": cash,
	"Money.Water": cash, "Money.Disposal": cash, "Money.Wear": cash, "Money.Cover": cash,
	"Claim.CutWeight": sec, "Claim.MaterialWeight": mm.pow(2),
	// Shares, exponents, indices, probabilities and logarithms.
	"Machine.PressureRipple": pure, "Machine.MotorToJet": pure, "Machine.OrificeCd": pure, "Machine.AbrasiveFactor": pure,
	"Material.Machinability": pure, "Material.ThicknessExponent": pure, "Material.PressureExponent": pure, "Material.OrificeExponent": pure,
	"Material.PierceFactor": pure, "Material.PlainK": pure, // see fixMaterial
	"Rates.ClampFactor": pure, "Rates.UnattendedShare": pure,
	"Usage.Sheets": pure, "Usage.Covers": pure, "Quality.Index": pure, "Lag.Index": pure, "Lag.Exponent": pure,
	"StackForecast.Wins": pure, "PartDepth.Wins": pure, "PartDepth.LimitShare": pure, "PartJob.RemnantShare": pure, "WhatIf.MoneySaved": pure, "WhatIf.SecondsSaved": pure,
	"AbrasiveCut.Factor": pure, "AbrasiveCut.Machinability": pure, "AbrasiveCut.Index": pure, "AbrasiveCut.ThicknessExponent": pure,
	"PlainCut.K": pure, "PlainCut.PressureExponent": pure, "PlainCut.OrificeExponent": pure, "PlainCut.ThicknessExponent": pure, "PlainCut.Index": pure,
	"Cut.AbrasiveFactor": pure, "Calibration.Covariance": pure, "Assumption.Spread": pure,
	"Fit.Level": pure, "Learnt.Value": pure, "Learnt.StdErr": pure, "Learnt.DoF": pure, "Learnt.Default": pure, "Kept.Default": pure,
	"FitRow.Measured": pure, "FitRow.Fitted": pure, "FitRow.Residual": pure, "FitRow.Scaled": pure, "FitRow.Leverage": pure,
	"Scatter.Rel": pure, "Scatter.DoF": pure, "Input.Value": pure, "Step.Value": pure,
	"Quantity.RelStdDev": pure, "Interval.Level": pure,
}

// asWhole are the numbers whose unit is that of the field or argument which
// holds them.
var asWhole = map[string]bool{
	"Quantity.Value": true, "Interval.Low": true, "Interval.Likely": true, "Interval.High": true,
	"Estimate.Likely": true, "Estimate.Parts": true, "Contribution.Delta": true,
}
