package cost

import (
	"fmt"
	"math"
)

// Explain returns how the time and price of one run of w come about, step by
// step: formula, inputs, value and source of every number; sheetMoney is the price
// of one layer's sheet. The error is that of [LayoutTime].
func Explain(s Setup, w Work, sheetMoney float64) (Trace, error) {
	t, err := LayoutTime(s, w)
	if err != nil {
		return nil, err
	}
	s = s.filled()
	var tr Trace
	s.explainJet(&tr)
	s.explainSpeed(&tr)
	s.explainQuality(&tr)
	s.explainTime(&tr, w, t)
	u := s.usage(t, shift{})
	s.explainUsage(&tr, t, u)
	s.explainMoney(&tr, u, sheetMoney)
	s.explainInterval(&tr, w, sheetMoney)
	return tr, nil
}

func (s Setup) explainJet(tr *Trace) {
	m := s.Machine
	p := given("P", "pressure", m.PressureMPa, "MPa", m.Source)
	rho := of("ρ0", "water density", WaterDensity0, "kg/m³")
	do := given("do", "orifice", s.orificeMM(), "mm", m.Source)
	cd := given("Cd", "discharge coefficient", m.OrificeCd, "", sourceOf(m.OrificeCd, DefaultCd, m.Source))
	q, jet := s.WaterLPerMin(), s.JetKW()
	tr.add("jet speed", "v = √{2L/(ρ0(1−c)) · [(1+P/L)^(1−c) − 1]}", JetSpeed(m.PressureMPa), "m/s", SourceHashish,
		p, rho, of("L", "water constant", WaterL, "MPa"), of("c", "water constant", WaterC, ""))
	tr.add("ideal jet speed", "v = √(2P/ρ0)", BernoulliSpeed(m.PressureMPa), "m/s", "Bernoulli", p, rho)
	tr.add("water flow", "Q = Cd·(π/4)·do²·√(2P/ρ0)", q, "L/min", "orifice equation", p, rho, do, cd)
	tr.add("jet power", "P·Q", jet, "kW", "orifice equation", p, above("Q", "water flow", q, "L/min"))
	share := given("η", "motor to jet", m.MotorToJet, "", sourceOf(m.MotorToJet, DefaultMotorToJet, m.Source))
	tr.add("motor power", "jet power / η", s.MotorKW(), "kW", Derived, above("jet", "jet power", jet, "kW"), share)
	if m.MotorKW > 0 {
		tr.note(fmt.Sprintf("the pump has %.4g kW, which feeds an orifice of up to %.3f mm", m.MotorKW, LargestOrifice(m)))
	}
}

// sourceOf is the default's source where a value is the default, else the
// machine's.
func sourceOf(v float64, d Quantity, own Source) Source {
	if v == d.Value {
		return d.Source
	}
	return own
}

func (s Setup) explainSpeed(tr *Trace) {
	h := above("h", "solid thickness", s.SolidMM(), "mm")
	tr.add("solid thickness", "layers·t + covers·t_cover", h.Value, "mm", Derived,
		given("n", "layers", float64(s.Depth()), "", JobFile), given("t", "layer thickness", s.ThicknessMM, "mm", JobFile),
		given("covers", "cover sheets", float64(s.covers()), "", s.Rates.Source), given("t_cover", "cover thickness", s.Rates.CoverMM, "mm", s.Rates.Source))
	q := given("q", "grade index ("+s.Grade.String()+")", s.Grade.Index(), "", SourceZengKim)
	law := s.lawSpeed(s.Grade.Index(), s.SolidMM())
	if s.Material.Process == Plain {
		s.explainPlain(tr, law, h, q)
	} else {
		s.explainAbrasive(tr, law, h, q)
	}
	phi := s.StackFactor()
	if s.isStack() {
		s.explainStackFactor(tr, phi)
	}
	v := s.speed()
	tr.add("feed", "min(φ·u, material cap, machine cap)", v.MMPerMin, "mm/min", Derived,
		above("u", "power-law speed", law, "mm/min"), above("φ", "stack factor", phi, ""),
		of("material cap", "feed the sheet bears, 0 for none", s.Material.FeedCapMMPerMin, "mm/min"),
		given("machine cap", "fastest feed", s.Machine.FeedCapMMPerMin, "mm/min", s.Machine.Source))
	tr.note("bounded by the " + string(v.Limit))
}

