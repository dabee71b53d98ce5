package cost

import (
	"math"
	"testing"
)

// smallMachine is a plausible machine for thin aluminium: the ordinary nozzle
// of 0.33/1.02 mm at 380 MPa with 400 g/min, a feed cap of 2500 mm/min and an
// acceleration of 250 mm/s² [demo].
func smallMachine() Machine {
	return Machine{
		ID: "W1", Process: Abrasive, PressureMPa: 380, OrificeMM: 0.33, TubeMM: 1.02, AbrasiveGPerMin: 400,
		FeedCapMMPerMin: 2500, AccelMMPerS2: 250,
	}
}

// wholePart returns the head's seconds for one layer and for n, the exponent e
// of T(n) = T(1)·n^e, and the share of time saved per layer.
func wholePart(t *testing.T, s Setup, n int) (single, stack, exponent, saving float64) {
	t.Helper()
	one, err := LayoutTime(s.At(1), smallPart())
	if err != nil {
		t.Fatal(err)
	}
	all, err := LayoutTime(s.At(n), smallPart())
	if err != nil {
		t.Fatal(err)
	}
	ratio := all.HeadSec() / one.HeadSec()
	return one.HeadSec(), all.HeadSec(), math.Log(ratio) / math.Log(float64(n)), 1 - ratio/float64(n)
}

// (trade) 14 × 1 mm of aluminium with 216 mm of path: about 15 s single, 170 s
// for the stack, 19 % less time, whole-part thickness exponent 0.92.
func TestFourteenLayers(t *testing.T) {
	base := Setup{Machine: smallMachine(), Material: BuiltinMap()["aluminium 6061"], ThicknessMM: 1, Grade: Fine}
	single, stack, exponent, saving := wholePart(t, base, 14)
	t.Logf("as stated: single %.1f s, stack %.1f s, exponent %.3f, saving %.1f %%", single, stack, exponent, 100*saving)
	if exponent < 0.85 || exponent > 1 {
		t.Errorf("whole-part exponent %.3f is outside 0.85 to 1.0", exponent)
	}
	if saving < 0.10 || saving > 0.30 {
		t.Errorf("saving %.3f is outside 0.10 to 0.30", saving)
	}
	if math.Abs(single/15-1) > 0.15 || math.Abs(stack/170-1) > 0.15 {
		t.Errorf("single %.1f s and stack %.1f s are not near 15 and 170", single, stack)
	}
	// What the saving hangs on: it must shrink as the machine gets livelier,
	// the edge finer or the clamping worse.
	for _, v := range []struct {
		name string
		set  func(*Setup)
		more bool // saves more than the base
	}{
		{"acceleration 500 mm/s²", func(s *Setup) { s.Machine.AccelMMPerS2 = 500 }, false},
		{"acceleration 125 mm/s²", func(s *Setup) { s.Machine.AccelMMPerS2 = 125 }, true},
		{"feed cap 5000 mm/min", func(s *Setup) { s.Machine.FeedCapMMPerMin = 5000 }, false},
		{"feed cap 1500 mm/min", func(s *Setup) { s.Machine.FeedCapMMPerMin = 1500 }, true},
		{"grade good", func(s *Setup) { s.Grade = Good }, true},
		{"clamp factor 0.80", func(s *Setup) { s.Rates.ClampFactor = 0.8 }, false},
		{"clamp factor 0.95", func(s *Setup) { s.Rates.ClampFactor = 0.95 }, true},
		{"gaps of 0.2 mm", func(s *Setup) { s.Rates.LayerGapMM = 0.2 }, false},
		{"thickness exponent 1.0", func(s *Setup) { s.Material.ThicknessExponent.Value = 1 }, true},
		{"no head delay", func(s *Setup) { s.Machine.HeadSec = -1 }, false},
	} {
		s := base
		v.set(&s)
		one, all, e, got := wholePart(t, s, 14)
		t.Logf("%-24s single %5.1f s, stack %6.1f s, exponent %.3f, saving %5.1f %%", v.name, one, all, e, 100*got)
		if (got > saving) != v.more {
			t.Errorf("%s: saving %.3f against %.3f", v.name, got, saving)
		}
	}
}

