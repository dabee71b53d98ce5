package cost

import (
	"math"
	"math/rand/v2"
	"slices"

	"pgregory.net/rapid"

	"kerfold/geom"
)

// bareArgs draws bare numbers, each from a range.
func bareArgs(ranges ...[2]float64) func(*rapid.T) []any {
	return func(t *rapid.T) []any {
		out := make([]any, len(ranges))
		for i, r := range ranges {
			out[i] = rapid.Float64Range(r[0], r[1]).Draw(t, "argument")
		}
		return out
	}
}

func in(d ...dim) []dim { return d }

func out(d ...dim) []dim { return d }

// unitLaws are the laws of all functions that take or give numbers with units.
var unitLaws = slices.Concat(formulaLaws, setupLaws, runLaws, stackLaws, ledgerLaws, estimateLaws, tuneLaws)

type ranges = [2]float64

var (
	someMPa    = ranges{100, 400}
	someMM     = ranges{0.5, 20}
	someBoreMM = ranges{0.1, 0.5}
	aShare     = ranges{0.5, 1}
	someGrade  = ranges{1, 5}
	someMMPerS = ranges{1, 100}
	someAccel  = ranges{50, 2000}
	someAngle  = ranges{40, 170}
	someLPM    = ranges{0.5, 5}
)

// formulaLaws are those of the formulas of bare numbers.
var formulaLaws = []unitLaw{
	{f: BernoulliSpeed, args: bareArgs(someMPa), in: in(mpa), out: out(mPerS)},
	{f: JetSpeed, args: bareArgs(someMPa), in: in(mpa), out: out(mPerS)},
	{f: WaterDensity, args: bareArgs(someMPa), in: in(mpa), out: out(kgPerM3)},
	{f: PressureForSpeed, args: bareArgs(ranges{300, 900}), in: in(mPerS), out: out(mpa)},
	{f: OrificeFlow, args: bareArgs(someMPa, someBoreMM, aShare), in: in(mpa, mm), out: out(lPerMin)},
	{f: WaterMass, args: bareArgs(someLPM), in: in(lPerMin), out: out(kgPerMin)},
	{f: JetPower, args: bareArgs(someMPa, someLPM), in: in(mpa, lPerMin), out: out(kw)},
	{f: KineticPower, args: bareArgs(someMPa, someLPM, aShare), in: in(mpa, lPerMin), out: out(kw)},
	{f: PressureForPower, args: bareArgs(ranges{5, 40}, someBoreMM, aShare), in: in(kw, mm), out: out(mpa)},
	{f: MotorPower, args: bareArgs(ranges{5, 40}, aShare), in: in(kw), out: out(kw)},
	{f: IntensifierPressure, args: bareArgs(ranges{5, 30}, ranges{10, 25}, aShare), in: in(mpa), out: out(mpa)},
	{f: AbrasiveSpeed, args: drawn(drawAbrasiveCut), out: out(mmPerMin)},
	{f: PlainSpeed, args: drawn(drawPlainCut), out: out(mmPerMin)},
	{f: PlainK, args: func(t *rapid.T) []any { return []any{drawPlainCutOfStartValues(t), 5000.0} }, in: in(pure, mmPerMin), out: out(plainKUnit(1.5, 1.2, 1))},
	{f: TrapezoidTime, args: bareArgs(someMM, someMMPerS, someAccel), in: in(mm, mmPerS, mmPerS2), out: out(sec)},
	{f: ArcSpeed, args: bareArgs(someMM, someAccel), in: in(mm, mmPerS2), out: out(mmPerS)},
	{f: JunctionRadius, args: bareArgs(ranges{0.01, 0.1}, someAngle), in: in(mm), out: out(mm)},
	{f: JunctionSpeed, args: bareArgs(ranges{0.01, 0.1}, someAccel, someAngle), in: in(mm, mmPerS2), out: out(mmPerS)},
	{f: LagLength, args: bareArgs(someMM, someGrade), in: in(mm), out: out(mm)},
	{f: Lag.LengthMM, args: drawn(drawLag), out: out(mm)},
	{f: ArcIndex, args: bareArgs(someMM, someMM, ranges{0.02, 0.3}), in: in(mm, mm, mm)},
	{f: CornerIndex, args: bareArgs(someMM, ranges{0.02, 0.3}, someAngle), in: in(mm, mm)},
	{f: PierceTime, args: bareArgs(ranges{0, 5}, ranges{10, 60}, someBoreMM, ranges{50, 2000}), in: in(sec, pure, mm, mmPerMin), out: out(sec)},
	{f: LowPressureFactor, args: bareArgs(someMPa, ranges{50, 200}, ranges{1, 2}), in: in(mpa, mpa)},
	{f: PierceHoleMM, args: func(t *rapid.T) []any { return []any{drawMethod(t), 0.8} }, in: in(pure, mm), out: out(mm)},
	{f: KerfWidth, args: bareArgs(someBoreMM, ranges{1, 5}), in: in(mm, mm), out: out(mm)},
	{f: KerfMass, args: bareArgs(ranges{500, 9000}, someBoreMM, someMM, ranges{100, 9000}), in: in(kgPerM3, mm, mm, mm), out: out(kg)},
	{f: TaperMM, args: bareArgs(someGrade, ranges{0.5, 6}), in: in(pure, mm), out: out(mm)},
	{f: PartGapMM, args: bareArgs(ranges{1, 12}), in: in(mm), out: out(mm)},
	{f: LeadInMM, args: bareArgs(ranges{2, 30}), in: in(mm), out: out(mm)},
	{f: ThinWebMM, args: bareArgs(someMM), in: in(mm), out: out(mm)},
	{f: VoidFactor, args: bareArgs(someBoreMM, ranges{0.1, 3}, ranges{0.1, 5}), in: in(mm, mm)},
	{f: WornBore, args: bareArgs(someBoreMM, ranges{1, 60}, ranges{40, 100}), in: in(mm, hours, hours), out: out(mm)},
	{f: GrainFits, args: bareArgs(ranges{0.2, 0.4}, ranges{0.8, 1}), in: in(mm, mm)},
	{f: CheckJetSpeed, args: bareArgs(ranges{600, 1000}, ranges{300, 400}), in: in(mPerS, mpa)},
	{f: Motion.PathSeconds, args: func(t *rapid.T) []any { return []any{drawMotion(t), drawStroke(t)} }},
}

