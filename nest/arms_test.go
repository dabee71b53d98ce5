package nest_test

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"kerfold/nest"
	"kerfold/nest/verify"
)

// An arm is one search as a caller may start it.
type arm struct {
	name string
	run  func(context.Context, nest.Problem, nest.Options) (nest.Result, error)
}

var arms = []arm{
	{"bottom-left", func(ctx context.Context, p nest.Problem, o nest.Options) (nest.Result, error) {
		return nest.BottomLeft(ctx, p, nil, o)
	}},
	{"genetic", nest.Genetic},
	{"separation", func(ctx context.Context, p nest.Problem, o nest.Options) (nest.Result, error) {
		return nest.Separate(ctx, p, nest.Result{}, o)
	}},
	{"lattice", nest.Lattice},
	{"tiling", nest.Tile},
	{"solve", nest.Solve},
}

// TestArmsAreLegal has the judge, which shares no code with the searches, look
// at what every arm makes of drawn problems: legal, complete or saying what is
// missing, and the same for one worker and two. With -short it draws fewer.
func TestArmsAreLegal(t *testing.T) {
	if testing.Short() {
		fewerChecks(t, "20")
	}
	for _, a := range arms {
		t.Run(a.name, func(t *testing.T) {
			t.Parallel()
			rapid.Check(t, func(t *rapid.T) { a.check(t, drawProblem(t)) })
		})
	}
}

// fewerChecks draws fewer problems while the test runs.
func fewerChecks(t *testing.T, n string) {
	was := flag.Lookup("rapid.checks").Value.String()
	if err := flag.Set("rapid.checks", n); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = flag.Set("rapid.checks", was) })
}

// armEffort is little, for there are many problems.
const armEffort = 0.004

func (a arm) check(t *rapid.T, p nest.Problem) {
	one, err := a.run(context.Background(), p, nest.Options{Seed: 1, Effort: armEffort, Workers: 1})
	if errors.Is(err, nest.ErrUnsupported) {
		return
	}
	if err != nil {
		t.Fatalf("%s: %v", a.name, err)
	}
	for _, fault := range faults(p, one) {
		t.Errorf("%s: %s", a.name, fault)
	}
	two, err := a.run(context.Background(), p, nest.Options{Seed: 1, Effort: armEffort, Workers: 2})
	if err != nil || text(t, one) != text(t, two) {
		t.Errorf("%s: two workers give another result than one, error %v", a.name, err)
	}
}

func text(t *rapid.T, r nest.Result) string {
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// faults is what is wrong with a result.
func faults(p nest.Problem, r nest.Result) []string {
	var list []string
	for _, v := range verify.Check(layoutOf(p, r)).Violations {
		list = append(list, v.Text)
	}
	missing := 0
	for part, n := range r.Unplaced {
		missing += n
		if n <= 0 || p.Parts[part].Filler {
			list = append(list, "unplaced counts what is not missing")
		}
	}
	if said := strings.Join(r.Warnings, "\n"); (missing > 0) != (r.Status == nest.Infeasible) || missing > 0 && said == "" {
		list = append(list, "parts are missing and status or warnings do not say so, or the other way round")
	}
	if r.Density < 0 || r.Density > 1+1e-9 {
		list = append(list, "the density is no share")
	}
	return list
}

// layoutOf puts a result before the judge. What the search says is unplaced it
// need not place.
func layoutOf(p nest.Problem, r nest.Result) verify.Layout {
	l := verify.Layout{Spacing: p.Spacing, Margin: p.Margin, Limit: 3}
	for i, part := range p.Parts {
		q := verify.Part{
			ID: part.ID, Shape: verify.Plain(part.Outline), Min: part.Quantity - r.Unplaced[i], Max: part.Quantity + part.Extra,
			Angles: part.Angles, FreeAngle: part.FreeAngle, Mirror: part.Mirror, GrainDeg: part.Grain,
		}
		if p.StripWidth == 0 {
			q.Kit, q.PerKit = part.Kit, part.PerKit
		}
		if part.Filler {
			q.Min = 0
		}
		l.Parts = append(l.Parts, q)
	}
	for _, s := range p.Sheets {
		shape := verify.Plain(s.Outline)
		l.Sheets = append(l.Sheets, verify.Sheet{ID: s.ID, Outline: shape.Outer, Blocked: shape.Holes, Count: s.Count, GrainDeg: s.Grain})
	}
	if p.StripWidth > 0 && r.Length > 0 {
		l.Sheets = []verify.Sheet{verify.Strip(p.StripWidth, r.Length)}
	}
	for _, layout := range r.Layouts {
		if len(layout.Placements) == 0 {
			continue
		}
		u := verify.Use{Sheet: layout.Sheet}
		for _, pl := range layout.Placements {
			u.Placements = append(u.Placements, verify.Placement{Part: pl.Part, Pose: pl.Pose})
		}
		l.Uses = append(l.Uses, u)
	}
	return l
}

// A separation on sheets that has nothing to cut must end with its effort: here
// the only part is a frame of less area than the shortest sheet that holds it.
func TestSeparationEndsWhenNothingCanBeCut(t *testing.T) {
	frame := orb.Polygon{{{0, 0}, {50, 0}, {50, 50}, {0, 50}}, {{5, 5}, {5, 45}, {45, 45}, {45, 5}}}
	p := nest.Problem{
		Parts:  []nest.Part{{ID: "a", Outline: frame, Quantity: 1}},
		Sheets: []nest.Sheet{{ID: "s", Outline: orb.Polygon{{{0, 0}, {80, 0}, {80, 50}, {0, 50}}}, Count: 1}},
	}
	ended := make(chan bool)
	go func() {
		r, err := nest.Separate(context.Background(), p, nest.Result{}, nest.Options{Seed: 1, Effort: armEffort})
		if err != nil || r.Status != nest.Finished || len(r.Layouts) != 1 {
			t.Errorf("status %v, %d sheets, error %v", r.Status, len(r.Layouts), err)
		}
		close(ended)
	}()
	select {
	case <-ended:
	case <-time.After(20 * time.Second):
		t.Fatal("the search goes on after its effort is spent")
	}
}

// TestArmFaultsAreSeen moves a part of a legal layout and takes one away: a
// judge that passes that would pass anything.
func TestArmFaultsAreSeen(t *testing.T) {
	p := nest.Problem{
		Parts:  []nest.Part{{ID: "a", Outline: orb.Polygon{{{0, 0}, {30, 0}, {30, 20}, {0, 20}}}, Quantity: 4}},
		Sheets: []nest.Sheet{{ID: "s", Outline: orb.Polygon{{{0, 0}, {100, 0}, {100, 100}, {0, 100}}}, Count: 1}},
	}
	r, err := nest.BottomLeft(t.Context(), p, nil, nest.Options{})
	if err != nil || len(faults(p, r)) > 0 {
		t.Fatalf("error %v, faults %v", err, faults(p, r))
	}
	placed := r.Layouts[0].Placements
	placed[0].Pose.X += 0.001
	placed[0].Pose.Y += 0.001
	if len(faults(p, r)) == 0 {
		t.Error("an overlap of a micrometre goes unseen")
	}
	placed[0].Pose.X -= 0.001
	placed[0].Pose.Y -= 0.001
	r.Layouts[0].Placements = placed[:3]
	if len(faults(p, r)) == 0 {
		t.Error("a missing part goes unseen")
	}
}
