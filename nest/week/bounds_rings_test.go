package week

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// ringText is the gaskets' job with random rings and discs, few enough that remnants
// matter.
func ringText(rng *rand.Rand) string {
	var b strings.Builder
	b.WriteString(gasketHead)
	for i := range 2 + rng.IntN(4) {
		outer := 60 + rng.IntN(300)
		fmt.Fprintf(&b, "  - {id: R-%d, shape: ring, diameter_mm: %d, bore_mm: %d, quantity: %d, material: fibre sheet, thickness_mm: 2, due: 2031-03-07}\n",
			i+1, outer, outer*(30+rng.IntN(60))/100, 10+rng.IntN(6000/outer))
	}
	return b.String()
}

// TestNoWayBeatsTheBound plans random rings: whatever way is found, remnants and all,
// costs no less and takes no fewer sheets than is said to be possible.
func TestNoWayBeatsTheBound(t *testing.T) {
	seeds := 12
	if testing.Short() {
		seeds = 3
	}
	kept := 0
	for seed := range seeds {
		rng := rand.New(rand.NewPCG(uint64(seed), 5))
		p, err := Make(context.Background(), testJob(t, ringText(rng)), Options{Seed: uint64(seed), Effort: 0.1, Workers: 2})
		if err != nil {
			t.Fatal(err)
		}
		g := &p.Groups[0]
		for _, w := range g.Ways {
			if w.Short == 0 && (w.Money < g.Bound.Money || w.Sheets < g.Bound.Sheets) {
				t.Errorf("seed %d: %q costs %.2f on %d sheets, %+v", seed, w.Name, w.Money, w.Sheets, g.Bound)
			}
		}
		for i := range g.Layouts {
			if g.Layouts[i].RemnantCredit > 0 {
				kept++
			}
		}
	}
	if kept == 0 {
		t.Error("no layout left a remnant")
	}
}

// TestRemnantForRoom draws rectangles and holds what they bring against the rate.
func TestRemnantForRoom(t *testing.T) {
	tk := gather(testJob(t, gasketText(1)))[0]
	n := mustNeed(t, &tk.group)
	rule := ruleFor(RemnantRule{}, tk.job)
	rate := tk.remnantForRoom(&n, 0, rule)
	rng := rand.New(rand.NewPCG(8, 8))
	near := 0.0
	for range 20_000 {
		w, h := rule.MinSideMM+1800*rng.Float64(), rule.MinSideMM+1300*rng.Float64()
		worth, room := rule.Worth(w*h, tk.pricePerMM2(0)), n.cover.Rect(w, h)
		if worth > rate*room*(1+1e-9) {
			t.Fatalf("%v × %v mm brings %v and takes %v, the rate is %v", w, h, worth, room, rate)
		}
		near = max(near, worth/(rate*room))
	}
	if near < 0.9 {
		t.Errorf("no rectangle comes nearer the rate than %v of it", near)
	}
}
