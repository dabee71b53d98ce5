package nest

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

func solveAll(t *testing.T, p Problem) map[string]Result {
	t.Helper()
	bl, err := BottomLeft(t.Context(), p, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	ga, err := Genetic(t.Context(), p, Options{Seed: 1, Effort: 0.02})
	if err != nil {
		t.Fatal(err)
	}
	return map[string]Result{"bottom-left": bl, "genetic": ga}
}

// placedOn counts the copies of a part on every layout.
func placedOn(r Result, part int) []int {
	counts := make([]int, len(r.Layouts))
	for i, l := range r.Layouts {
		for _, p := range l.Placements {
			if p.Part == part {
				counts[i]++
			}
		}
	}
	return counts
}

func TestPartsInHolesOfParts(t *testing.T) {
	ring := orb.Polygon{geom.RectRing(0, 0, 50, 50), geom.ReverseRing(geom.RectRing(10, 10, 40, 40))}
	p := Problem{
		Parts:   []Part{{ID: "ring", Outline: ring, Quantity: 2}, {ID: "core", Outline: rect(14, 14), Quantity: 8}},
		Sheets:  []Sheet{{Outline: rect(104, 52), Count: 5}},
		Spacing: 0.5, Margin: 0.5,
	}
	for name, r := range solveAll(t, p) {
		if len(r.Layouts) != 1 || r.Status != Finished {
			t.Errorf("%s: %d sheets, status %v; all fits on one when cores lie in the rings", name, len(r.Layouts), r.Status)
		}
	}
}

func TestBlockedZones(t *testing.T) {
	sheet := orb.Polygon{geom.RectRing(0, 0, 100, 50), geom.ReverseRing(geom.RectRing(40, 0.5, 60, 30))}
	p := Problem{Parts: []Part{{Outline: rect(38, 48), Quantity: 2}}, Sheets: []Sheet{{Outline: sheet, Count: 3}}, Margin: 1}
	for name, r := range solveAll(t, p) {
		if len(r.Layouts) != 1 {
			t.Errorf("%s: %d sheets, want both parts beside the zone of one", name, len(r.Layouts))
		}
		for _, l := range r.Layouts {
			for _, pl := range l.Placements {
				if d := bruteDistance(applied(p.Parts[0].Outline, pl.Pose), sheet); d < 1-geom.SheetAllowance {
					t.Errorf("%s: %v from the edge or the zone", name, d)
				}
			}
		}
	}
}

func TestGrain(t *testing.T) {
	along, across := 0.0, 90.0
	p := Problem{
		Parts:  []Part{{Outline: rect(30, 10), Quantity: 3, Angles: []float64{0, 90, 180, 270}, Grain: &along}},
		Sheets: []Sheet{{Outline: rect(30, 30), Count: 1, Grain: &across}, {Outline: rect(10, 30), Count: 3, Grain: &along}},
	}
	// On the first sheet the grain turns the part upright, on the others it would
	// have to lie, and does not fit.
	for name, r := range solveAll(t, p) {
		if len(r.Layouts) != 1 || r.Layouts[0].Sheet != 0 || r.Status != Finished {
			t.Fatalf("%s: layouts %+v", name, r.Layouts)
		}
		for _, pl := range r.Layouts[0].Placements {
			if a := geom.NormalDeg(pl.Pose.AngleDeg); a != 90 && a != 270 {
				t.Errorf("%s: turned by %v, which lies across the grain", name, a)
			}
		}
	}
}

func TestMirror(t *testing.T) {
	// An L and its mirror image fill a 4 × 5 rectangle; two equal ones cannot.
	hook := orb.Polygon{{{0, 0}, {4, 0}, {4, 3}, {3, 3}, {3, 1}, {0, 1}}}
	plate := orb.Polygon{{{0, 0}, {4, 0}, {4, 1}, {1, 1}, {1, 3}, {0, 3}}}
	p := Problem{
		Parts:  []Part{{Outline: hook, Quantity: 1}, {Outline: plate, Quantity: 1, Mirror: true}, {Outline: rect(3, 2), Quantity: 2}},
		Sheets: []Sheet{{Outline: rect(4, 6), Count: 1}},
	}
	for name, r := range solveAll(t, p) {
		if r.Status != Finished {
			t.Errorf("%s: status %v, unplaced %v", name, r.Status, r.Unplaced)
		}
	}
}

func TestMirrorOnlyWhereAllowed(t *testing.T) {
	slant := orb.Polygon{{{0, 0}, {10, 0}, {13, 4}, {3, 4}}}
	for _, mirror := range []bool{false, true} {
		p := Problem{Parts: []Part{{Outline: slant, Quantity: 4, Mirror: mirror}}, StripWidth: 8}
		r, err := Genetic(t.Context(), p, Options{Seed: 3, Effort: 0.02})
		if err != nil {
			t.Fatal(err)
		}
		turned := 0
		for _, pl := range r.Layouts[0].Placements {
			if pl.Pose.Mirror {
				turned++
			}
		}
		if !mirror && turned > 0 {
			t.Errorf("%d parts are turned over that must not be", turned)
		}
	}
}

func TestKitsStayTogether(t *testing.T) {
	p := Problem{
		Parts: []Part{
			{ID: "door", Outline: rect(60, 40), Quantity: 2, Kit: "box"},
			{ID: "side", Outline: rect(30, 40), Quantity: 4, Kit: "box"},
			{ID: "loose", Outline: rect(20, 20), Quantity: 3},
		},
		Sheets: []Sheet{{Outline: rect(150, 50), Count: 6}},
	}
	for name, r := range solveAll(t, p) {
		doors, sides := placedOn(r, 0), placedOn(r, 1)
		for i := range doors {
			if sides[i] != 2*doors[i] {
				t.Errorf("%s: sheet %d holds %d doors and %d sides", name, i, doors[i], sides[i])
			}
		}
		if r.Status != Finished {
			t.Errorf("%s: status %v", name, r.Status)
		}
	}
}

// TestCopiesPerKit has quantities that divide further than the kits do.
func TestCopiesPerKit(t *testing.T) {
	p := Problem{
		Parts: []Part{
			{ID: "door", Outline: rect(45, 40), Quantity: 4, Kit: "box", PerKit: 2},
			{ID: "side", Outline: rect(10, 40), Quantity: 8, Kit: "box", PerKit: 4},
		},
		Sheets: []Sheet{{Outline: rect(200, 40), Count: 6}},
	}
	for name, r := range solveAll(t, p) {
		for i, n := range placedOn(r, 0) {
			if n%2 != 0 || placedOn(r, 1)[i] != 2*n {
				t.Errorf("%s: sheet %d holds %d doors and %d sides", name, i, n, placedOn(r, 1)[i])
			}
		}
		if r.Status != Finished {
			t.Errorf("%s: status %v", name, r.Status)
		}
	}
}

func TestFillersAndExtrasOpenNoSheet(t *testing.T) {
	p := Problem{
		Parts: []Part{
			{ID: "wanted", Outline: rect(60, 40), Quantity: 2, Extra: 5},
			{ID: "filler", Outline: rect(9, 9), Quantity: 1000, Filler: true},
		},
		Sheets: []Sheet{{Outline: rect(100, 50), Count: 9}},
	}
	for name, r := range solveAll(t, p) {
		if len(r.Layouts) != 2 || r.Status != Finished {
			t.Errorf("%s: %d sheets, status %v; fillers must not open sheets", name, len(r.Layouts), r.Status)
		}
		if n := placedOn(r, 1); n[0] == 0 {
			t.Errorf("%s: no filler was placed", name)
		}
	}
}

func TestCheapestSheetsAreUsed(t *testing.T) {
	remnant := orb.Polygon{{{0, 0}, {40, 0}, {40, 20}, {20, 20}, {20, 40}, {0, 40}}}
	p := Problem{
		Parts: []Part{{Outline: rect(19, 19), Quantity: 3}, {Outline: rect(90, 90), Quantity: 1}},
		Sheets: []Sheet{
			{ID: "large", Outline: rect(200, 100), Count: 3, Cost: 50},
			{ID: "small", Outline: rect(95, 95), Count: 3, Cost: 30},
			{ID: "remnant", Outline: remnant, Count: 1, Cost: 2},
		},
		Spacing: 0.5, Margin: 0.1,
	}
	for name, r := range solveAll(t, p) {
		if c := r.cost(p); c != 32 {
			t.Errorf("%s: cost %v, want 32: the remnant and one small sheet", name, c)
		}
	}
}

func TestUnplacedAreNamed(t *testing.T) {
	p := Problem{
		Parts:  []Part{{ID: "huge", Outline: rect(500, 500), Quantity: 2}, {ID: "many", Outline: rect(60, 60), Quantity: 5}},
		Sheets: []Sheet{{Outline: rect(100, 100), Count: 2}},
	}
	for name, r := range solveAll(t, p) {
		if r.Status != Infeasible || r.Unplaced[0] != 2 || r.Unplaced[1] != 3 {
			t.Errorf("%s: status %v, unplaced %v", name, r.Status, r.Unplaced)
		}
		all := strings.Join(r.Warnings, "\n")
		if !strings.Contains(all, `"huge" fits on nothing`) || !strings.Contains(all, `"many": no room`) {
			t.Errorf("%s: warnings %q", name, r.Warnings)
		}
	}
}

// TestGrainThatNoTurnFollows names the grain, not the size, as what is wrong;
// on a strip as on sheets, and whatever the search.
func TestGrainThatNoTurnFollows(t *testing.T) {
	across := 90.0
	parts := []Part{{ID: "odd", Outline: rect(9, 5), Quantity: 2, Grain: &across}, {ID: "even", Outline: rect(9, 5), Quantity: 2}}
	along := 0.0
	for _, p := range []Problem{
		{Parts: parts, StripWidth: 20},
		{Parts: parts, Sheets: []Sheet{{Outline: rect(50, 50), Count: 1, Grain: &along}}},
	} {
		all := solveAll(t, p)
		r, err := Separate(t.Context(), p, Result{}, Options{Effort: 0.01})
		if err != nil {
			t.Fatal(err)
		}
		all["separation"] = r
		for name, r := range all {
			if said := strings.Join(r.Warnings, "\n"); r.Unplaced[0] != 2 || len(r.Unplaced) != 1 || !strings.Contains(said, `"odd": none of its turns lays its grain`) {
				t.Errorf("%s: unplaced %v, warnings %q", name, r.Unplaced, r.Warnings)
			}
		}
	}
}

// TestSameForAnyWorkers compares serial, repeated and parallel runs byte for
// byte, on a strip and on sheets of two kinds.
func TestSameForAnyWorkers(t *testing.T) {
	strip := Problem{StripWidth: 30}
	sheets := Problem{Sheets: []Sheet{{Outline: rect(60, 40), Count: 4, Cost: 3}, {Outline: rect(30, 30), Count: 3, Cost: 1}}, Spacing: 0.2}
	for i := range 6 {
		part := Part{ID: fmt.Sprint(i), Outline: orb.Polygon{{{0, 0}, {9 + float64(i), 2}, {7, 8}, {3, 5 + float64(i)}}}, Quantity: 3, Angles: quarterTurns}
		strip.Parts, sheets.Parts = append(strip.Parts, part), append(sheets.Parts, part)
	}
	effort := 0.1
	if testing.Short() {
		effort = 0.02
	}
	for _, p := range []Problem{strip, sheets} {
		var first string
		for _, workers := range []int{1, 1, 2, 5} {
			r, err := Genetic(t.Context(), p, Options{Seed: 5, Effort: effort, Workers: workers})
			if err != nil {
				t.Fatal(err)
			}
			text, err := json.Marshal(r)
			if err != nil {
				t.Fatal(err)
			}
			if first == "" {
				first = string(text)
			}
			if string(text) != first {
				t.Errorf("%d workers give another result", workers)
			}
		}
	}
}

func TestAnotherSeedAnotherWalk(t *testing.T) {
	p := Problem{StripWidth: 30}
	for i := range 8 {
		p.Parts = append(p.Parts, Part{Outline: orb.Polygon{{{0, 0}, {9 + float64(i), 2}, {7, 8}, {3, 5 + float64(i)}}}, Quantity: 2, Angles: quarterTurns})
	}
	seen := map[string]bool{}
	for seed := range uint64(3) {
		r, err := Genetic(t.Context(), p, Options{Seed: seed, Effort: 0.02})
		if err != nil {
			t.Fatal(err)
		}
		seen[fmt.Sprint(r.Layouts)] = true
	}
	if len(seen) == 1 {
		t.Error("three seeds gave one layout; the seed is not used")
	}
}

func TestStopsWhenTold(t *testing.T) {
	p := Problem{StripWidth: 30, Parts: []Part{{Outline: orb.Polygon{{{0, 0}, {9, 2}, {7, 8}}}, Quantity: 40, Angles: quarterTurns}}}
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	r, err := Genetic(ctx, p, Options{Effort: 1e6})
	if err != nil || r.Status != Limit || len(r.Layouts[0].Placements) != 40 {
		t.Errorf("deadline: status %v, %d placed, error %v", r.Status, len(r.Layouts[0].Placements), err)
	}
	gone, stop := context.WithCancel(t.Context())
	stop()
	if r, err = Genetic(gone, p, Options{Effort: 1e6}); err != nil || r.Status != Cancelled || len(r.Layouts[0].Placements) != 40 {
		t.Errorf("cancelled: status %v, %d placed, error %v", r.Status, len(r.Layouts[0].Placements), err)
	}
}

func TestPacedByTheCaller(t *testing.T) {
	p := Problem{StripWidth: 30, Parts: []Part{{Outline: orb.Polygon{{{0, 0}, {9, 2}, {7, 8}}}, Quantity: 10, Angles: quarterTurns}}}
	asked := 0
	r, err := Genetic(t.Context(), p, Options{Spent: func() float64 { asked++; return float64(asked) / 6 }})
	if err != nil || r.Status != Finished || asked < 6 || asked > 20 {
		t.Errorf("status %v after asking %d times, error %v", r.Status, asked, err)
	}
}