// Soft sheet at the feed cap: the same model gives nearly as many times the
// throughput as there are layers, for as long as the cap binds.
func TestSoftSheetAtTheCap(t *testing.T) {
	s := Setup{
		Machine:  Machine{ID: "W2", Process: Plain, PressureMPa: 380, OrificeMM: 0.2, FeedCapMMPerMin: 5000},
		Material: BuiltinMap()["gasket rubber"], ThicknessMM: 1, Grade: Medium,
	}
	v, err := SpeedOf(s.At(4))
	if err != nil || v.Limit != LimitMachine {
		t.Fatalf("four layers at %+v, %v: the cap must bind", v, err)
	}
	one, _ := LayoutTime(s, smallPart())
	four, err := LayoutTime(s.At(4), smallPart())
	if err != nil {
		t.Fatal(err)
	}
	gain := 4 * one.HeadSec() / four.HeadSec()
	t.Logf("throughput of 4 layers: %.2f times", gain)
	if gain < 3.5 {
		t.Errorf("throughput of 4 layers is %.2f times the single's", gain)
	}
	if _, err := LayoutTime(s.At(5), smallPart()); err == nil {
		t.Error("five layers of soft sheet are allowed")
	}
}

// Published bands the model must fall in.
func TestPublishedBands(t *testing.T) {
	// 101.6 mm aluminium, about 107 mm/min at q 1 and 18 at q 5, nozzle not stated:
	// a small and a large usual nozzle bracket both.
	small := AbrasiveCut{Factor: 1, Machinability: 213, PressureMPa: 345, OrificeMM: 0.28, AbrasiveGPerMin: 340, ThicknessMM: 101.6, TubeMM: 0.84}
	large := AbrasiveCut{Factor: 1, Machinability: 213, PressureMPa: 400, OrificeMM: 0.38, AbrasiveGPerMin: 550, ThicknessMM: 101.6, TubeMM: 1.14}
	for q, want := range map[float64]float64{1: 107, 5: 18} {
		small.Index, large.Index = q, q
		if lo, hi := AbrasiveSpeed(small), AbrasiveSpeed(large); lo > want || hi < want {
			t.Errorf("aluminium 101.6 mm at q %v: %.1f to %.1f does not hold %v", q, lo, hi, want)
		}
	}
	s := Setup{Machine: smallMachine(), Material: BuiltinMap()["granite"], ThicknessMM: 20, Grade: Medium}
	for _, b := range []struct {
		material    string
		mm          float64
		least, most float64 // mm/min
	}{{"granite", 20, 200, 700}, {"marble", 20, 500, 1200}} {
		s.Material, s.ThicknessMM = BuiltinMap()[b.material], b.mm
		v, err := SpeedOf(s)
		if err != nil || !within(v.MMPerMin, b.least, b.most) {
			t.Errorf("%s %v mm: %+v, %v; want %v to %v mm/min", b.material, b.mm, v, err, b.least, b.most)
		}
	}
	for _, b := range []struct {
		material string
		mm       float64
	}{{"granite", 20}, {"marble", 30}} {
		s.Material, s.ThicknessMM = BuiltinMap()[b.material], b.mm
		v, _ := SpeedOf(s)
		kwh := s.MotorKW() / 60 * 1000 / v.MMPerMin
		if !within(kwh, 1, 1.5) {
			t.Errorf("%s %v mm: %.2f kWh per metre, published 1.0 to 1.5", b.material, b.mm, kwh)
		}
	}
}

func TestShopExampleChecks(t *testing.T) {
	runChecks(t, []check{
		{"304 10 mm", computed, AbrasiveSpeed(shop12(82, 10, 3)), 144, 0},
		{"aluminium 10 mm", computed, AbrasiveSpeed(shop12(213, 10, 3)), 433, 0},
		{"aluminium 20 mm", computed, AbrasiveSpeed(shop12(213, 20, 3)), 195, 0},
	})
}

// ±2.5 % of pressure is ±4.6 % on time.
func TestRippleChecks(t *testing.T) {
	e := Setup{}.pressureExponent()
	runChecks(t, []check{
		{"pressure exponent", computed, e, 1.83, 2},
		{"time at −2.5 %", computed, 100 * e * 0.025, 4.6, 1},
	})
}

func TestPierceChecks(t *testing.T) {
	kappa := PierceFactorStationary.Value
	thick := steel12(1)
	thick.ThicknessMM = 25.4
	runChecks(t, []check{
		{"12.7 mm steel s", computed, PierceTime(0, kappa, 1.016, AbrasiveSpeed(steel12(1))), 7.4, 1},
		{"25.4 mm steel s", computed, PierceTime(0, kappa, 1.016, AbrasiveSpeed(thick)), 16.4, 1},
		{"low pressure", computed, LowPressureFactor(400, 100, 1.8331), math.Pow(4, 1.8331), 6},
	})
}
