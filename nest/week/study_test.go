package week

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kerfold/cost"
	"kerfold/nest"
	"kerfold/nest/shop"
)

func study(t *testing.T, job *shop.Job, order int, o StudyOptions) *Study {
	t.Helper()
	s, err := studyWith(context.Background(), job, order, o, shelfEngine.search)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A sheet of 1000 × 600 with 5 mm of margin and 2 mm between parts takes 4 × 5
// plates of 200 × 100.
func TestStudyFillsASheet(t *testing.T) {
	job := testJob(t, weekText)
	s := study(t, job, 0, StudyOptions{})
	if s.PerSheet != 20 || math.Abs(s.Yield-20*200*100/600000.0) > 1e-9 || s.Sheet.ID != "P3" {
		t.Errorf("%d on sheet %s, yield %v", s.PerSheet, s.Sheet.ID, s.Yield)
	}
	if n := len(s.Depths); n != 5 || s.Depths[4].Allowed() || s.Depths[3].Refusal != "" {
		t.Errorf("%d depths; the deeper machine allows 4", n)
	}
	if d := s.Depths[2]; d.FullRuns != 1 || d.Rest.Layers != 0 || d.Sheets != 3 {
		t.Errorf("60 plates three deep: %+v", d)
	}
	if len(s.Cautions) == 0 {
		t.Error("no cautions")
	}
	only := study(t, job, 0, StudyOptions{Machine: "jet 2"})
	if only.Machine != 1 || len(only.Depths) != 3 {
		t.Errorf("on jet 2: machine %d, %d depths", only.Machine, len(only.Depths))
	}
}

// The head's seconds for one copy agree with the cost of the whole sheet's
// route but for the leads and rapid moves that neighbours change.
func TestStudyAgainstWholeSheet(t *testing.T) {
	job := testJob(t, weekText)
	s := study(t, job, 0, StudyOptions{Machine: "jet 1"})
	p := shelfPlan(t, weekText, Options{Effort: 1})
	for i := range p.Groups {
		g := &p.Groups[i]
		for k := range g.Layouts {
			l := &g.Layouts[k]
			if g.Parts[l.Placements[0].Part].ID != "K-1" || len(g.Parts) != 1 {
				continue
			}
			run := l.Runs[0]
			got := s.Depths[run.Depth-1].Full.Time.HeadSec() / float64(s.PerSheet)
			want := run.Time.HeadSec() / float64(len(l.Placements))
			if math.Abs(got/want-1) > 0.05 {
				t.Errorf("%d deep: %.2f s a copy in the study, %.2f in the plan", run.Depth, got, want)
			}
			return
		}
	}
	t.Error("the plan has no layout of K-1 alone")
}

// A large sheet of small parts is filled in part.
func TestStudyOfManySmallParts(t *testing.T) {
	text := strings.Replace(weekText, "diameter_mm: 120, bore_mm: 80", "diameter_mm: 20, bore_mm: 10", 1)
	job := testJob(t, text)
	s := study(t, job, 2, StudyOptions{})
	// 45 × 45 in rows of 22 mm, less what the shelves waste.
	if s.PerSheet < 1700 || s.PerSheet > 2100 || len(s.Warnings) == 0 {
		t.Errorf("%d rings on a sheet, warnings %q", s.PerSheet, s.Warnings)
	}
}

func TestStudyRefuses(t *testing.T) {
	for _, c := range []struct {
		name, want string
		o          StudyOptions
	}{
		{"no such machine", `no machine "jet 9"`, StudyOptions{Machine: "jet 9"}},
		{"no such sheet", "no sheet of test plate, 3 mm in stock called Q1", StudyOptions{Sheet: "Q1"}},
		{"weak pump", "no machine can cut it", StudyOptions{}},
	} {
		job := testJob(t, weekText)
		if c.name == "weak pump" {
			for i := range job.Machines {
				job.Machines[i].MotorKW = 5
			}
		}
		_, err := studyWith(context.Background(), job, 0, c.o, shelfEngine.search)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
	nothing := func(context.Context, nest.Problem, nest.Options) (nest.Result, error) { return nest.Result{}, nil }
	if _, err := studyWith(context.Background(), testJob(t, weekText), 0, StudyOptions{}, nothing); err == nil || !strings.Contains(err.Error(), "does not fit") {
		t.Errorf("nothing placed: %v", err)
	}
	overlap := func(ctx context.Context, p nest.Problem, o nest.Options) (nest.Result, error) {
		r, err := shelfEngine.search(ctx, p, o)
		r.Layouts[0].Placements[1].Pose = r.Layouts[0].Placements[0].Pose
		return r, err
	}
	if _, err := studyWith(context.Background(), testJob(t, weekText), 0, StudyOptions{}, overlap); err == nil || !strings.Contains(err.Error(), "not legal") {
		t.Errorf("overlapping layout: %v", err)
	}
}

func TestStudyIsRepeatable(t *testing.T) {
	job := testJob(t, weekText)
	var first *Study
	for _, workers := range []int{1, 2} {
		s, err := StudyOrder(context.Background(), job, 0, StudyOptions{Seed: 3, Effort: 0.05, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		s.Job.At = nil
		if first == nil {
			first = s
		} else if diff := cmp.Diff(first, s, cmpopts.EquateEmpty(), cmpopts.IgnoreUnexported(cost.PartJob{})); diff != "" {
			t.Error(diff)
		}
	}
}
