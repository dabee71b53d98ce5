package report

import (
	"bytes"
	"strings"
	"testing"
)

// Layouts in which parts only lie otherwise are counted when there are many, and
// listed when all is asked for.
func TestCompareCountsWhatNobodyPlansBy(t *testing.T) {
	a, b := widePlan(6, 4), widePlan(6, 4)
	for i := range b.Groups[0].Layouts {
		b.Groups[0].Layouts[i].Placements[0].Pose.X++
	}
	short := comparison(t, a, b)
	if !strings.Contains(short, "6 others, with as many sheets and nearly the same cost") || strings.Count(short, "lying otherwise") != 1 {
		t.Errorf("six layouts that lie otherwise are not counted in\n%s", short)
	}
	if !strings.Contains(short, "1 group cuts as many sheets") {
		t.Errorf("the group is not told of in\n%s", short)
	}
	var out bytes.Buffer
	if err := WriteComparison(&out, Compare(a, b), true); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(out.String(), "lying otherwise"); n != 6 {
		t.Errorf("--all lists %d of 6 layouts in\n%s", n, out.String())
	}
}

// A group whose cost changes by more than estimates let pass is shown, however
// few sheets change, and its layouts with it.
func TestCompareShowsGroupsThatCostOtherwise(t *testing.T) {
	for _, c := range []struct {
		factor float64
		minor  bool
	}{{1.001, true}, {0.999, true}, {1.02, false}, {0.9, false}} {
		a, b := samplePlan(), samplePlan()
		b.Groups[0].Ledger.Money.Material += (c.factor - 1) * a.Groups[0].Ledger.Money.Total()
		comparison := Compare(a, b)
		if got := comparison.minor(0); got != c.minor {
			t.Errorf("cost times %v: minor is %v, want %v", c.factor, got, c.minor)
		}
	}
}

// Orders that become worse come first, whatever their place in the plan; those
// only cut on another day come last.
func TestCompareOrdersByImportance(t *testing.T) {
	a, b := samplePlan(), samplePlan()
	b.Orders[0].Finish = 1 - b.Orders[0].Finish
	b.Orders[1].LateDays, b.Orders[1].LateSec = b.Orders[1].LateDays+2, b.Orders[1].LateSec+9000
	list := Compare(a, b).Orders
	if len(list) != 2 || list[0].Order != b.Orders[1].Order || list[0].Kind != OrderWorse || list[1].Kind != OrderMoved || list[1].Days == 0 {
		t.Errorf("orders %+v", list)
	}
	if back := Compare(b, a).Orders; back[0].Kind != OrderBetter || back[1].Days != -list[1].Days {
		t.Errorf("the other way about: %+v", back)
	}
}
