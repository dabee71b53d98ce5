package cost

import (
	"math"
	"testing"
)

func studyJob(quantity int) PartJob {
	s := aluminiumJob(1)
	s.Rates.StackLayerSec = 60
	s.Machine.MaxLayers = 6
	w := smallPart()
	return PartJob{Setup: s, Part: w, PerSheet: 30, Quantity: quantity, SheetMoney: 20, RemnantShare: 0.5}
}

// A quantity that fills sheets without rest is the stack table of as many
// repeats of the full layout.
func TestStudyAgainstStackTable(t *testing.T) {
	j := studyJob(30 * 12)
	study, err := StudyPart(j)
	if err != nil {
		t.Fatal(err)
	}
	full := j.Part.Copies(30)
	table, best, err := ForecastStacks(j.Setup, full, 12, 20)
	if err != nil {
		t.Fatal(err)
	}
	if len(study.Depths) != 7 || len(table) != 7 || study.Best != best {
		t.Fatalf("%d depths, best %d; table has %d, best %d", len(study.Depths), study.Best, len(table), best)
	}
	for i, d := range study.Depths {
		if d.Allowed() != table[i].Allowed() {
			t.Errorf("depth %d: %q against %q", i+1, d.Refusal, table[i].Refusal)
		}
		if !d.Allowed() || table[i].Remainder > 0 {
			continue
		}
		near(t, "money", d.Money(), table[i].Money(), 1e-9)
		near(t, "seconds", d.Seconds(), table[i].Seconds, 1e-9)
		near(t, "wins", d.Wins, table[i].Wins, 1e-6)
		near(t, "spread", d.MoneyEstimate.StdDev(), table[i].MoneyEstimate.StdDev(), 1e-6)
		if d.Surplus != 0 || d.Sheets != 12 {
			t.Errorf("depth %d: surplus %d, %d sheets", d.Depth, d.Surplus, d.Sheets)
		}
	}
}

func TestStudyCountsParts(t *testing.T) {
	for _, q := range []int{1, 2, 5, 29, 30, 31, 61, 179, 180, 181, 1000} {
		study, err := StudyPart(studyJob(q))
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range study.Depths {
			if !d.Allowed() {
				continue
			}
			if got := d.FullRuns*d.Depth*30 + d.Rest.Layers*d.Rest.PerLayer - d.Surplus; got != q || d.Surplus < 0 || d.Surplus >= d.Depth {
				t.Errorf("%d parts, depth %d: %d runs and %d×%d with %d surplus", q, d.Depth, d.FullRuns, d.Rest.Layers, d.Rest.PerLayer, d.Surplus)
			}
			if d.FullRuns == 0 && d.Rest.Layers != d.Depth {
				t.Errorf("%d parts, depth %d: cut %d deep", q, d.Depth, d.Rest.Layers)
			}
		}
	}
}

// Below the break-even single sheets are best, at it a stack is.
func TestStudyBreakEven(t *testing.T) {
	base, err := StudyPart(studyJob(100))
	if err != nil || base.BreakEven < 2 {
		t.Fatalf("break-even %d, %v", base.BreakEven, err)
	}
	t.Logf("break-even at %d parts", base.BreakEven)
	for _, q := range []int{base.BreakEven - 1, base.BreakEven} {
		s, err := StudyPart(studyJob(q))
		if err != nil {
			t.Fatal(err)
		}
		if stacked := s.Depths[s.Best].Depth > 1; stacked != (q == base.BreakEven) {
			t.Errorf("%d parts: best depth %d", q, s.Depths[s.Best].Depth)
		}
	}
	never := studyJob(100)
	never.Setup.Rates.StackPrepSec = math.Pow(10, 7)
	if s, err := StudyPart(never); err != nil || s.BreakEven != 0 || s.Best != 0 {
		t.Errorf("with ten million seconds of clamping: break-even %d, best %d, %v", s.BreakEven, s.Best, err)
	}
}
