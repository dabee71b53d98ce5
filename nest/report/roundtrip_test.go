package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kerfold/geom"
	"kerfold/nest/route"
)

// What is not on disk: the route's contours (they are the placements') and
// numbers that follow from others.
var notOnDisk = cmp.Options{
	cmpopts.IgnoreFields(route.Cut{}, "Contour", "Name", "CutMM", "LeadMM"),
	cmpopts.EquateEmpty(),
}

func TestPlanRoundTrip(t *testing.T) {
	want := samplePlan()
	var b bytes.Buffer
	if err := WritePlan(&b, want); err != nil {
		t.Fatal(err)
	}
	got, err := ReadPlan(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got, notOnDisk); diff != "" {
		t.Errorf("plan changed on its way through plan.json (-want +got):\n%s", diff)
	}
	var again bytes.Buffer
	if err := WritePlan(&again, got); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(b.Bytes(), again.Bytes()) {
		t.Error("writing what was read gives other bytes")
	}
}

// A number that is not a short decimal must come back bit by bit.
func TestPlanKeepsEveryBit(t *testing.T) {
	p := samplePlan()
	p.Groups[0].Layouts[0].Placements[0].Pose = geom.Pose{X: 1.0 / 3, Y: geom.Snap(0.1), AngleDeg: 1e-7}
	var b bytes.Buffer
	if err := WritePlan(&b, p); err != nil {
		t.Fatal(err)
	}
	got, err := ReadPlan(&b)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := p.Groups[0].Layouts[0].Placements[0], got.Groups[0].Layouts[0].Placements[0]; a != b {
		t.Errorf("pose %v came back as %v", a, b)
	}
}

func TestReadPlanRefuses(t *testing.T) {
	var b bytes.Buffer
	if err := WritePlan(&b, samplePlan()); err != nil {
		t.Fatal(err)
	}
	good := b.String()
	for _, c := range []struct{ name, old, new, want string }{
		{"empty", good, "  \n", "empty"},
		{"no plan", good, `{"a": 1}`, "kerfold_plan"},
		{"other version", `"kerfold_plan": 1`, `"kerfold_plan": 2`, "format 2"},
		{"unknown key", `"currency"`, `"curency"`, "curency"},
		{"not JSON", `"currency":`, `"currency"`, "line "},
		{"wrong type", `"seed": 7`, `"seed": "x"`, "line 4"},
		{"no such part", `"part": 1,`, `"part": 9,`, "part 9 does not exist"},
		{"no such sheet", `"sheet": 0`, `"sheet": 3`, "sheet 3 does not exist"},
		{"no such machine", `"machine": "jet-2"`, `"machine": "jet-3"`, `machine "jet-3"`},
		{"bad grade", `"grade": "medium"`, `"grade": "shiny"`, "shiny"},
		{"bad date", `"due": "2031-03-05"`, `"due": "5 March"`, "date"},
		{"bad status", `"status": "finished"`, `"status": "done"`, "status"},
		{"negative spacing", `"spacing_mm": 3`, `"spacing_mm": -3`, "negative"},
		{"far away", `"x": 6,`, `"x": 6e300,`, "out of range"},
		{"no repeats", `"repeats": 4`, `"repeats": 0`, "repeats 0"},
		{"trailing", good, good + "{}", "after top-level value"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := strings.Replace(good, c.old, c.new, 1)
			if bad == good {
				t.Fatalf("%q is not in the plan", c.old)
			}
			_, err := ReadPlan(strings.NewReader(bad))
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want one that says %q", err, c.want)
			}
		})
	}
}

func FuzzReadPlan(f *testing.F) {
	var b bytes.Buffer
	if err := WritePlan(&b, samplePlan()); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add([]byte(`{"kerfold_plan": 1}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := ReadPlan(bytes.NewReader(data))
		if err != nil {
			return
		}
		var out bytes.Buffer
		if err := WritePlan(&out, p); err != nil {
			t.Fatalf("a plan that was read cannot be written: %v", err)
		}
		if _, err := ReadPlan(&out); err != nil {
			t.Fatalf("a plan that was written cannot be read: %v", err)
		}
	})
}
