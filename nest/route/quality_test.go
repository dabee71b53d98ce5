package route_test

import (
	"context"
	"testing"

	"kerfold/nest/route"
)

// TestRapidDistance holds the rapid distance against nearest-neighbour orders
// and a lower bound. The figure to keep is 0.75 of the nearest-neighbour order
// with plain starts.
func TestRapidDistance(t *testing.T) {
	var ours, plain, choosing, bound float64
	crossings := 0
	for seed := range uint64(8) {
		in, o := randomLayout(seed), route.Defaults(1.02, 6)
		r, err := route.Plan(context.Background(), in, o)
		if err != nil {
			t.Fatal(err)
		}
		low := route.RapidBound(in, o)
		if low > r.RapidMM {
			t.Errorf("layout %d: rapid %.0f mm, below the lower bound %.0f", seed, r.RapidMM, low)
		}
		ours += r.RapidMM
		plain += route.RapidByNearest(in, o, false)
		choosing += route.RapidByNearest(in, o, true)
		bound += low
		crossings += r.Crossings
	}
	t.Logf("rapid %.0f mm: %.3f of nearest-neighbour, %.3f of nearest-neighbour with free starts, %.3f of the bound; %d moves over free parts",
		ours, ours/plain, ours/choosing, ours/bound, crossings)
	if ours > 0.75*plain {
		t.Errorf("rapid is %.3f of nearest-neighbour, want 0.75", ours/plain)
	}
}