// setupLaws are those of a machine, a material and a setup.
var setupLaws = []unitLaw{
	{f: Machine.Filled, args: drawn(drawMachine)},
	{f: Machine.Warnings, args: drawn(drawMachine)},
	{f: Material.Filled, args: drawn(drawMaterial)},
	{f: AbrasiveLoading, args: drawn(drawMachine)},
	{f: LargestOrifice, args: drawn(drawMachine), out: out(mm)},
	{f: CheckPump, args: func(t *rapid.T) []any { return []any{drawMachine(t), 0.33} }, in: in(pure, mm)},
	{f: Setup.Check, args: drawn(drawBoundSetup)},
	{f: StackRefusal, args: drawn(drawBoundSetup)},
	{f: Setup.WaterLPerMin, args: drawn(drawSetup), out: out(lPerMin)},
	{f: Setup.JetKW, args: drawn(drawSetup), out: out(kw)},
	{f: Setup.MotorKW, args: drawn(drawSetup), out: out(kw)},
	{f: Setup.KerfMM, args: drawn(drawSetup), out: out(mm)},
	{f: Setup.SolidMM, args: drawn(drawSetup), out: out(mm)},
	{f: Setup.GapsMM, args: drawn(drawSetup), out: out(mm)},
	{f: Setup.HeightMM, args: drawn(drawSetup), out: out(mm)},
	{f: Setup.StackFactor, args: drawn(drawSetup)},
	{f: Setup.PierceSec, args: drawn(drawSetup), out: out(sec)},
	{f: SpeedOf, args: drawn(drawSetup)},
	{f: SpeedInterval, args: func(t *rapid.T) []any { return []any{drawSetup(t), 0.9} }, out: out(mmPerMin)},
	{f: BottomQuality, args: drawn(drawSetup)},
	{f: LayerQuality, args: func(t *rapid.T) []any { return []any{drawSetup(t), rapid.IntRange(1, 5).Draw(t, "layer")} }},
	{f: Assumptions, args: drawn(drawSetup)},
}

