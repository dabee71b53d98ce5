package report

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kerfold/geom"
	"kerfold/nest/shop"
)

func TestCutList(t *testing.T) {
	p := samplePlan()
	p.Groups[0].Parts[1].Note = "deburr, \"both\" sides"
	var b bytes.Buffer
	if err := WriteCutList(&b, p); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{
		cutListHead,
		{
			"G1-L1", "aluminium 6061", "6", "medium", "AL-6-1000x600", "rack 3", "4", "1 x 3 + 1 x 1", "jet-1 + jet-2",
			"1", "flange DN 80", "K-101/1", "", "2031-03-05", "2", "8", "",
		},
		{
			"G1-L1", "aluminium 6061", "6", "medium", "AL-6-1000x600", "rack 3", "4", "1 x 3 + 1 x 1", "jet-1 + jet-2",
			"2", "bracket, left and right", "K-102/1", "", "2031-03-03", "2", "8", "deburr, \"both\" sides",
		},
	}
	if diff := cmp.Diff(want, rows); diff != "" {
		t.Error(diff)
	}
}

// The stock that is written is the stock that the next job reads, to the bit.
func TestStockReadsBack(t *testing.T) {
	p := samplePlan()
	p.Job = "a week:\nwith # odd\tname"
	grain := 90.0
	p.Stock = append(p.Stock, shop.Stock{
		ID: "AL-6-1000x600/G1-L1", Material: "aluminium 6061", ThicknessMM: 6, Count: 4, Cost: 10.1234567891,
		Outline: geom.RectContour(0, 0, geom.Snap(312.3456789), geom.Snap(590.1)), GrainDeg: &grain, Remnant: true,
		Source: "remnant of AL-6-1000x600",
	})
	var b bytes.Buffer
	if err := WriteStock(&b, p); err != nil {
		t.Fatal(err)
	}
	got, warnings, err := shop.LoadRegister(fstest.MapFS{"s.yaml": {Data: b.Bytes()}}, "s.yaml", nil)
	if err != nil || len(warnings) > 0 {
		t.Fatalf("%v %v in\n%s", err, warnings, b.String())
	}
	for i := range got {
		got[i].Where = ""
	}
	if diff := cmp.Diff(p.Stock, got); diff != "" {
		t.Errorf("stock changed on its way (-written +read):\n%s", diff)
	}
}

// In customary units the summary shows 6 mm as 0.236 in, and litres as gallons.
func TestSummaryInCustomaryUnits(t *testing.T) {
	var b bytes.Buffer
	if err := WriteSummary(&b, usPlan()); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"foil 3 mm  0.236  medium", " lb abrasive", " gal water"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}

func TestSummarySaysWhatMatters(t *testing.T) {
	var b bytes.Buffer
	if err := WriteSummary(&b, samplePlan()); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"2 orders in 1 group, 1 late, 1 not complete",
		"G1     aluminium 6061   6  medium     16       4        1  16.9 %      3  21 min 40 s  381.00",
		"1 not complete",
		"one layout 4 times, 360.00 instead of 410.00 for each sheet by itself",
		"jet-2: 16 min 40 s of work, 1 set-up, done Tue 4 Mar",
		"add a sheet of aluminium 6061",
		"hydrogen",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}

func TestDuration(t *testing.T) {
	for _, c := range []struct {
		sec  float64
		want string
	}{
		{0, "0 s"},
		{59.4, "59 s"},
		{59.6, "1 min 00 s"},
		{3599, "59 min 59 s"},
		{3599.7, "1 h 00 min"},
		{7260, "2 h 01 min"},
		{90061, "25 h 01 min"},
	} {
		if got := Duration(c.sec); got != c.want {
			t.Errorf("%v s: %q, want %q", c.sec, got, c.want)
		}
	}
}
