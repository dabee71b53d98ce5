package route_test

import (
	"context"
	"testing"

	"kerfold/nest/route"
)

// A countdown is a context that ends after it has been asked so many times.
type countdown struct {
	context.Context
	left int
}

func (c *countdown) Err() error {
	if c.left <= 0 {
		return context.Canceled
	}
	c.left--
	return nil
}

// A route whose time is up, at whatever moment, is whole and keeps every rule:
// the judge finds nothing in it that it would not find in another.
func TestEndedAtAnyMoment(t *testing.T) {
	for seed := range uint64(12) {
		in, o := randomLayout(seed), route.Defaults(1.02, float64(1+seed%25))
		o.Effort = 0.05
		if seed%3 == 0 {
			o.Sever, in = true, withRemnant(in, seed)
		}
		want := 0
		for _, p := range in.Pieces {
			want += 1 + len(p.Shape.Holes)
		}
		for _, asks := range []int{0, 1, 2, 7, 60, 500, 3000} {
			r, err := route.Plan(&countdown{context.Background(), asks}, in, o)
			if err != nil {
				t.Fatal(err)
			}
			if len(r.Cuts) != want {
				t.Errorf("layout %d ended after %d asks: %d cuts of %d", seed, asks, len(r.Cuts), want)
			}
			for i, f := range newJudge(in, o).judge(r) {
				if i < 3 {
					t.Errorf("layout %d ended after %d asks: %s", seed, asks, f)
				}
			}
		}
	}
}

// A route that had no time at all goes to the nearest contour each time, and one
// that had more is no longer.
func TestEndedAtOnceIsNearestNeighbour(t *testing.T) {
	var none, nearest, full float64
	for seed := range uint64(6) {
		in, o := randomLayout(seed), route.Defaults(1.02, 6)
		o.Effort = 0.05
		r, err := route.Plan(&countdown{Context: context.Background()}, in, o)
		if err != nil {
			t.Fatal(err)
		}
		whole, err := route.Plan(context.Background(), in, o)
		if err != nil {
			t.Fatal(err)
		}
		none, full = none+r.RapidMM, full+whole.RapidMM
		nearest += route.RapidByNearest(in, o, true)
	}
	t.Logf("rapid: %.0f mm ended at once, %.0f by nearest neighbour with free starts, %.0f with time", none, nearest, full)
	if none > 1.05*nearest {
		t.Errorf("rapid is %.0f mm, the nearest-neighbour order takes %.0f", none, nearest)
	}
	if full >= none {
		t.Errorf("rapid is %.0f mm with time and %.0f without", full, none)
	}
}
