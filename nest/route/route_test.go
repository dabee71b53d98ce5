package route_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/route"
)

func plan(t *testing.T, in route.Input, o route.Options) route.Route {
	t.Helper()
	r, err := route.Plan(context.Background(), in, o)
	if err != nil {
		t.Fatal(err)
	}
	if len(in.Sheet) == 0 {
		in.Sheet = geom.RectContour(-1e4, -1e4, 1e4, 1e4) // for the judge
	}
	for _, f := range newJudge(in, o).judge(r) {
		t.Error(f)
	}
	return r
}

// order returns the cuts as "A", "A1", "A2" for part A and its holes.
func order(r route.Route) string {
	var out []string
	for _, c := range r.Cuts {
		id := c.Name
		if c.Hole >= 0 {
			id += string(rune('1' + c.Hole))
		}
		out = append(out, id)
	}
	return strings.Join(out, " ")
}

func input(shapes ...geom.Shape) route.Input {
	var in route.Input
	for i, s := range shapes {
		add(&in, i, s)
	}
	return in
}

func TestNothingToCut(t *testing.T) {
	r := plan(t, route.Input{}, route.Defaults(1, 5))
	if len(r.Cuts) != 0 || r.RapidMM != 0 || len(r.Warnings) != 0 {
		t.Errorf("got %+v", r)
	}
}

// TestNestedOrder: a disc in the hole of a ring in the hole of a frame, the
// outermost first in the input. Nothing but the inside out order is legal.
func TestNestedOrder(t *testing.T) {
	frame := geom.Shape{Outer: geom.RectContour(-100, -100, 100, 100), Holes: []geom.Contour{geom.CircleContour(orb.Point{}, 80)}}
	ring := geom.Shape{Outer: geom.CircleContour(orb.Point{}, 60), Holes: []geom.Contour{geom.CircleContour(orb.Point{}, 40)}}
	disc := geom.Shape{Outer: geom.CircleContour(orb.Point{}, 20)}
	if got := order(plan(t, input(frame, ring, disc), route.Defaults(1, 5))); got != "C B1 B A1 A" {
		t.Errorf("order %s", got)
	}
}

// TestExactPlug: a disc that fills a ring's hole, as when a part is nested
// without spacing. It is still cut before the hole.
func TestExactPlug(t *testing.T) {
	ring := geom.Shape{Outer: geom.CircleContour(orb.Point{}, 60), Holes: []geom.Contour{geom.CircleContour(orb.Point{}, 40)}}
	disc := geom.Shape{Outer: geom.CircleContour(orb.Point{}, 40)}
	r := plan(t, input(ring, disc), route.Defaults(1, 5))
	if got := order(r); got != "B A1 A" {
		t.Errorf("order %s", got)
	}
	if !strings.Contains(strings.Join(r.Warnings, "\n"), "no room for a lead") {
		t.Errorf("warnings %q", r.Warnings)
	}
}

// TestSmallHolesFirst: the large hole lies between the small ones, so that the
// shortest way would take it on the way.
func TestSmallHolesFirst(t *testing.T) {
	s := geom.Shape{Outer: geom.RectContour(0, 0, 200, 60), Holes: []geom.Contour{
		geom.CircleContour(orb.Point{100, 30}, 20), geom.CircleContour(orb.Point{20, 30}, 4), geom.CircleContour(orb.Point{180, 30}, 4),
	}}
	got := order(plan(t, input(s), route.Defaults(1, 5)))
	if got != "A2 A3 A1 A" && got != "A3 A2 A1 A" {
		t.Errorf("order %s", got)
	}
}

// TestRingOfNests: two parts with holes larger than themselves lie in each
// other. Such parts cannot be; all their contours are still cut.
func TestRingOfNests(t *testing.T) {
	odd := func(x float64) geom.Shape {
		return geom.Shape{Outer: geom.CircleContour(orb.Point{x, 0}, 10), Holes: []geom.Contour{geom.CircleContour(orb.Point{}, 50)}}
	}
	r, err := route.Plan(context.Background(), input(odd(-15), odd(15)), route.Defaults(1, 5))
	if err != nil || len(r.Cuts) != 4 {
		t.Errorf("%d cuts, error %v", len(r.Cuts), err)
	}
}

