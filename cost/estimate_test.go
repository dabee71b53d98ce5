package cost

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

func aluminiumJob(layers int) Setup {
	return Setup{Machine: smallMachine(), Material: BuiltinMap()["aluminium 6061"], Rates: DefaultRates(), ThicknessMM: 2, Grade: Medium, Layers: layers}
}

func plateWork() Work {
	w := Work{Parts: 40, RapidsMM: []float64{300, 120, 80}}
	for _, k := range smallPart().Strokes {
		k.Times = 40
		w.Strokes = append(w.Strokes, k)
	}
	return w
}

// shifted applies a draw of the assumptions to the real inputs, so that the
// planner itself, not the interpolated response, says how long it takes.
func shifted(s Setup, sh shift) Setup {
	s = s.filled()
	s.Machine.PressureMPa *= math.Exp(sh.pressure)
	s.Machine.AbrasiveGPerMin *= math.Exp(sh.abrasive)
	s.Machine.TubeMM *= math.Exp(sh.tube)
	s.Machine.AccelMMPerS2 *= math.Exp(sh.accel)
	s.Material.Machinability.Value *= math.Exp(sh.coefficient)
	s.Material.PlainK.Value *= math.Exp(sh.coefficient)
	s.Material.ThicknessExponent.Value += sh.thicknessExponent
	_, kappa := s.pierceConstants()
	s.Material.PierceFactor.Value = kappa.Value * math.Exp(sh.pierce)
	s.Rates.ClampFactor = math.Min(1, s.Rates.ClampFactor*math.Exp(sh.clamp))
	for _, p := range []*float64{&s.Rates.LoadSecPerSheet, &s.Rates.StackPrepSec, &s.Rates.StackLayerSec, &s.Rates.UnloadSecPerPart} {
		*p *= math.Exp(sh.handle)
	}
	return s
}

// A synthetic shop whose inputs really lie as far off as assumed: the 90 %
// intervals of time and money must hold 87 to 93 % of 500 weeks' truths.
func TestEstimateCoverage(t *testing.T) {
	rubber := Setup{
		Machine:  Machine{ID: "W2", Process: Plain, PressureMPa: 380, OrificeMM: 0.2, FeedCapMMPerMin: 20000, AccelMMPerS2: 1500},
		Material: BuiltinMap()["gasket rubber"], Rates: DefaultRates(), ThicknessMM: 5, Grade: Medium,
	}
	for _, c := range []struct {
		name string
		s    Setup
	}{{"single aluminium", aluminiumJob(1)}, {"six layers of aluminium", aluminiumJob(6)}, {"rubber", rubber}} {
		w := plateWork()
		e, err := EstimateRun(c.s, w, 30)
		if err != nil {
			t.Fatal(err)
		}
		sec, money := e.HeadSec.Interval(0.90), e.Money.Interval(0.90)
		normal := distuv.Normal{Mu: 0, Sigma: 1, Src: rand.NewPCG(5, 17)}
		as := Assumptions(c.s)
		const trials = 500
		hitSec, hitMoney := 0, 0
		for range trials {
			l, err := LayoutLedger(shifted(c.s, draw(as, normal)), w, 30)
			if err != nil {
				t.Fatal(err)
			}
			hitSec += count(within(l.Usage.HeadSec, sec.Low, sec.High))
			hitMoney += count(within(l.Money.Total(), money.Low, money.High))
		}
		t.Logf("%s: time %.3f of %.4g…%.4g s, money %.3f of %.4g…%.4g", c.name, float64(hitSec)/trials, sec.Low, sec.High, float64(hitMoney)/trials, money.Low, money.High)
		for _, hit := range []int{hitSec, hitMoney} {
			if rate := float64(hit) / trials; rate < 0.87 || rate > 0.93 {
				t.Errorf("%s: 90 %% interval covers %.3f", c.name, rate)
			}
		}
	}
}

// The delta method against Monte Carlo.
func TestEstimateAgainstSampling(t *testing.T) {
	s, w := aluminiumJob(6), plateWork()
	e, err := EstimateRun(s, w, 30)
	if err != nil {
		t.Fatal(err)
	}
	sec, money, err := SampleRun(s, w, 30, 0.9, 4000, rand.NewPCG(1, 2))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		a, b Interval
	}{{"time", e.HeadSec.Interval(0.9), sec}, {"money", e.Money.Interval(0.9), money}} {
		near(t, c.name+" low", c.a.Low, c.b.Low, 0.03)
		near(t, c.name+" likely", c.a.Likely, c.b.Likely, 1e-9)
		near(t, c.name+" high", c.a.High, c.b.High, 0.03)
	}
}

// The interpolated response against the planner, over three standard deviations.
func TestResponseAgainstPlanner(t *testing.T) {
	s, w := aluminiumJob(3), plateWork()
	r := newResponse(s, w)
	as := Assumptions(s)
	normal := distuv.Normal{Mu: 0, Sigma: 1.5, Src: rand.NewPCG(2, 2)}
	for range 50 {
		sh := draw(as, normal)
		want, err := LayoutTime(shifted(s, sh), w)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "head time", r.time(sh).HeadSec(), want.HeadSec(), 0.02)
	}
}

func TestEstimateArithmetic(t *testing.T) {
	a := Estimate{Likely: 10, Parts: []Contribution{{"a", 3}, {"c", 4}}}
	b := Estimate{Likely: 7, Parts: []Contribution{{"b", 2}, {"c", 4}}}
	if got := a.Minus(b); got.Likely != 3 || math.Abs(got.StdDev()-math.Sqrt(13)) > 1e-12 {
		t.Errorf("difference %+v: the shared cause must cancel", got)
	}
	if got := a.Plus(b).StdDev(); math.Abs(got-math.Sqrt(9+4+64)) > 1e-12 {
		t.Errorf("sum's deviation %v: the shared cause must add up", got)
	}
	if got := a.Times(3).StdDev(); math.Abs(got-15) > 1e-12 {
		t.Errorf("three times: %v", got)
	}
	if a.StdDev() != 5 {
		t.Errorf("deviation %v, want 5", a.StdDev())
	}
	if p := (Estimate{Likely: 1, Parts: []Contribution{{"a", 1}}}).BelowZero(); math.Abs(p-0.158655) > 1e-5 {
		t.Errorf("P(<0) = %v", p)
	}
	if got := a.Causes()[0].Key; got != "c" {
		t.Errorf("largest cause %q", got)
	}
}

func TestForecastStacks(t *testing.T) {
	s := aluminiumJob(1)
	s.Rates.StackLayerSec = 60
	table, best, err := ForecastStacks(s, smallPart(), 12, 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(table) != 12 || table[0].Wins != 0 {
		t.Fatalf("%d rows, single wins %v", len(table), table[0].Wins)
	}
	for _, c := range table {
		if c.Depth*c.Runs+c.Remainder != 12 {
			t.Errorf("depth %d: %d runs and %d left", c.Depth, c.Runs, c.Remainder)
		}
		near(t, "likely money", c.MoneyEstimate.Likely, c.Money(), 1e-9)
		near(t, "likely seconds", c.SecondsEstimate.Likely, c.Seconds, 1e-9)
		if c.Money() < table[best].Money() {
			t.Errorf("depth %d costs %v, the choice %v", c.Depth, c.Money(), table[best].Money())
		}
		if c.Depth > 1 && (c.Money() < table[0].Money()) != (c.Wins > 0.5) {
			t.Errorf("depth %d: wins with %.2f but costs %v against %v", c.Depth, c.Wins, c.Money(), table[0].Money())
		}
	}
}
