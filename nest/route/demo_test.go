package route_test

import (
	"context"
	"os"
	"testing"

	"kerfold/geom"
	"kerfold/nest/route"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// demoWeek plans the demo week as the program does, with little effort.
func demoWeek(t *testing.T, change func(*shop.Job)) *week.Plan {
	t.Helper()
	job, err := shop.Load(os.DirFS("../../testdata/week"), "week.yaml")
	if err != nil {
		t.Fatal(err)
	}
	change(job)
	p, err := week.Make(context.Background(), job, week.Options{Seed: 1, Effort: 0.02, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// layoutInput is a layout of a plan as the router was given it.
func layoutInput(g *week.Group, l *week.Layout) route.Input {
	s := &g.Sheets[l.Sheet]
	in := route.Input{Sheet: s.Outline, Blocked: s.Blocked, Remnant: l.Remnant}
	for i, p := range l.Placements {
		part := &g.Parts[p.Part]
		shape := geom.Shape{Outer: part.Shape.Outer.Transform(p.Pose)}
		for _, h := range part.Shape.Holes {
			shape.Holes = append(shape.Holes, h.Transform(p.Pose))
		}
		in.Pieces = append(in.Pieces, route.Piece{Placement: i, Name: part.Part, Shape: shape})
	}
	return in
}

// TestDemoWeekRoutes has the judge look at the route of every layout of the demo
// week as the plan has it and, with all the effort a route may take, anew; and holds
// the rapid moves of these against nearest-neighbour orders and the lower bound. `go test ./nest/route -run
// DemoWeek -v` prints the figures.
func TestDemoWeekRoutes(t *testing.T) {
	if testing.Short() {
		t.Skip("plans the demo week, some seconds")
	}
	p := demoWeek(t, func(*shop.Job) {})
	var ours, plain, choosing, bound, worst float64
	layouts, cuts, severed, warned, crossings, faults := 0, 0, 0, 0, 0, 0
	t.Logf("%-8s %8s %9s %9s %9s %9s %7s", "layout", "contours", "rapid mm", "nearest", "free st.", "bound", "ratio")
	for i := range p.Groups {
		g := &p.Groups[i]
		for k := range g.Layouts {
			l := &g.Layouts[k]
			in, quick := layoutInput(g, l), l.Route
			for _, f := range newJudge(in, quick.Options).judge(quick) {
				faults++
				t.Errorf("%s, as routed in a plan of little effort: %s", l.ID, f)
			}
			full := quick.Options
			full.Effort = 1
			r, err := route.Plan(t.Context(), in, full)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range newJudge(in, r.Options).judge(r) {
				faults++
				t.Errorf("%s: %s", l.ID, f)
			}
			us := r.RapidMM
			for _, s := range r.Severing {
				severed++
				for n := 1; n < len(s.Rapid); n++ {
					us -= span(s.Rapid[n-1], s.Rapid[n])
				}
			}
			o := r.Options
			near, free, low := route.RapidByNearest(in, o, false), route.RapidByNearest(in, o, true), route.RapidBound(in, o)
			ours, plain, choosing, bound = ours+us, plain+near, choosing+free, bound+low
			worst = max(worst, us/near)
			layouts, cuts, warned, crossings = layouts+1, cuts+len(r.Cuts), warned+len(r.Warnings), crossings+r.Crossings
			t.Logf("%-8s %8d %9.0f %9.0f %9.0f %9.0f %7.3f", l.ID, len(r.Cuts), us, near, free, low, us/near)
		}
	}
	t.Logf("%d layouts, %d contours, %d faults; rapid %.0f mm: %.3f of nearest-neighbour (worst %.3f), %.3f of it with free starts, %.3f of the bound; %d severing cuts, %d raised moves, %d warnings",
		layouts, cuts, faults, ours, ours/plain, worst, ours/choosing, ours/bound, severed, crossings, warned)
	// Where parts lie in rows, nearest neighbours are a fair order already.
	if ours > 0.70*plain || worst > 0.80 {
		t.Errorf("rapid is %.3f of nearest-neighbour, on one layout %.3f; want 0.70 and 0.80 at most", ours/plain, worst)
	}
	if layouts < 10 || cuts < 1000 {
		t.Errorf("%d layouts with %d contours; the demo has more", layouts, cuts)
	}
}