func (s Setup) explainAbrasive(tr *Trace, law float64, h, q Input) {
	m := s.Machine
	inputs := []Input{
		given("fa", "abrasive factor", m.AbrasiveFactor, "", sourceOf(m.AbrasiveFactor, GarnetFactor, m.Source)),
		of("Nm", "machinability of "+s.Material.Name, s.Material.Machinability, ""),
		given("P", "pressure", m.PressureMPa, "MPa", m.Source), given("do", "orifice", m.OrificeMM, "mm", m.Source),
		given("Ma", "abrasive flow", m.AbrasiveGPerMin, "g/min", m.Source), of("C", "constant", ConstantSI, ""),
		q, h, given("dm", "mixing tube bore", m.TubeMM, "mm", m.Source),
		of("e", "thickness exponent", s.Material.ThicknessExponent, ""),
		given("h0", "pivot of the thickness exponent", PivotMM.Value, "mm", PivotMM.Source),
	}
	tr.add("power-law speed", "u = [fa·Nm·P^1.594·do^1.374·Ma^0.343/(C·q·h·dm^0.618)]^1.15 · (h/h0)^(1.15−e)", law, "mm/min", SourceZengKim, inputs...)
}

func (s Setup) explainPlain(tr *Trace, law float64, h, q Input) {
	m, mat := s.Machine, s.Material
	tr.add("power-law speed", "u = K·P^a·do^b/h^c · (3/q)^g", law, "mm/min", Derived,
		of("K", "plain-jet constant of "+mat.Name, mat.PlainK, ""), given("P", "pressure", m.PressureMPa, "MPa", m.Source),
		given("do", "orifice", s.orificeMM(), "mm", m.Source), h, q,
		of("a", "pressure exponent", mat.PressureExponent, ""), of("b", "orifice exponent", mat.OrificeExponent, ""),
		of("c", "thickness exponent", mat.ThicknessExponent, ""), of("g", "grade exponent", PlainGradeExponent, ""))
}

func (s Setup) explainStackFactor(tr *Trace, phi float64) {
	angle := VoidHalfAngleDeg
	if s.Material.Process == Plain {
		angle = PlainVoidHalfAngleDeg
	}
	tr.add("stack factor", "φ = φ0·(d/(d + 2g·tan α))^(0.618·1.15)", phi, "", Derived,
		given("φ0", "clamp factor", s.Rates.ClampFactor, "", sourceOf(s.Rates.ClampFactor, DefaultClampFactor, s.Rates.Source)),
		given("d", "jet diameter", s.jetMM(), "mm", s.Machine.Source), above("g", "air between the sheets", s.GapsMM(), "mm"),
		of("α", "half-angle of the jet in air", angle, "°"))
}

func (s Setup) explainQuality(tr *Trace) {
	q := s.qualityAt(s.speed().MMPerMin, s.depthMM(s.Depth()))
	tr.add("bottom grade index", "q·(φ·u(h)/feed)^(1/e)", q.Index, "", Derived,
		given("q", "grade index asked", s.Grade.Index(), "", JobFile),
		above("φ·u", "power-law speed in the stack, down to the last layer", s.StackFactor()*s.lawSpeed(s.Grade.Index(), s.depthMM(s.Depth())), "mm/min"),
		above("feed", "feed", s.speed().MMPerMin, "mm/min"), given("e", "exponent of the grade", s.gradeExponent(), "", SourceZengKim))
	tr.add("kerf", "1.05·d + 2·s·tan 1°", s.KerfMM(), "mm", Unverified,
		given("d", "jet diameter", s.jetMM(), "mm", s.Machine.Source), given("s", "stand-off, 0 for the plain jet", s.standOff(), "mm", s.Machine.Source))
	tr.add("taper", "k·min(0.25·q^−0.708, 2·h·tan 2°)", q.TaperMM, "mm", Derived,
		above("k", "share of the usual jet's taper", s.taperScale(), ""),
		above("q", "bottom grade index", q.Index, ""), above("h", "depth to the last layer's bottom", s.depthMM(s.Depth()), "mm"))
	tr.note("kerf narrower at the bottom, both edges together")
}