func TestLeadsFallBack(t *testing.T) {
	disc := geom.Shape{Outer: geom.CircleContour(orb.Point{}, 20)}
	square := func(x, y float64) geom.Shape { return geom.Shape{Outer: geom.RectContour(x, y, x+20, y+20)} }
	tiny := geom.Shape{Outer: disc.Outer, Holes: []geom.Contour{geom.CircleContour(orb.Point{}, 0.6)}}
	small := geom.Shape{Outer: disc.Outer, Holes: []geom.Contour{geom.CircleContour(orb.Point{}, 1.5)}}
	for _, c := range []struct {
		name  string
		in    route.Input
		wants string // in the warnings; "" for none
	}{
		{"open sheet", input(disc), ""},
		{"hole smaller than the pierce hole", input(tiny), "part A, hole 1: the hole is smaller than the pierce hole"},
		{"hole smaller than the lead", input(small), "part A, hole 1: the lead-in is shortened"},
		{"four squares, one gap", input(square(0, 0), square(22, 0), square(0, 22), square(22, 22)), ""},
		{"nine squares, narrow gaps", nine(2), "part E: the scrap is narrow"},
		{"nine squares, a hair's gap", nine(0.5), "part E: there is no room for a lead"},
		{"nine squares that touch", nine(0), "part E: there is no room for a lead"},
	} {
		text := strings.Join(plan(t, c.in, route.Defaults(1.02, 5)).Warnings, "\n")
		if (c.wants == "") != (text == "") || !strings.Contains(text, c.wants) {
			t.Errorf("%s: warnings %q, want %q", c.name, text, c.wants)
		}
	}
}

// nine lays nine squares out with gaps; E is in the middle.
func nine(gap float64) route.Input {
	var in route.Input
	for i := range 9 {
		x, y := float64(i%3)*(20+gap), float64(i/3)*(20+gap)
		add(&in, i, geom.Shape{Outer: geom.RectContour(x, y, x+20, y+20)})
	}
	return in
}

// TestKeepsOffEdgesAndZones: a disc near the sheet's corner with a blocked zone
// beside it has room on one side only.
func TestKeepsOffEdgesAndZones(t *testing.T) {
	in := input(geom.Shape{Outer: geom.CircleContour(orb.Point{25, 25}, 24)})
	in.Sheet = geom.RectContour(0, 0, 200, 200)
	in.Blocked = []geom.Contour{geom.RectContour(50, 0, 60, 60)}
	r := plan(t, in, route.Defaults(1, 5))
	p := r.Cuts[0].Pierce
	if len(r.Warnings) > 0 || p[0] < 0 || p[1] < 0 || p[0] > 50-0.8 {
		t.Errorf("pierce at %v, warnings %q", p, r.Warnings)
	}
}

func TestTabsKeepPartsInTheSheet(t *testing.T) {
	in := input(geom.Shape{Outer: geom.CircleContour(orb.Point{10, 10}, 8)}, geom.Shape{Outer: geom.RectContour(40, 0, 90, 60)})
	o := route.Defaults(1, 5)
	o.TabMM, o.TabBelowMM = 0.4, 20
	r := plan(t, in, o)
	for _, c := range r.Cuts {
		path := c.Path()
		left := math.Hypot(path[len(path)-1].P[0]-c.Contour[0].P[0], path[len(path)-1].P[1]-c.Contour[0].P[1])
		switch c.Name {
		case "A":
			// The slot's round ends take half a kerf each off what is left out.
			if math.Abs(left-o.KerfMM-0.4) > 2e-3 || len(c.LeadOut) > 0 || math.Abs(c.CutMM-(16*math.Pi-0.4-o.KerfMM)) > 1e-9 {
				t.Errorf("tab: %v left out, lead-out %v, cut %v", left, c.LeadOut, c.CutMM)
			}
		case "B":
			if c.TabMM != 0 || c.CutMM != 220 {
				t.Errorf("a large part got a tab of %v, cut %v", c.TabMM, c.CutMM)
			}
		}
	}
}