// runLaws are those of a run.
var runLaws = []unitLaw{
	{f: LayoutTime, args: setupAndWork()},
	{f: LayoutLedger, args: setupAndWork(40.0), in: in(pure, pure, cash)},
	{f: LedgerOf, args: func(t *rapid.T) []any { return []any{drawSetup(t), drawTime(t), 40.0} }, in: in(pure, pure, cash)},
	{f: Work.Copies, args: func(t *rapid.T) []any { return []any{drawWork(t), rapid.IntRange(1, 9).Draw(t, "copies")} }},
	{f: Explain, args: setupAndWork(40.0), in: in(pure, pure, cash)},
	{f: EstimateRun, args: setupAndWork(40.0), in: in(pure, pure, cash)},
	{f: SampleRun, args: func(t *rapid.T) []any {
		return []any{drawSetup(t), drawWork(t), 40.0, 0.9, 50, rand.NewPCG(1, 2)}
	}, in: in(pure, pure, cash), out: out(sec, cash)},
	{f: Time.HeadSec, args: drawn(drawTime), out: out(sec)},
	{f: Time.JetSec, args: drawn(drawTime), out: out(sec)},
	{f: Time.TotalSec, args: drawn(drawTime), out: out(sec)},
	{f: Time.StraightSec, args: drawn(drawTime), out: out(sec)},
	{f: Time.AccelSec, args: drawn(drawTime), out: out(sec)},
	{f: Time.OccupiedSec, args: func(t *rapid.T) []any { return []any{drawTime(t), rapid.IntRange(1, 2).Draw(t, "tables")} }, out: out(sec)},
}

// stackLaws are those of the comparison of depths.
var stackLaws = []unitLaw{
	{f: StackTable, args: stackArgs, in: in(pure, pure, pure, cash)},
	{f: ForecastStacks, args: stackArgs, in: in(pure, pure, pure, cash)},
	{f: BreakEven, args: func(t *rapid.T) []any { return []any{drawSetup(t), drawWork(t), 40.0, 25} }, in: in(pure, pure, cash)},
	{f: StudyPart, args: drawn(drawPartJob)},
	{f: StackChoice.Money, args: func(t *rapid.T) []any { return []any{StackChoice{Ledger: drawLedger(t)}} }, out: out(cash)},
	{f: PartDepth.Money, args: func(t *rapid.T) []any { return []any{PartDepth{Ledger: drawLedger(t)}} }, out: out(cash)},
	{f: PartDepth.Seconds, args: func(t *rapid.T) []any { return []any{PartDepth{Ledger: drawLedger(t)}} }, out: out(sec)},
}

// ledgerLaws are those of amounts and money.
var ledgerLaws = []unitLaw{
	{f: Rates.Price, args: func(t *rapid.T) []any { return []any{drawRates(t), drawLedger(t).Usage, 40.0} }, in: in(pure, pure, cash)},
	{f: SetupLedger, args: drawn(drawRates)},
	{f: Ledger.Plus, args: func(t *rapid.T) []any { return []any{drawLedger(t), drawLedger(t)} }},
	{f: Ledger.Times, args: func(t *rapid.T) []any { return []any{drawLedger(t), 2.5} }},
	{f: Usage.Plus, args: func(t *rapid.T) []any { return []any{drawLedger(t).Usage, drawLedger(t).Usage} }},
	{f: Usage.Times, args: func(t *rapid.T) []any { return []any{drawLedger(t).Usage, 2.5} }},
	{f: Money.Plus, args: func(t *rapid.T) []any { return []any{drawLedger(t).Money, drawLedger(t).Money} }},
	{f: Money.Times, args: func(t *rapid.T) []any { return []any{drawLedger(t).Money, 2.5} }},
	{f: Money.Total, args: func(t *rapid.T) []any { return []any{drawLedger(t).Money} }, out: out(cash)},
	{f: Money.Process, args: func(t *rapid.T) []any { return []any{drawLedger(t).Money} }, out: out(cash)},
	{f: Split, args: func(t *rapid.T) []any { return []any{"G1", "L1", drawLedger(t), drawClaims(t)} }},
	{f: Book.By, args: func(t *rapid.T) []any {
		return []any{Split("G1", "L1", drawLedger(t), drawClaims(t)), rapid.SampledFrom([]Level{ByWeek, ByOrder, ByPart}).Draw(t, "level")}
	}},
}