func (s Setup) explainTime(tr *Trace, w Work, t Time) {
	m := s.Machine
	s.explainBends(tr)
	tr.add("cutting", "Σ over strokes of the look-ahead motion", t.CutSec, "s", "trapezoid profile with look-ahead, derived",
		above("L", "length of cut", t.CutMM, "mm"), above("feed", "feed", s.speed().MMPerMin, "mm/min"),
		given("a", "acceleration", m.AccelMMPerS2, "mm/s²", sourceOf(m.AccelMMPerS2, DefaultAccelMMPerS2, m.Source)),
		given("δ", "corner deviation", m.CornerDeviationMM, "mm", sourceOf(m.CornerDeviationMM, DefaultCornerDeviationMM, m.Source)),
		given("E", "edge error allowed on arcs and corners", s.errorMM(), "mm", Derived))
	tr.note(fmt.Sprintf("%.4g s by the power law alone, feed caps add %.4g s, arcs and corners slowed for the edge %.4g s, acceleration %.4g s", t.LawSec, t.CapSec, t.LagSec, t.AccelSec()))
	s.explainPierce(tr, w, t)
	tr.add("rapid moves", "Σ of trapezoids", t.RapidSec, "s", Derived,
		given("v", "rapid", m.RapidMMPerMin, "mm/min", sourceOf(m.RapidMMPerMin, DefaultRapidMMPerMin, m.Source)),
		given("n", "moves", float64(len(w.RapidsMM)), "", Derived))
	r := s.Rates
	tr.add("handling", "load, or prep + (layers + covers)·layer; + unload·parts·layers", t.HandleSec, "s", Derived,
		given("load", "one sheet on and off", r.LoadSecPerSheet, "s", r.Source), given("prep", "clamp a stack", r.StackPrepSec, "s", r.Source),
		given("layer", "each layer of a stack", r.StackLayerSec, "s", r.Source), given("unload", "each part", r.UnloadSecPerPart, "s", r.Source),
		given("layers", "layers", float64(s.Depth()), "", JobFile), given("covers", "cover sheets", float64(s.covers()), "", r.Source),
		given("parts", "parts a layer", float64(w.Parts), "", Derived))
}

// shownRadiusMM is the radius of the arc by which a trace shows what bends allow.
var shownRadiusMM = Quantity{Value: 5, Source: Demo}

// explainBends shows what bends allow, by a square corner and an arc of 5 mm.
func (s Setup) explainBends(tr *Trace) {
	const corner = 90
	radius := shownRadiusMM.Value
	m := s.Machine
	a := given("a", "acceleration", m.AccelMMPerS2, "mm/s²", sourceOf(m.AccelMMPerS2, DefaultAccelMMPerS2, m.Source))
	delta := given("δ", "corner deviation", m.CornerDeviationMM, "mm", sourceOf(m.CornerDeviationMM, DefaultCornerDeviationMM, m.Source))
	tr.add("speed through a square corner", "60·√(a·R), R = δ·sin(θ/2)/(1 − sin(θ/2))", secPerMin*JunctionSpeed(m.CornerDeviationMM, m.AccelMMPerS2, corner), "mm/min", Derived,
		a, delta, given("θ", "interior angle", corner, "°", Derived))
	tr.note("what the acceleration allows; the feed, and the jet's lag on fine work, may allow less")
	tr.add("speed on an arc of 5 mm radius", "60·√(a·R)", secPerMin*ArcSpeed(radius, m.AccelMMPerS2), "mm/min", Derived, a, given("R", "radius", radius, "mm", Derived))
	tr.add("grade index of that arc", "k·h/√(E·(2·R + E))", ArcIndex(s.SolidMM(), radius, s.errorMM()), "", LagFactor.Source,
		of("k", "lag factor", LagFactor, ""), above("h", "solid thickness", s.SolidMM(), "mm"), given("R", "radius", radius, "mm", Derived), given("E", "edge error allowed", s.errorMM(), "mm", Derived))
	tr.note("where it is above the grade's own index, the arc is cut that much slower")
}

