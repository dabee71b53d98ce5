package cost

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"kerfold/geom"
)

// The units of every public function are tested by scaling laws: when an input
// is measured in a unit k times smaller, its number grows k-fold, and the
// output must grow as its dimension says. A wrong conversion factor inside a
// function would pass a scaling test, so the check values pin the size.
type scalingLaw struct {
	name     string
	f        func(x float64) float64
	least    float64 // range of x
	most     float64
	exponent float64 // f(k·x) = k^exponent·f(x)
}

func TestScalingLaws(t *testing.T) {
	const inf = 1e9
	laws := []scalingLaw{
		{"BernoulliSpeed in pressure", BernoulliSpeed, 10, 600, 0.5},
		{"PressureForSpeed in speed", PressureForSpeed, 100, 1200, 2},
		{"JetSpeed at low pressure", JetSpeed, 1e-6, 1e-5, 0.5},
		{"OrificeFlow in orifice", func(d float64) float64 { return OrificeFlow(300, d, 0.65) }, 0.05, 1, 2},
		{"OrificeFlow in pressure", func(p float64) float64 { return OrificeFlow(p, 0.3, 0.65) }, 10, 600, 0.5},
		{"OrificeFlow in Cd", func(c float64) float64 { return OrificeFlow(300, 0.3, c) }, 0.3, 1, 1},
		{"WaterMass in flow", WaterMass, 0.1, 10, 1},
		{"JetPower in pressure", func(p float64) float64 { return JetPower(p, 3) }, 10, 600, 1},
		{"JetPower in flow", func(q float64) float64 { return JetPower(300, q) }, 0.1, 10, 1},
		{"JetPower through an orifice", func(p float64) float64 { return JetPower(p, OrificeFlow(p, 0.3, 0.65)) }, 10, 600, 1.5},
		{"KineticPower in flow", func(q float64) float64 { return KineticPower(300, q, 0.98) }, 0.1, 10, 1},
		{"KineticPower in Cv", func(c float64) float64 { return KineticPower(300, 3, c) }, 0.5, 1, 2},
		{"PressureForPower in power", func(w float64) float64 { return PressureForPower(w, 0.3, 0.65) }, 1, 100, 2.0 / 3},
		{"PressureForPower in orifice", func(d float64) float64 { return PressureForPower(12, d, 0.65) }, 0.1, 1, -4.0 / 3},
		{"MotorPower in power", func(w float64) float64 { return MotorPower(w, 0.75) }, 1, 100, 1},
		{"MotorPower in share", func(e float64) float64 { return MotorPower(20, e) }, 0.5, 1, -1},
		{"IntensifierPressure in oil", func(p float64) float64 { return IntensifierPressure(p, 20, 1) }, 5, 30, 1},
		{"JetSpeedUS in psi", JetSpeedUS, 1000, 90000, 0.5},
		{"FlowUS in psi", func(p float64) float64 { return FlowUS(p, 0.014) }, 1000, 90000, 0.5},
		{"FlowUS in inches", func(d float64) float64 { return FlowUS(60000, d) }, 0.003, 0.02, 2},
		{"JetHP in ksi", func(p float64) float64 { return JetHP(p, 1) }, 1, 90, 1},
		{"AbrasiveSpeed in Nm", func(n float64) float64 { c := steel12(3); c.Machinability = n; return AbrasiveSpeed(c) }, 10, 3000, 1.15},
		{"AbrasiveSpeed in pressure", func(p float64) float64 { c := steel12(3); c.PressureMPa = p; return AbrasiveSpeed(c) }, 50, 600, 1.594 * 1.15},
		{"AbrasiveSpeed in orifice", func(d float64) float64 { c := steel12(3); c.OrificeMM = d; return AbrasiveSpeed(c) }, 0.1, 0.6, 1.374 * 1.15},
		{"AbrasiveSpeed in tube", func(d float64) float64 { c := steel12(3); c.TubeMM = d; return AbrasiveSpeed(c) }, 0.4, 2, -0.618 * 1.15},
		{"AbrasiveSpeed in abrasive", func(a float64) float64 { c := steel12(3); c.AbrasiveGPerMin = a; return AbrasiveSpeed(c) }, 50, 1000, 0.343 * 1.15},
		{"AbrasiveSpeed in grade", func(q float64) float64 { return AbrasiveSpeed(steel12(q)) }, 1, 5, -1.15},
		{"AbrasiveSpeed in thickness", func(h float64) float64 { c := steel12(3); c.ThicknessMM = h; return AbrasiveSpeed(c) }, 1, 100, -1.15},
		{"AbrasiveSpeed in thickness, own exponent", func(h float64) float64 {
			c := steel12(3)
			c.ThicknessMM, c.ThicknessExponent = h, 0.9
			return AbrasiveSpeed(c)
		}, 1, 100, -0.9},
		{"AbrasiveSpeedUS in inches of thickness", func(h float64) float64 { return AbrasiveSpeedUS(1, 87, 50, 0.014, 1, 1, h, 0.04) }, 0.1, 4, -1.15},
		{"PlainSpeed in K", func(k float64) float64 {
			return PlainSpeed(PlainCut{K: k, PressureMPa: 300, OrificeMM: 0.2, ThicknessMM: 3})
		}, 1, 1000, 1},
		{"PlainSpeed in pressure", func(p float64) float64 {
			return PlainSpeed(PlainCut{K: 50, PressureMPa: p, OrificeMM: 0.2, ThicknessMM: 3})
		}, 50, 600, 1.5},
		{"PlainSpeed in orifice", func(d float64) float64 {
			return PlainSpeed(PlainCut{K: 50, PressureMPa: 300, OrificeMM: d, ThicknessMM: 3})
		}, 0.07, 1, 1.2},
		{"PlainSpeed in thickness", func(h float64) float64 {
			return PlainSpeed(PlainCut{K: 50, PressureMPa: 300, OrificeMM: 0.2, ThicknessMM: h})
		}, 0.5, 100, -1},
		{"PlainK in speed", func(u float64) float64 { return PlainK(PlainCut{PressureMPa: 300, OrificeMM: 0.2, ThicknessMM: 3}, u) }, 100, inf, 1},
		{"PlainGradeFactor in grade", PlainGradeFactor, 1, 5, -0.5},
		{"RelativeSpeed in grade", RelativeSpeed, 1, 5, -1.15},
		{"TrapezoidTime, long moves in length and speed", func(k float64) float64 { return TrapezoidTime(100*k, 10*k, 1000*k) }, 1, 100, 0},
		{"TrapezoidTime, short moves in length", func(l float64) float64 { return TrapezoidTime(l, 1e6, 500) }, 0.1, 10, 0.5},
		{"TrapezoidTime in acceleration", func(a float64) float64 { return TrapezoidTime(1, 1e6, a) }, 100, 5000, -0.5},
		{"ArcSpeed in radius", func(r float64) float64 { return ArcSpeed(r, 500) }, 0.1, 100, 0.5},
		{"ArcSpeed in acceleration", func(a float64) float64 { return ArcSpeed(5, a) }, 100, 5000, 0.5},
		{"JunctionRadius in deviation", func(d float64) float64 { return JunctionRadius(d, 110) }, 0.001, 1, 1},
		{"JunctionSpeed in deviation", func(d float64) float64 { return JunctionSpeed(d, 500, 110) }, 0.001, 1, 0.5},
		{"JunctionSpeed in acceleration", func(a float64) float64 { return JunctionSpeed(0.02, a, 110) }, 100, 5000, 0.5},
		{"LagLength in thickness", func(h float64) float64 { return LagLength(h, 3) }, 1, 100, 1},
		{"LagLength in grade", func(q float64) float64 { return LagLength(12, q) }, 1, 5, -1},
		{"ArcIndex in all lengths", func(k float64) float64 { return ArcIndex(10*k, 5*k, 0.1*k) }, 0.1, 10, 0},
		{"ArcIndex in thickness", func(h float64) float64 { return ArcIndex(h, 5, 0.1) }, 1, 100, 1},
		{"CornerIndex in all lengths", func(k float64) float64 { return CornerIndex(10*k, 0.1*k, 90) }, 0.1, 10, 0},
		{"CornerIndex in error", func(e float64) float64 { return CornerIndex(10, e, 90) }, 0.01, 1, -1},
		{"PierceTime in κ", func(k float64) float64 { return PierceTime(0, k, 1, 400) }, 1, 100, 1},
		{"PierceTime in diameter and speed", func(k float64) float64 { return PierceTime(0, 50, k, 400*k) }, 0.1, 10, 0},
		{"PierceTime in speed", func(u float64) float64 { return PierceTime(0, 50, 1, u) }, 10, 5000, -1},
		{"LowPressureFactor in pressure", func(p float64) float64 { return LowPressureFactor(p, 50, 1.83) }, 100, 600, 1.83},
		{"PierceHoleMM in diameter", func(d float64) float64 { return PierceHoleMM(Moving, d) }, 0.2, 2, 1},
		{"KerfWidth in all lengths", func(k float64) float64 { return KerfWidth(k, 2.5*k) }, 0.1, 3, 1},
		{"KerfMass in density", func(r float64) float64 { return KerfMass(r, 1, 10, 1000) }, 100, 10000, 1},
		{"KerfMass in all lengths", func(k float64) float64 { return KerfMass(7850, k, 10*k, 1000*k) }, 0.1, 10, 3},
		{"TaperMM on thin sheet", func(h float64) float64 { return TaperMM(3, h) }, 0.01, 0.1, 1},
		{"ThinWebMM in thickness", ThinWebMM, 0.1, 100, 1},
		{"VoidFactor in all lengths", func(k float64) float64 { return VoidFactor(k, 2*k, 2) }, 0.1, 10, 0},
		{"WearSlowdown in both bores", func(k float64) float64 { return WearSlowdown(k, 1.1*k) }, 0.5, 2, 0},
		{"WearSlowdown in the worn bore", func(d float64) float64 { return WearSlowdown(1, d) }, 1, 2, -0.618 * 1.15},
		{"WornBore in bore", func(d float64) float64 { return WornBore(d, 30, 70) }, 0.5, 2, 1},
		{"WornBore in hours and life", func(k float64) float64 { return WornBore(1, 30*k, 70*k) }, 0.1, 10, 0},
		{"MeshGrainMM in mesh", MeshGrainMM, 50, 220, -1},
		{"CapBreakEven in φ", func(p float64) float64 { return CapBreakEven(10, 1.15, p) }, 0.5, 1, -1},
		{"MMFromInch", MMFromInch, 0.01, 100, 1},
		{"MPaFromKSI", MPaFromKSI, 1, 90, 1},
		{"LPerMinFromGPM", LPerMinFromGPM, 0.1, 10, 1},
		{"GPerMinFromLbPerMin", GPerMinFromLbPerMin, 0.1, 3, 1},
		{"KWFromHP", KWFromHP, 1, 200, 1},
		{"MPerSFromFtPerS", MPerSFromFtPerS, 1, 4000, 1},
	}
	for _, l := range laws {
		t.Run(l.name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				x := rapid.Float64Range(l.least, l.most).Draw(t, "x")
				k := rapid.Float64Range(1, l.most/x).Draw(t, "k")
				got, want := l.f(k*x), math.Pow(k, l.exponent)*l.f(x)
				if !(math.Abs(got-want) <= 1e-6*math.Abs(want)) {
					t.Fatalf("f(%v·%v) = %v, want %v", k, x, got, want)
				}
			})
		})
	}
}