// TestStyles: a line meets the contour square, an arc tangentially and in the
// direction of travel.
func TestStyles(t *testing.T) {
	for _, style := range []route.LeadStyle{route.LineLead, route.ArcLead} {
		o := route.Defaults(1, 5)
		o.Style = style
		c := plan(t, input(geom.Shape{Outer: geom.CircleContour(orb.Point{}, 50)}), o).Cuts[0]
		if math.Abs(c.LeadIn.Length()-o.LeadMM) > 1e-9 {
			t.Errorf("style %d: lead-in %v long, want %v", style, c.LeadIn.Length(), o.LeadMM)
		}
		arc, curved := geom.ArcBetween(c.LeadIn[0].P, c.LeadIn[1].P, c.LeadIn[0].Bulge)
		if curved != (style == route.ArcLead) {
			t.Fatalf("style %d: lead-in %v", style, c.LeadIn)
		}
		travel := orb.Point{-c.Contour[0].P[1] / 50, c.Contour[0].P[0] / 50}
		if curved && (math.Abs(arc.Tangent(1)[0]-travel[0]) > 1e-9 || math.Abs(arc.Tangent(1)[1]-travel[1]) > 1e-9) {
			t.Errorf("the arc ends in direction %v, the contour starts in %v", arc.Tangent(1), travel)
		}
	}
}

func TestBadContoursAreNamed(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]geom.Contour{
		"empty":          nil,
		"one point":      {{P: orb.Point{1, 1}}},
		"there and back": {{P: orb.Point{0, 0}}, {P: orb.Point{5, 0}}},
		"not a number":   {{P: orb.Point{0, 0}}, {P: orb.Point{5, nan}}, {P: orb.Point{5, 5}}},
		"bulge":          {{P: orb.Point{0, 0}, Bulge: nan}, {P: orb.Point{5, 0}}, {P: orb.Point{5, 5}}},
	} {
		r, err := route.Plan(context.Background(), input(geom.Shape{Outer: geom.CircleContour(orb.Point{}, 20)}, geom.Shape{Outer: c}), route.Defaults(1, 5))
		if err != nil || len(r.Cuts) != 1 || len(r.Warnings) != 1 || !strings.Contains(r.Warnings[0], "part B") {
			t.Errorf("%s: %d cuts, warnings %q, error %v", name, len(r.Cuts), r.Warnings, err)
		}
	}
}

func TestOptionsAreValidated(t *testing.T) {
	for name, change := range map[string]func(o *route.Options){
		"kerf":          func(o *route.Options) { o.KerfMM = -1 },
		"pierce radius": func(o *route.Options) { o.PierceMM = math.NaN() },
		"lead-in":       func(o *route.Options) { o.LeadMM = math.Inf(1) },
		"tab":           func(o *route.Options) { o.TabMM = -0.1 },
		"effort":        func(o *route.Options) { o.Effort = -1 },
		"start point":   func(o *route.Options) { o.Start[1] = math.NaN() },
	} {
		o := route.Defaults(1, 5)
		change(&o)
		if _, err := route.Plan(context.Background(), route.Input{}, o); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: error %v", name, err)
		}
	}
	if err := (route.Options{}).Validate(); err != nil {
		t.Errorf("no leads, no kerf: %v", err)
	}
}

// TestWayRound: past a bar the head goes round the nearer end; through a wall of
// bars too long to round it goes straight (and Plan says so); past a bar whose
// way round is blocked by a second it rounds both.
func TestWayRound(t *testing.T) {
	bar := func(x, y0, y1 float64) geom.Shape { return geom.Shape{Outer: geom.RectContour(x-5, y0, x+5, y1)} }
	a, b := orb.Point{0, 0}, orb.Point{200, 0}
	for _, c := range []struct {
		name  string
		parts []geom.Shape
		most  float64 // of the way; 0 means that there is none
		turns int     // at least
	}{
		{"nothing in the way", []geom.Shape{bar(100, 10, 50)}, 200, 0},
		{"over the near end", []geom.Shape{bar(100, -80, 20)}, 212, 1},
		{"a second bar behind the first", []geom.Shape{bar(80, -80, 20), bar(120, -20, 80)}, 230, 2},
		{"too long a wall", []geom.Shape{bar(100, -500, 500)}, 0, 0},
	} {
		in := input(c.parts...)
		o := route.Defaults(1, 5)
		way := route.WayRound(in, o, a, b)
		if (way == nil) != (c.most == 0) {
			t.Errorf("%s: way %v", c.name, way)
			continue
		}
		length := 0.0
		for i := 1; i < len(way); i++ {
			length += span(way[i-1], way[i])
		}
		if length > c.most || (way != nil && len(way) < 2+c.turns) {
			t.Errorf("%s: %v is %.1f long, want %.1f at most", c.name, way, length, c.most)
		}
		free := map[int]bool{0: true, 1: true}
		if p, ok := newJudge(in, o).passesOver(way, free); ok {
			t.Errorf("%s: %v passes over part %d", c.name, way, p)
		}
	}
}
