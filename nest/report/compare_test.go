package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kerfold/geom"
	"kerfold/nest/week"
)

func comparison(t *testing.T, a, b *week.Plan) string {
	t.Helper()
	var out bytes.Buffer
	if err := WriteComparison(&out, Compare(a, b), false); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// squeezed leaves one of several spaces, so that widths do not matter.
func squeezed(s string) string {
	for strings.Contains(s, "  ") {
		s = strings.ReplaceAll(s, "  ", " ")
	}
	return s
}

func TestCompareWithItself(t *testing.T) {
	c := Compare(samplePlan(), samplePlan())
	if len(c.Orders) > 0 || len(c.Layouts) != 1 || c.Layouts[0].Change != SameLayout || c.A != c.B {
		t.Errorf("a plan differs from itself: %+v", c)
	}
	for _, line := range strings.Split(comparison(t, samplePlan(), samplePlan()), "\n") {
		if strings.HasPrefix(line, "cost, EUR ") && !strings.HasSuffix(line, "=") {
			t.Errorf("equal cost is called a change: %q", line)
		}
	}
}

// Ids and the order of placements are names, not content.
func TestCompareSeesThroughNames(t *testing.T) {
	a, b := widePlan(2, 4), widePlan(2, 4)
	a.Groups[0].Layouts[1].Placements[0].Pose.X++
	b.Groups[0].Layouts[0].Placements[0].Pose.X++ // the two have changed places
	p := b.Groups[0].Layouts[1].Placements
	p[0], p[3] = p[3], p[0]
	got := map[string]string{}
	for _, l := range Compare(a, b).Layouts {
		if l.Change != SameLayout {
			t.Errorf("%+v", l)
		}
		got[l.A] = l.B
	}
	if diff := cmp.Diff(map[string]string{"G1-L1": "G1-L2", "G1-L2": "G1-L1"}, got); diff != "" {
		t.Error(diff)
	}
}

func TestCompareSaysWhatChanged(t *testing.T) {
	a, b := samplePlan(), samplePlan()
	b.Seed = 8
	b.Ledger.Money.Material -= 84
	b.Groups[0].Layouts[0].Runs = b.Groups[0].Layouts[0].Runs[:1]
	b.Groups[0].Layouts[0].Repeats = 3
	b.Orders[1].Late, b.Orders[1].LateDays, b.Orders[1].LateSec, b.Orders[1].Finish = false, 0, 0, 0
	extra := week.Layout{ID: "G1-L2", Repeats: 1, Placements: b.Groups[0].Layouts[0].Placements[:1], Runs: []week.Run{{Depth: 1, Count: 1}}}
	b.Groups[0].Layouts = append(b.Groups[0].Layouts, extra)
	text := squeezed(comparison(t, a, b))
	for _, want := range []string{
		"A: sample week, seed 7, effort 3\nB: sample week, seed 8, effort 3\n",
		"cost, EUR 381.00 297.00 -84.00",
		"yield net of remnants 34.9 % 27.6 % -7.4 percentage points",
		"late in A:\n - K-102/1, 1 day late (16 min 40 s of work)",
		"late orders 1 0 -1",
		"\nsheets 4 4 =",
		"K-102/1: 1 day late, cut Tue 4 Mar in A; in time, cut Mon 3 Mar in B",
		"layouts: 0 the same, 1 cut otherwise, 0 rearranged, 0 only in A, 1 only in B",
		"G1-L1 of A is G1-L1 of B, on AL-6-1000x600: a stack of 3 + 1 sheet in A, a stack of 3 in B",
		"G1-L2 of B: 1 part on AL-6-1000x600, 1 sheet; not in A",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

func TestCompareRearranged(t *testing.T) {
	a, b := samplePlan(), samplePlan()
	b.Groups[0].Layouts[0].Placements[0].Pose.X++
	text := comparison(t, a, b)
	if want := "G1-L1 of A is G1-L1 of B, on AL-6-1000x600, with its parts lying otherwise: a stack of 3 + 1 sheet\n"; !strings.Contains(text, want) {
		t.Errorf("no %q in\n%s", want, text)
	}
	b.Groups[0].Layouts[0].Placements[0].Part = 1
	if text := comparison(t, a, b); !strings.Contains(text, "0 rearranged, 1 only in A, 1 only in B") {
		t.Errorf("another part is no other layout in\n%s", text)
	}
}

func TestCompareOtherGroupsAndMoney(t *testing.T) {
	a, b := samplePlan(), samplePlan()
	b.Currency = "USD"
	b.Groups[0].ThicknessMM = 8
	b.Groups[0].Layouts[0].Placements[0].Pose = geom.Pose{X: 7}
	text := squeezed(comparison(t, a, b))
	for _, want := range []string{"A is in EUR, B in USD", "1 only in A, 1 only in B", "G1 - aluminium 6061 6", "- G1 aluminium 6061 8"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

func TestComparisonJSON(t *testing.T) {
	c := Compare(samplePlan(), widePlan(2, 6))
	var out bytes.Buffer
	if err := WriteComparisonJSON(&out, c); err != nil {
		t.Fatal(err)
	}
	var back Comparison
	if err := json.Unmarshal(out.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(c, back); diff != "" {
		t.Errorf("changed on its way (-written +read):\n%s", diff)
	}
}
