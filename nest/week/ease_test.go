package week

import (
	"context"
	"sync"
	"testing"

	"kerfold/nest"
)

// All that the searches and fills of a plan are given keeps to what was asked
// for: a plan of a hundredth of the effort gives out no more than a hundredth.
func TestEffortGivenOutFollowsWhatWasAsked(t *testing.T) {
	for _, effort := range []float64{0.001, 0.01, 0.1, 1, 4, 16} {
		given := effortGiven(t, Options{Effort: effort, Seed: 1})
		if limit := effort * effortPerUnit; given > limit {
			t.Errorf("a plan of effort %v gives out %.4f, more than %.4f", effort, given, limit)
		}
		if given == 0 && effort >= 0.1 {
			t.Errorf("a plan of effort %v searches nothing", effort)
		}
	}
}

// effortGiven sums the efforts an engine is given.
func effortGiven(t *testing.T, o Options) float64 {
	t.Helper()
	var mu sync.Mutex
	total := 0.0
	spend := func(o nest.Options) {
		mu.Lock()
		defer mu.Unlock()
		total += o.Effort
	}
	fill := func(ctx context.Context, p nest.Problem, values []float64, o nest.Options) (nest.Result, error) {
		spend(o)
		return shelfFill(ctx, p, values, o)
	}
	search := func(_ context.Context, p nest.Problem, o nest.Options) (nest.Result, error) {
		spend(o)
		return shelves(p), nil
	}
	if _, err := makeWith(context.Background(), testJob(t, weekText), o, engine{shelfEngine.quick, search, fill, fill}); err != nil {
		t.Fatal(err)
	}
	t.Logf("effort %v: %.5f given out, %.2f of what was asked for", o.Effort, total, total/(o.Effort*effortPerUnit))
	return total
}
