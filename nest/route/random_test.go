package route_test

import (
	"context"
	"reflect"
	"testing"

	"kerfold/geom"
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
	warned, severed := 0, 0
	for seed := range n {
		in := randomLayout(seed)
		o := route.Defaults(1.02, float64(1+seed%25))
		o.Style = route.LeadStyle(seed % 2)
		o.Effort = 0.02
		if seed%5 == 0 {
			o.TabMM, o.TabBelowMM = 0.5, 30
		}
		if seed%3 == 0 {
			o.Sever, in = true, withRemnant(in, seed)
		}
		r, err := route.Plan(context.Background(), in, o)
		if err != nil {
			t.Fatal(err)
		}
		severed += len(r.Severing)
		for i, f := range newJudge(in, o).judge(r) {
			if i < 5 {
				t.Errorf("layout %d: %s", seed, f)
			}
		}
		warned += len(r.Warnings)
	}
	t.Logf("%d layouts, %d severing cuts, %d warnings", n, severed, warned)
	if severed == 0 {
		t.Error("no remnant was severed")
	}
}

// withRemnant makes the sheet longer by a remnant: all the width, or short of it
// on one side, or in the middle of a longer sheet.
func withRemnant(in route.Input, seed uint64) route.Input {
	b := in.Sheet.Bounds()
	w, h := b.Max[0], b.Max[1]
	in.Sheet = geom.RectContour(0, 0, w+400, h)
	switch seed % 4 {
	case 0:
		in.Remnant = geom.RectContour(w-3, 0, w+400, h)
	case 1:
		in.Remnant = geom.RectContour(w, 50, w+399.5, h)
	case 2:
		in.Remnant = geom.RectContour(w, 0, w+300, h)
	default:
		in.Remnant = geom.RectContour(w, 40, w+300, h-40)
	}
	return in
}

func TestSameInputSameRoute(t *testing.T) {
	in, o := randomLayout(3), route.Defaults(1.02, 6)
	a, _ := route.Plan(context.Background(), in, o)
	b, _ := route.Plan(context.Background(), in, o)
	if !reflect.DeepEqual(a, b) {
		t.Error("two routes for one layout")
	}
}