// estimateLaws are those of likely values and their ranges, shown on money.
var estimateLaws = []unitLaw{
	{f: Exact, args: bareArgs(ranges{1, 100}), in: in(cash), out: out(cash)},
	{f: Estimate.Plus, args: estimates, in: in(cash, cash), out: out(cash)},
	{f: Estimate.Minus, args: estimates, in: in(cash, cash), out: out(cash)},
	{f: Estimate.Times, args: func(t *rapid.T) []any { return []any{drawEstimate(t), 3.0} }, in: in(cash), out: out(cash)},
	{f: Estimate.StdDev, args: drawn(drawEstimate), in: in(cash), out: out(cash)},
	{f: Estimate.Interval, args: func(t *rapid.T) []any { return []any{drawEstimate(t), 0.9} }, in: in(cash), out: out(cash)},
	{f: Estimate.BelowZero, args: drawn(drawEstimate), in: in(cash)},
	{f: Estimate.Causes, args: drawn(drawEstimate), in: in(cash), out: out(cash)},
	{f: RunEstimate.Plus, args: func(t *rapid.T) []any { return []any{drawRunEstimate(t), drawRunEstimate(t)} }},
	{f: RunEstimate.Times, args: func(t *rapid.T) []any { return []any{drawRunEstimate(t), 3.0} }},
}

// tuneLaws are those of the fit. The plain jet's constant is known at 1 MPa and
// through 1 mm; how well, depends on where those lie: they stay as they are.
var tuneLaws = []unitLaw{
	{f: Tune, args: func(t *rapid.T) []any { return []any{drawCuts(t, Abrasive), BuiltinMap()} }, note: " with abrasive"},
	{f: Tune, args: func(t *rapid.T) []any { return []any{drawCuts(t, Plain), BuiltinMap()} }, keep: []unit{megapascal, millimetre}, note: " without abrasive"},
}

// drawn draws one argument.
func drawn[T any](draw func(*rapid.T) T) func(*rapid.T) []any {
	return func(t *rapid.T) []any { return []any{draw(t)} }
}

func setupAndWork(more ...any) func(*rapid.T) []any {
	return func(t *rapid.T) []any { return append([]any{drawSetup(t), drawWork(t)}, more...) }
}

func stackArgs(t *rapid.T) []any {
	return []any{drawSetup(t), drawWork(t), rapid.IntRange(1, 12).Draw(t, "repeats"), 40.0}
}

func estimates(t *rapid.T) []any { return []any{drawEstimate(t), drawEstimate(t)} }

// scaled draws x times a factor.
func scaled(t *rapid.T, x float64) float64 {
	return x * rapid.Float64Range(0.7, 1.4).Draw(t, "factor")
}

func often(t *rapid.T, what string) bool { return rapid.Bool().Draw(t, what) }

func drawAbrasiveCut(t *rapid.T) AbrasiveCut {
	c := steel12(rapid.Float64Range(1, 5).Draw(t, "grade"))
	for _, x := range []*float64{&c.Machinability, &c.PressureMPa, &c.OrificeMM, &c.AbrasiveGPerMin, &c.ThicknessMM, &c.TubeMM} {
		*x = scaled(t, *x)
	}
	if often(t, "own exponent") {
		c.ThicknessExponent = scaled(t, 1)
	}
	return c
}

func drawPlainCut(t *rapid.T) PlainCut {
	c := drawPlainCutOfStartValues(t)
	c.PressureExponent, c.OrificeExponent, c.ThicknessExponent = scaled(t, 1.4), scaled(t, 1), scaled(t, 1)
	return c
}

func drawPlainCutOfStartValues(t *rapid.T) PlainCut {
	c := rubberCut()
	for _, x := range []*float64{&c.K, &c.PressureMPa, &c.OrificeMM, &c.ThicknessMM} {
		*x = scaled(t, *x)
	}
	return c
}

func drawMethod(t *rapid.T) PierceMethod {
	return rapid.SampledFrom([]PierceMethod{Stationary, Moving, LowPressure}).Draw(t, "method")
}

func drawLag(t *rapid.T) Lag {
	// Down to errors so small that a feed mistaken for one a minute would bind.
	e := math.Pow(10, rapid.Float64Range(-5, -1).Draw(t, "lg error"))
	return Lag{ThicknessMM: scaled(t, 10), Index: 3, ErrorMM: e, LawMMPerMin: scaled(t, 900), Exponent: outer}
}

func drawMotion(t *rapid.T) Motion {
	m := Motion{FeedMMPerMin: scaled(t, 900), AccelMMPerS2: scaled(t, 300), DeviationMM: scaled(t, 0.02)}
	if often(t, "lag") {
		l := drawLag(t)
		m.Lag = &l
	}
	return m
}

func drawStroke(t *rapid.T) Stroke {
	c := rapid.SampledFrom([]geom.Contour{circle(0, 0, 3), slot(0, 0, 12, 4), notchedPlate(), facets(120, 0.1)}).Draw(t, "shape")
	k := withLead(scaleContour(c, scaled(t, 1)), scaled(t, 4))
	k.FromEdge = often(t, "from the edge")
	k.Times = rapid.IntRange(0, 5).Draw(t, "times")
	return k
}

