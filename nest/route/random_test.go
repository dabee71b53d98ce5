package route_test

import (
	"reflect"
	"testing"

	"kerfold/nest/route"
)

// TestRandomLayouts routes 200 random layouts (20 in short runs) with changing
// options and has an independent judge look for a pierce in a part, a lead
// through a part or another cut, and a precedence broken.
func TestRandomLayouts(t *testing.T) {
	n := uint64(200)
	if testing.Short() {
		n = 20
	}
	warned := 0
	for seed := range n {
		in := randomLayout(seed)
		o := route.Defaults(1.02, float64(1+seed%25))
		o.Style = route.LeadStyle(seed % 2)
		o.Effort = 0.02
		if seed%5 == 0 {
			o.TabMM, o.TabBelowMM = 0.5, 30
		}
		r, err := route.Plan(in, o)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range newJudge(in, o).judge(r) {
			if i < 5 {
				t.Errorf("layout %d: %s", seed, f)
			}
		}
		warned += len(r.Warnings)
	}
	t.Logf("%d layouts, %d warnings", n, warned)
}

func TestSameInputSameRoute(t *testing.T) {
	in, o := randomLayout(3), route.Defaults(1.02, 6)
	a, _ := route.Plan(in, o)
	b, _ := route.Plan(in, o)
	if !reflect.DeepEqual(a, b) {
		t.Error("two routes for one layout")
	}
}