func (s Setup) explainPierce(tr *Trace, w Work, t Time) {
	each := s.pierceSec(shift{})
	switch m := s.Machine; {
	case w.PreDrilled:
		each = 0
		tr.add("pierce", "none: starts are drilled beforehand", 0, "s", JobFile)
	case s.hasPierceTable():
		tr.add("pierce", "(fixed + per mm·h)·gentle", each, "s", m.Source,
			given("fixed", "machine's pierce table", m.PierceFixedSec, "s", m.Source), given("per mm", "machine's pierce table", m.PierceSecPerMM, "s/mm", m.Source),
			above("h", "solid thickness", s.SolidMM(), "mm"), above("gentle", "low-pressure factor", s.gentle(), ""))
	default:
		t0, kappa := s.pierceConstants()
		tr.add("pierce", "(t0 + κ·d/u1)·gentle", each, "s", Derived,
			of("t0", "fixed part", t0, "s"), of("κ", "pierce constant, "+string(s.PierceMethod()), kappa, ""),
			given("d", "jet diameter", s.jetMM(), "mm", m.Source),
			above("u1", "separation speed", s.lawSpeed(Separate.Index(), s.SolidMM()), "mm/min"),
			above("gentle", "low-pressure factor", s.gentle(), ""))
	}
	tr.add("piercing", "n·(pierce + head delay)", t.PierceSec, "s", Derived,
		given("n", "pierces", float64(t.Pierces), "", Derived), above("pierce", "one pierce", each, "s"),
		given("head delay", "valve, abrasive, height", s.Machine.headSec(), "s", sourceOf(s.Machine.HeadSec, DefaultHeadSec, s.Machine.Source)))
}

func (s Setup) explainUsage(tr *Trace, t Time, u Usage) {
	jet := above("jet", "time the jet is on", t.JetSec(), "s")
	tr.add("occupied", "head + handling (the longer of both with two tables)", u.OccupiedSec, "s", Derived,
		above("head", "cutting, piercing, rapid moves", t.HeadSec(), "s"), above("handling", "handling", t.HandleSec, "s"),
		given("tables", "tables", float64(s.Machine.Tables), "", s.Machine.Source))
	tr.add("water", "Q·jet/60", u.WaterL, "L", Derived, above("Q", "water flow", s.WaterLPerMin(), "L/min"), jet)
	tr.add("abrasive", "Ma·jet/60000", u.AbrasiveKg, "kg", Derived, given("Ma", "abrasive flow", s.abrasiveKgPerMin()*gramsPerKg, "g/min", s.Machine.Source), jet)
	tr.add("energy", "motor power·jet/3600", u.EnergyKWh, "kWh", Derived, above("motor", "motor power", s.MotorKW(), "kW"), jet)
	tr.add("kerf material", "ρ·w·h·L", u.KerfKg, "kg", Derived,
		of("ρ", "density of "+s.Material.Name, s.Material.DensityKgPerM3, "kg/m³"), above("w", "kerf", s.KerfMM(), "mm"),
		above("h", "solid thickness", s.SolidMM(), "mm"), above("L", "length of cut", t.CutMM, "mm"))
	tr.add("sludge", "abrasive + kerf material", u.SludgeKg, "kg", Derived, above("abrasive", "abrasive", u.AbrasiveKg, "kg"), above("kerf material", "kerf material", u.KerfKg, "kg"))
}