// Converters undo each other.
func TestConversionsInvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(1e-3, 1e5).Draw(t, "x")
		for _, back := range []float64{
			InchFromMM(MMFromInch(x)), KSIFromMPa(MPaFromKSI(x)), GPMFromLPerMin(LPerMinFromGPM(x)),
			LbPerMinFromGPerMin(GPerMinFromLbPerMin(x)), HPFromKW(KWFromHP(x)),
		} {
			if math.Abs(back-x) > 1e-12*x {
				t.Fatalf("%v came back as %v", x, back)
			}
		}
	})
}

func TestConversionChecks(t *testing.T) {
	runChecks(t, []check{
		{"1 in", "definition", MMFromInch(1), 25.4, 9},
		{"1 ksi", "definition", MPaFromKSI(1), 6.894757, 6},
		{"1 gpm", "definition", LPerMinFromGPM(1), 3.785412, 6},
		{"1 lb/min", "definition", GPerMinFromLbPerMin(1), 453.59237, 5},
		{"1 hp", "definition", KWFromHP(1), 0.745700, 6},
		{"1 ft/s", "definition", MPerSFromFtPerS(1), 0.3048, 9},
		{"1 bar", "definition", MPaFromBar(1), 0.1, 9},
	})
}

// SI and customary forms of the machinability formula agree to 0.5 %.
func TestFormsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, least, most float64) float64 {
			return rapid.Float64Range(least, most).Draw(t, name)
		}
		nm, p, d := draw("Nm", 10, 3000), draw("P", 150, 600), draw("do", 0.1, 0.6)
		tube, ma, q, h := draw("dm", 0.5, 2), draw("Ma", 50, 1000), draw("q", 1, 5), draw("h", 0.5, 200)
		si := AbrasiveSpeed(AbrasiveCut{Factor: 1, Machinability: nm, PressureMPa: p, OrificeMM: d, AbrasiveGPerMin: ma, Index: q, ThicknessMM: h, TubeMM: tube})
		us := MMFromInch(AbrasiveSpeedUS(1, nm, KSIFromMPa(p), InchFromMM(d), LbPerMinFromGPerMin(ma), q, InchFromMM(h), InchFromMM(tube)))
		if math.Abs(us/si-1) > 0.005 {
			t.Fatalf("SI %v, US %v mm/min", si, us)
		}
	})
}

