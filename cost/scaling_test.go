package cost

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"kerfold/geom"
)

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