func (s Setup) explainMoney(tr *Trace, u Usage, sheetMoney float64) {
	r, m := s.Rates, s.Rates.Price(u, sheetMoney)
	c := r.Currency
	rate := func(name string, v float64, unit string) Input { return given("rate", name, v, c+"/"+unit, r.Source) }
	line := func(name, formula string, v float64, inputs ...Input) {
		tr.add(name, formula, v, c, Derived, inputs...)
	}
	line("money: material", "sheets·price", m.Material, given("sheets", "sheets", u.Sheets, "", Derived), given("price", "one sheet", sheetMoney, c, JobFile))
	line("money: machine", "occupied/3600·rate", m.Machine, above("occupied", "occupied", u.OccupiedSec, "s"), rate("machine", r.MachinePerHour, "h"))
	line("money: labour", "labour/3600·rate", m.Labour, above("labour", "operator's time", u.LabourSec, "s"), rate("labour", r.LabourPerHour, "h"))
	line("money: abrasive", "abrasive·rate", m.Abrasive, above("abrasive", "abrasive", u.AbrasiveKg, "kg"), rate("abrasive", r.AbrasivePerKg, "kg"))
	line("money: power", "energy·rate", m.Power, above("energy", "energy", u.EnergyKWh, "kWh"), rate("power", r.PowerPerKWh, "kWh"))
	line("money: water", "water/1000·rate", m.Water, above("water", "water", u.WaterL, "L"), rate("water", r.WaterPerM3, "m³"))
	line("money: disposal", "sludge·rate", m.Disposal, above("sludge", "sludge", u.SludgeKg, "kg"), rate("disposal", r.DisposalPerKg, "kg"))
	line("money: wear", "tube h/life·price + orifice h/life·price", m.Wear,
		above("tube h", "jet hours on the tube", u.TubeH, "h"), given("tube life", "mixing tube's life", r.TubeLifeH, "h", r.Source), given("tube price", "mixing tube", r.TubePrice, c, r.Source),
		above("orifice h", "jet hours on the orifice", u.OrificeH, "h"), given("orifice life", "orifice's life", r.OrificeLifeH, "h", r.Source), given("orifice price", "orifice", r.OrificePrice, c, r.Source))
	line("money: covers", "covers·price", m.Cover, given("covers", "cover sheets", u.Covers, "", r.Source), given("price", "one cover sheet", r.CoverPrice, c, r.Source))
	line("money: total", "sum of the above", m.Total())
}

// explainInterval adds one step per uncertain input: what it does to the price.
func (s Setup) explainInterval(tr *Trace, w Work, sheetMoney float64) {
	e := newResponse(s, w).estimate(sheetMoney)
	head, money := e.HeadSec.Interval(DefaultLevel), e.Money.Interval(DefaultLevel)
	for _, a := range Assumptions(s) {
		tr.add("assumption: "+a.Key, a.Text, math.Abs(deltaOf(e.Money, a.Key)), s.Rates.Currency, a.Source, given("spread", "one standard deviation", a.Spread, a.Unit, a.Source))
		tr.note(fmt.Sprintf("moves the head's time by %.3g s and the price by this much", math.Abs(deltaOf(e.HeadSec, a.Key))))
	}
	tr.add("head time", "delta method over the assumptions", head.Likely, "s", Derived)
	tr.note(fmt.Sprintf("%.0f %% between %.4g and %.4g s", 100*head.Level, head.Low, head.High))
	tr.add("price", "delta method over the assumptions", money.Likely, s.Rates.Currency, Derived)
	tr.note(fmt.Sprintf("%.0f %% between %.4g and %.4g %s", 100*money.Level, money.Low, money.High, s.Rates.Currency))
}

func deltaOf(e Estimate, key string) float64 {
	for _, p := range e.Parts {
		if p.Key == key {
			return p.Delta
		}
	}
	return 0
}