// A motion measured in a unit k times smaller takes as long.
func TestMotionScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.01, 100).Draw(t, "k")
		m := Motion{FeedMMPerMin: 1200, AccelMMPerS2: 400, DeviationMM: 0.02, Lag: &Lag{ThicknessMM: 8, Index: 3, ErrorMM: 0.1, LawMMPerMin: 1500, Exponent: 1.15}}
		small := Motion{FeedMMPerMin: 1200 * k, AccelMMPerS2: 400 * k, DeviationMM: 0.02 * k, Lag: &Lag{ThicknessMM: 8 * k, Index: 3, ErrorMM: 0.1 * k, LawMMPerMin: 1500 * k, Exponent: 1.15}}
		a, b := m.PathSeconds(Stroke{Contour: notchedPlate()}), small.PathSeconds(Stroke{Contour: scaleContour(notchedPlate(), k)})
		if math.Abs(a.Sec-b.Sec) > 1e-6*a.Sec || math.Abs(a.LengthMM*k-b.LengthMM) > 1e-6*b.LengthMM {
			t.Fatalf("scaled by %v: %+v against %+v", k, a, b)
		}
	})
}

func scaleContour(c geom.Contour, k float64) geom.Contour {
	out := make(geom.Contour, len(c))
	for i, v := range c {
		out[i] = geom.Vertex{P: orb.Point{v.P[0] * k, v.P[1] * k}, Bulge: v.Bulge}
	}
	return out
}