func drawWork(t *rapid.T) Work {
	w := Work{Parts: rapid.IntRange(1, 9).Draw(t, "parts"), PreDrilled: rapid.IntRange(0, 9).Draw(t, "drilled") == 0}
	for range rapid.IntRange(1, 3).Draw(t, "strokes") {
		w.Strokes = append(w.Strokes, drawStroke(t))
		// Up to so long a move that a speed mistaken for one a minute is reached.
		w.RapidsMM = append(w.RapidsMM, rapid.SampledFrom([]float64{20, 900, 1e6}).Draw(t, "rapid move"))
	}
	return w
}

// drawMachine leaves what has a default to the default now and then.
func drawMachine(t *rapid.T) Machine {
	m := Machine{
		ID: "W1", Process: Abrasive, PressureMPa: scaled(t, 350), OrificeMM: scaled(t, 0.3), TubeMM: scaled(t, 1), AbrasiveGPerMin: scaled(t, 400),
		Tables: rapid.IntRange(0, 2).Draw(t, "tables"), Pierce: rapid.SampledFrom([]PierceMethod{"", Stationary}).Draw(t, "pierce"),
	}
	if rapid.IntRange(0, 3).Draw(t, "plain head") == 0 {
		m.Process, m.TubeMM, m.AbrasiveGPerMin = Plain, 0, 0
	}
	if often(t, "motor known") {
		m.MotorKW = scaled(t, 30)
	}
	for _, x := range []struct {
		at    *float64
		value float64
	}{
		{&m.PlainOrificeMM, 0.2},
		{&m.StandOffMM, 3},
		{&m.FeedCapMMPerMin, 2000},
		{&m.RapidMMPerMin, 12000},
		{&m.AccelMMPerS2, 300},
		{&m.CornerDeviationMM, 0.03},
		{&m.ArcErrorMM, 0.06},
		{&m.LowPressureMPa, 90},
		{&m.HeadSec, 2},
	} {
		if often(t, "own value") {
			*x.at = scaled(t, x.value)
		}
	}
	return m
}

func drawMaterial(t *rapid.T) Material {
	return drawMaterialOf(t, "aluminium 6061", "mild steel", "acrylic", "gasket rubber")
}

func drawPlainMaterial(t *rapid.T) Material { return drawMaterialOf(t, "gasket rubber", "cork") }

func drawMaterialOf(t *rapid.T, names ...string) Material {
	m := BuiltinMap()[rapid.SampledFrom(names).Draw(t, "material")]
	m.MaxLayers = 6
	if often(t, "feed cap") {
		m.FeedCapMMPerMin.Value = scaled(t, 1500)
	}
	if often(t, "pierce constants") {
		m.PierceSec.Value, m.PierceFactor.Value = scaled(t, 1), scaled(t, 40)
	}
	if m.Process == Plain {
		// The exponent's spread turns about 1 mm, which is a unit.
		m.ThicknessExponent.RelStdDev = 0
		return m
	}
	if often(t, "exponent") {
		m.ThicknessExponent.Value = scaled(t, 1.1)
	}
	if often(t, "calibration") {
		m.Calibration = &Calibration{
			Params:     []Param{ParamMachinability, ParamThicknessExponent, ParamPierceFactor, ParamPierceSec},
			Covariance: [][]float64{{0.01, 0.002, 0, 0}, {0.002, 0.004, 0, 0}, {0, 0, 0.03, 0.01}, {0, 0, 0.01, 0.05}},
			DoF:        rapid.IntRange(0, 20).Draw(t, "degrees of freedom"),
		}
	}
	return m
}

func drawRates(t *rapid.T) Rates {
	r := DefaultRates()
	for _, x := range []*float64{
		&r.MachinePerHour, &r.LabourPerHour, &r.AbrasivePerKg, &r.PowerPerKWh, &r.WaterPerM3, &r.DisposalPerKg, &r.TubePrice, &r.OrificePrice,
		&r.TubeLifeH, &r.OrificeLifeH, &r.LoadSecPerSheet, &r.StackPrepSec, &r.StackLayerSec, &r.SetupSec, &r.UnloadSecPerPart,
	} {
		*x = scaled(t, *x)
	}
	r.LayerGapMM, r.CoverMM, r.CoverPrice = scaled(t, 0.1), scaled(t, 0.4), scaled(t, 3)
	r.CoverSheets = rapid.IntRange(0, 2).Draw(t, "covers")
	return r
}

