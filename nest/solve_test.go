package nest

import (
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