// Amounts and money grow with what causes them.
func TestLedgerScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(1, 50).Draw(t, "copies")
		rate := rapid.Float64Range(0.1, 10).Draw(t, "rate")
		s := aluminiumJob(1)
		w := Work{Strokes: []Stroke{withLead(notchedPlate(), 4)}}
		one, err := LayoutLedger(s, w, 0)
		if err != nil {
			t.Fatal(err)
		}
		w.Strokes[0].Times = k
		s.Rates.LoadSecPerSheet *= float64(k)
		s.Rates.AbrasivePerKg *= rate
		many, err := LayoutLedger(s, w, 0)
		if err != nil {
			t.Fatal(err)
		}
		n := float64(k)
		for _, p := range [][2]float64{
			{one.Usage.JetSec * n, many.Usage.JetSec},
			{one.Usage.OccupiedSec * n, many.Usage.OccupiedSec},
			{one.Usage.WaterL * n, many.Usage.WaterL},
			{one.Usage.AbrasiveKg * n, many.Usage.AbrasiveKg},
			{one.Usage.EnergyKWh * n, many.Usage.EnergyKWh},
			{one.Usage.SludgeKg * n, many.Usage.SludgeKg},
			{one.Money.Abrasive * n * rate, many.Money.Abrasive},
			{one.Money.Machine * n, many.Money.Machine},
			{one.Money.Wear * n, many.Money.Wear},
		} {
			if math.Abs(p[0]-p[1]) > 1e-9*math.Abs(p[0]) {
				t.Fatalf("%v copies at %v times the rate: %v, want %v", k, rate, p[1], p[0])
			}
		}
	})
}