// drawSetup draws a setup that can be cut, single or stacked.
func drawSetup(t *rapid.T) Setup {
	s := Setup{
		Machine: drawMachine(t), Material: drawMaterial(t), Rates: drawRates(t), ThicknessMM: scaled(t, 1.5),
		Grade: rapid.SampledFrom([]Grade{Separate, Medium, Fine}).Draw(t, "grade"), Layers: rapid.IntRange(1, 5).Draw(t, "layers"),
	}
	if s.Machine.Process == Plain {
		s.Material = drawPlainMaterial(t)
	}
	s.Machine.MotorKW = 0
	if often(t, "pierce table") {
		s.Machine.PierceFixedSec, s.Machine.PierceSecPerMM = scaled(t, 2), scaled(t, 0.5)
	}
	if rapid.IntRange(0, 3).Draw(t, "tolerance") == 0 {
		s.ToleranceMM = scaled(t, 0.3)
	}
	return s
}

// drawBoundSetup draws a setup near the bounds of pump and stack.
func drawBoundSetup(t *rapid.T) Setup {
	s := drawSetup(t)
	s.Layers = rapid.IntRange(2, 5).Draw(t, "stacked")
	s.Machine.MotorKW = scaled(t, 30)
	s.Machine.MaxStackMM = scaled(t, 7)
	s.Material.MaxStackMM = scaled(t, 7)
	s.ToleranceMM = scaled(t, 0.08)
	return s
}

func drawTime(t *rapid.T) Time {
	x := Time{
		PierceSec: scaled(t, 20), RapidSec: scaled(t, 5), HandleSec: scaled(t, 200), CutMM: scaled(t, 3000), Pierces: 4,
		LawSec: scaled(t, 100), CapSec: scaled(t, 50), LagSec: scaled(t, 40), MotionSec: scaled(t, 70),
	}
	x.CutSec = x.LawSec + x.CapSec + x.MotionSec
	return x
}

func drawLedger(t *rapid.T) Ledger { return LedgerOf(drawSetup(t), drawTime(t), scaled(t, 40)) }

func drawClaims(t *rapid.T) []Claim {
	return []Claim{
		{Order: "A", Part: "a", Quantity: 3, CutWeight: scaled(t, 10), MaterialWeight: scaled(t, 900)},
		{Order: "B", Part: "b", Quantity: 2, CutWeight: scaled(t, 20), MaterialWeight: scaled(t, 400)},
		{Order: "B", Part: "c", Quantity: 1, CutWeight: scaled(t, 5), MaterialWeight: scaled(t, 100)},
	}
}

func drawEstimate(t *rapid.T) Estimate {
	return Estimate{Likely: scaled(t, 50), Parts: []Contribution{{"a", scaled(t, 5)}, {"b", -scaled(t, 3)}, {"c", scaled(t, 9)}}}
}

func drawRunEstimate(t *rapid.T) RunEstimate {
	return RunEstimate{drawEstimate(t), drawEstimate(t), drawEstimate(t)}
}

func drawPartJob(t *rapid.T) PartJob {
	return PartJob{
		Setup: drawSetup(t), Part: drawWork(t), PerSheet: rapid.IntRange(1, 6).Draw(t, "on a sheet"), Quantity: rapid.IntRange(1, 40).Draw(t, "parts"),
		SheetMoney: scaled(t, 40), RemnantShare: 0.4, MaxDepth: rapid.IntRange(0, 4).Draw(t, "depth"),
	}
}

// drawCuts draws the test cuts of the synthetic shop that one process made, and
// part times and low-pressure pierces with them.
func drawCuts(t *rapid.T, p Process) []Cut {
	all := shopTruth().cuts(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)))
	var out []Cut
	few := often(t, "hardly a pierce")
	for _, c := range all {
		if c.Process == p && !(few && c.PierceSec > 0 && c.ThicknessMM < 20) {
			out = append(out, c)
		}
	}
	if p == Abrasive {
		c := out[2]
		c.PartSec, c.SpeedMMPerMin, c.PierceSec, c.CutMM, c.Pierces = scaled(t, 300), 0, 0, scaled(t, 400), 3
		low := c
		low.PartSec, low.CutMM, low.Pierces = 0, 0, 0
		low.SpeedMMPerMin, low.PierceSec, low.Pierce, low.LowPressureMPa = 0, scaled(t, 20), LowPressure, 120
		out = append(out, c, low)
	}
	return out
}
