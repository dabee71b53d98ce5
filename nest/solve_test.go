package nest

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// TestSolveIsNeverWorseThanItsStart solves small problems of both sorts and
// checks the layouts' clearances.
func TestSolveIsNeverWorseThanItsStart(t *testing.T) {
	for seed := range 4 {
		rng := rand.New(rand.NewPCG(uint64(seed), 8))
		p := randomProblem(rng, seed%2 == 1, 0.4, 0.4)
		start, err := BottomLeft(t.Context(), p, nil, Options{})
		if err != nil {
			t.Fatal(err)
		}
		var first Result
		for _, workers := range []int{1, 2} {
			r, err := Solve(t.Context(), p, Options{Seed: 1, Effort: 0.1, Workers: workers})
			if err != nil {
				t.Fatal(err)
			}
			if start.better(r, p) {
				t.Errorf("seed %d: solved to %v, from %v", seed, r.Density, start.Density)
			}
			for i, l := range r.Layouts {
				checkClearances(t, i, p, l, r.Length)
			}
			if workers == 1 {
				first = r
			} else if !reflect.DeepEqual(first, r) {
				t.Errorf("seed %d: %d workers give another result", seed, workers)
			}
		}
	}
}

func TestSolveWithNothingWanted(t *testing.T) {
	p := Problem{StripWidth: 10, Parts: []Part{{Outline: rect(2, 2)}}}
	r, err := Solve(t.Context(), p, Options{})
	if err != nil || r.Length != 0 || r.Status != Finished {
		t.Errorf("length %v, status %v, error %v", r.Length, r.Status, err)
	}
}

// TestPartialOptions checks that the arms' shares of effort and time add up.
func TestPartialOptions(t *testing.T) {
	at := 0.0
	var done []float64
	o := Options{Effort: 10, Spent: func() float64 { return at }, Progress: func(p Progress) { done = append(done, p.Done) }}
	first, second := o.part(0, 0.25), o.part(0.25, 1)
	if first.Effort+second.Effort != 10 {
		t.Errorf("efforts %v and %v of 10", first.Effort, second.Effort)
	}
	for _, c := range []struct{ at, first, second float64 }{{0, 0, -1. / 3}, {0.25, 1, 0}, {1, 4, 1}} {
		at = c.at
		if a, b := first.Spent(), second.Spent(); a != c.first || b != c.second {
			t.Errorf("at %v: shares %v and %v, want %v and %v", at, a, b, c.first, c.second)
		}
	}
	first.Progress(Progress{Done: 1})
	second.Progress(Progress{Done: 1})
	if !reflect.DeepEqual(done, []float64{0.25, 1}) {
		t.Errorf("progress %v", done)
	}
}

// TestProgressNeverFallsBack records what Solve reports on a strip and on sheets:
// from the first layout to the result, never worse than before.
func TestProgressNeverFallsBack(t *testing.T) {
	for _, p := range []Problem{
		{StripWidth: 40, Parts: []Part{{Outline: rect(17, 9), Quantity: 7, Angles: quarterTurns}, {Outline: rect(11, 6), Quantity: 9, Angles: quarterTurns}}},
		{Sheets: []Sheet{{Outline: rect(40, 50), Count: 9}}, Parts: []Part{{Outline: rect(17, 9), Quantity: 17, Angles: quarterTurns}, {Outline: rect(11, 6), Quantity: 9, Angles: quarterTurns}}},
	} {
		var curve []Progress
		r, err := Solve(t.Context(), p, Options{Seed: 1, Effort: 0.2, Progress: func(p Progress) { curve = append(curve, p) }})
		if err != nil || len(curve) < 4 {
			t.Fatalf("%d reports, error %v", len(curve), err)
		}
		for i, at := range curve {
			if at.Density <= 0 || at.Done < 0 || at.Done > 1 || at.Arm == "" || (at.Sheets > 0) != (p.StripWidth == 0) {
				t.Errorf("report %d: %+v", i, at)
			}
			if i > 0 && (at.Density < curve[i-1].Density || at.Done < curve[i-1].Done) {
				t.Errorf("report %d falls back from %+v to %+v", i, curve[i-1], at)
			}
		}
		if last := curve[len(curve)-1]; math.Abs(last.Density-r.Density) > 1e-6 {
			t.Errorf("the last report is %v, the result %v", last.Density, r.Density)
		}
	}
}

// TestTimeBearsLattices: a search limited by time has no effort, yet may look for
// lattices.
func TestTimeBearsLattices(t *testing.T) {
	half := func() float64 { return 0.5 }
	for _, c := range []struct {
		o    Options
		want bool
	}{
		{Options{Effort: 1}, true},
		{Options{Effort: latticeLeast / 2}, false},
		{Options{Spent: half}, true},
		{Options{Effort: latticeLeast / 2, Spent: half}, false},
	} {
		if got := c.o.part(0, 1).bearsLattice(); got != c.want {
			t.Errorf("effort %v, time %v: %v", c.o.Effort, c.o.Spent != nil, got)
		}
	}
}