// dearer are rates at which everything costs k times as much.
func dearer(r Rates, k float64) Rates {
	for _, price := range []*float64{
		&r.MachinePerHour, &r.LabourPerHour, &r.AbrasivePerKg, &r.PowerPerKWh, &r.WaterPerM3, &r.DisposalPerKg,
		&r.TubePrice, &r.OrificePrice, &r.CoverPrice,
	} {
		*price *= k
	}
	return r
}

// A ledger is linear in time and in prices: k times the time uses and costs k
// times as much, k times the prices cost k times as much and use the same; and
// sums of ledgers scale as their terms do.
func TestLedgersAreLinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.1, 10).Draw(t, "k")
		s := aluminiumJob(1)
		run := Time{CutSec: 900, CutMM: 4000, PierceSec: 60, RapidSec: 45, HandleSec: 200}
		longer := Time{CutSec: 900 * k, CutMM: 4000 * k, PierceSec: 60 * k, RapidSec: 45 * k, HandleSec: 200 * k}
		one, many := LedgerOf(s, run, 50), LedgerOf(s, longer, 50)
		once := one.Usage // a sheet and its covers are there once however long it takes
		scales(t, "usage by time", one.Usage.Times(k), many.Usage, func(u *Usage) { u.Sheets, u.Covers = 0, 0 })
		scales(t, "process money by time", one.Money.Process()*k, many.Money.Process(), nil)
		scales(t, "total", many.Money.Process()+many.Money.Material, many.Money.Total(), nil)
		s.Rates = dearer(s.Rates, k)
		dear := LedgerOf(s, run, 50*k)
		scales(t, "usage by price", once, dear.Usage, nil)
		scales(t, "money by price", one.Money.Times(k), dear.Money, nil)
		scales(t, "price of a usage", dear.Money.Process(), s.Rates.Price(once, 50*k).Process(), nil)
		scales(t, "sum", one.Plus(one).Times(k), one.Times(2*k), nil)
		r := DefaultRates()
		r.SetupSec *= k
		scales(t, "set-up by time", SetupLedger(DefaultRates()).Times(k), SetupLedger(r), nil)
		scales(t, "set-up by price", SetupLedger(DefaultRates()).Money.Times(k), SetupLedger(dearer(DefaultRates(), k)).Money, nil)
	})
}

// scales compares two values number by number, after clear where there is one.
func scales[T any](t *rapid.T, what string, want, got T, clear func(*T)) {
	if clear != nil {
		clear(&want)
		clear(&got)
	}
	same := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b)) })
	if diff := cmp.Diff(want, got, same); diff != "" {
		t.Fatalf("%s (-want +got):\n%s", what, diff)
	}
}

// A set-up's jet follows its laws: water goes with the bore squared and the root
// of the pressure, power with the pressure to three halves, the motor with one
// over its efficiency; the kerf goes with the tube and the stand-off together.
func TestSetupScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.5, 1.5).Draw(t, "k")
		s := aluminiumJob(1)
		s.Machine = s.Machine.Filled()
		wide, pressed, weak, coarse := s, s, s, s
		wide.Machine.OrificeMM *= k
		pressed.Machine.PressureMPa *= k
		weak.Machine.MotorToJet /= k
		coarse.Machine.TubeMM *= k
		coarse.Machine.StandOffMM *= k
		scales(t, "water by bore", s.WaterLPerMin()*k*k, wide.WaterLPerMin(), nil)
		scales(t, "water by pressure", s.WaterLPerMin()*math.Sqrt(k), pressed.WaterLPerMin(), nil)
		scales(t, "jet by pressure", s.JetKW()*math.Pow(k, 1.5), pressed.JetKW(), nil)
		scales(t, "motor by efficiency", s.MotorKW()*k, weak.MotorKW(), nil)
		scales(t, "kerf", s.KerfMM()*k, coarse.KerfMM(), nil)
		deep := s
		deep.Layers = 4
		scales(t, "solid of four layers", 4*s.SolidMM(), deep.SolidMM(), nil)
	})
}
