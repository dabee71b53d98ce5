package verify_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"kerfold/geom"
	"kerfold/nest/verify"
)

func ptr(x float64) *float64 { return &x }

// one lays one part down on a sheet.
func one(p verify.Part, pose geom.Pose, s verify.Sheet) verify.Layout {
	if p.Shape.Outer == nil {
		p.Shape = solid(square(0, 0, 10, 5))
	}
	p.ID, p.Max = "k", max(p.Max, 1)
	if s.Outline == nil {
		s.Outline = square(-100, -100, 200, 200)
	}
	return verify.Layout{
		Parts: []verify.Part{p}, Sheets: []verify.Sheet{s},
		Uses: []verify.Use{{Placements: []verify.Placement{{Pose: pose}}}},
	}
}

func TestTurnsMirrorsAndGrain(t *testing.T) {
	along := func(deg float64) verify.Sheet { return verify.Sheet{ID: "s", GrainDeg: &deg} }
	none := verify.Sheet{ID: "s"}
	free := verify.Part{FreeAngle: true, Mirror: true}
	grained := verify.Part{FreeAngle: true, Mirror: true, GrainDeg: ptr(30)}
	for _, c := range []struct {
		name  string
		part  verify.Part
		pose  geom.Pose
		sheet verify.Sheet
		want  []verify.Kind
	}{
		{"no angles means 0", verify.Part{}, geom.Pose{}, none, nil},
		{"no angles refuses 90", verify.Part{}, geom.Pose{AngleDeg: 90}, none, []verify.Kind{verify.Angle}},
		{"a full turn is none", verify.Part{}, geom.Pose{AngleDeg: -720}, none, nil},
		{"listed", verify.Part{Angles: []float64{0, 90}}, geom.Pose{AngleDeg: 90}, none, nil},
		{"listed as −90", verify.Part{Angles: []float64{-90}}, geom.Pose{AngleDeg: 270}, none, nil},
		{"not listed", verify.Part{Angles: []float64{0, 90}}, geom.Pose{AngleDeg: 180}, none, []verify.Kind{verify.Angle}},
		{"off by a hundredth", verify.Part{Angles: []float64{0, 90}}, geom.Pose{AngleDeg: 90.01}, none, []verify.Kind{verify.Angle}},
		{"off by rounding", verify.Part{Angles: []float64{0, 90}}, geom.Pose{AngleDeg: math.Nextafter(90, 91)}, none, nil},
		{"only a NaN listed", verify.Part{Angles: []float64{math.NaN()}}, geom.Pose{}, none, []verify.Kind{verify.Angle}},
		{"free", free, geom.Pose{AngleDeg: 33.3, Mirror: true}, none, nil},
		{"turned over", verify.Part{FreeAngle: true}, geom.Pose{Mirror: true}, none, []verify.Kind{verify.Mirrored}},
		{"along the grain", grained, geom.Pose{AngleDeg: -30}, along(0), nil},
		{"along the grain the other way", grained, geom.Pose{AngleDeg: 150}, along(0), nil},
		{"grain modulo 180", grained, geom.Pose{AngleDeg: 60}, along(270), nil},
		{"across the grain", grained, geom.Pose{AngleDeg: 60}, along(0), []verify.Kind{verify.Grain}},
		{"turned over along the grain", grained, geom.Pose{AngleDeg: 30, Mirror: true}, along(0), nil},
		{"turned over across the grain", grained, geom.Pose{AngleDeg: -30, Mirror: true}, along(0), []verify.Kind{verify.Grain}},
		{"sheet without grain", grained, geom.Pose{AngleDeg: 17}, none, nil},
		{"grain that is no number", verify.Part{GrainDeg: ptr(math.NaN())}, geom.Pose{}, along(0), []verify.Kind{verify.Grain}},
	} {
		r := verify.Check(one(c.part, c.pose, c.sheet))
		var got []verify.Kind
		for _, v := range r.Violations {
			got = append(got, v.Kind)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestSheetEdges(t *testing.T) {
	// A sheet with a notch from above, a round end and a blocked zone.
	sheet := verify.Sheet{ID: "s", Outline: geom.Contour{
		{P: pt(0, 0)},
		{P: pt(100, 0), Bulge: 1}, // half disc of radius 50 to the right
		{P: pt(100, 100)},
		{P: pt(60, 100)},
		{P: pt(60, 50)},
		{P: pt(58, 50)},
		{P: pt(58, 100)},
		{P: pt(0, 100)},
	}, Blocked: []geom.Contour{circle(20, 80, 5)}}
	for _, c := range []struct {
		name   string
		part   geom.Contour
		margin float64
		kind   verify.Kind // −1 when legal
		zone   int
		amount float64
	}{
		{"inside", square(10, 10, 10, 10), 5, -1, 0, 0},
		{"on the edge", square(0, 0, 10, 10), 0, -1, 0, 0},
		{"on the edge where a margin is asked", square(0, 20, 10, 10), 5, verify.Margin, -1, 5},
		{"near the edge", square(3, 20, 10, 10), 5, verify.Margin, -1, 2},
		{"over the edge", square(-3, 20, 10, 10), 5, verify.OutsideSheet, -1, 3},
		{"far outside", square(500, 500, 1, 1), 0, verify.OutsideSheet, -1, math.Hypot(401, 451) - 50},
		{"in the round end", circle(125, 50, 25), 0, -1, 0, 0},
		{"through the round end", circle(130, 50, 25), 0, verify.OutsideSheet, -1, 5},
		{"margin to the round end", circle(120, 50, 25), 10, verify.Margin, -1, 5},
		{"across the notch", square(50, 60, 20, 10), 0, verify.OutsideSheet, -1, 5},
		{"under the notch", square(50, 40, 20, 10), 0, -1, 0, 0},
		{"into the tip of the notch", square(50, 41, 20, 10), 0, verify.OutsideSheet, -1, 1},
		{"on the blocked zone", square(24, 75, 10, 10), 0, verify.BlockedZone, 0, 1},
		{"around the blocked zone", square(12, 72, 16, 16), 0, verify.BlockedZone, 0, 10},
		{"within the blocked zone", circle(20, 80, 2), 0, verify.BlockedZone, 0, 4},
		{"touching the blocked zone", square(25, 75, 10, 10), 0, -1, 0, 0},
		{"near the blocked zone", square(27, 75, 10, 10), 3, verify.Margin, 0, 1},
		{"around the whole sheet", square(-50, -50, 400, 400), 0, verify.OutsideSheet, -1, 0},
	} {
		l := one(verify.Part{Shape: solid(c.part)}, geom.Pose{}, sheet)
		l.Margin = c.margin
		r := verify.Check(l)
		if c.kind < 0 {
			for _, v := range r.Violations {
				t.Errorf("%s: %s", c.name, v.Text)
			}
			continue
		}
		if len(r.Violations) == 0 {
			t.Errorf("%s: passes", c.name)
			continue
		}
		v := r.Violations[0]
		if v.Kind != c.kind || v.Zone != c.zone || (c.amount > 0 && !near(v.Amount, c.amount, 0.02*c.amount)) {
			t.Errorf("%s: %v of zone %d by %v (%s), want %v of %d by %v", c.name, v.Kind, v.Zone, v.Amount, v.Text, c.kind, c.zone, c.amount)
		}
		if v.PartA != "k" || v.Use != 0 || v.A != 0 || v.B != -1 {
			t.Errorf("%s: points at %+v", c.name, v)
		}
	}
}

func TestQuantitiesCountCopies(t *testing.T) {
	l := one(verify.Part{Min: 3, Max: 5}, geom.Pose{}, verify.Sheet{ID: "s", Count: 4})
	for copies, want := range map[int][]verify.Kind{
		0: {verify.TooFew}, 1: {verify.TooFew}, 2: {verify.TooFew}, 3: nil, 4: nil,
		5: {verify.SheetCount}, 6: {verify.TooMany, verify.SheetCount}, -1: {verify.TooFew, verify.BadNumber},
	} {
		l.Uses[0].Copies = copies
		var got []verify.Kind
		for _, v := range verify.Check(l).Violations {
			got = append(got, v.Kind)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%d copies: %v, want %v", copies, got, want)
		}
	}
}

func TestKitsStayTogether(t *testing.T) {
	part := func(id string, n int) verify.Part {
		return verify.Part{ID: id, Shape: solid(square(0, 0, 1, 1)), Min: n, Max: n, Kit: "set"}
	}
	l := verify.Layout{Parts: []verify.Part{part("lid", 2), part("foot", 8)}, Sheets: []verify.Sheet{wide}}
	use := func(lids, feet int) verify.Use {
		var u verify.Use
		for i := range lids + feet {
			p := verify.Placement{Pose: geom.Pose{X: float64(2 * i)}}
			if i >= lids {
				p.Part = 1
			}
			u.Placements = append(u.Placements, p)
		}
		return u
	}
	for _, c := range []struct {
		name string
		uses []verify.Use
		torn int
	}{
		{"all on one sheet", []verify.Use{use(2, 8)}, 0},
		{"a whole kit on each", []verify.Use{use(1, 4), use(1, 4)}, 0},
		{"torn", []verify.Use{use(1, 3), use(1, 5)}, 2},
		{"lids here, feet there", []verify.Use{use(2, 0), use(0, 8)}, 2},
		{"half kits", []verify.Use{use(1, 5), use(1, 3)}, 2},
	} {
		l.Uses = c.uses
		if got := kindsOf(verify.Check(l)); got[verify.Kit] != c.torn || len(got) > 1 {
			t.Errorf("%s: %v, want %d torn", c.name, got, c.torn)
		}
	}
}

// TestPerKit: two lids and eight feet make one kit, so that a lid and four feet
// are half of one.
func TestPerKit(t *testing.T) {
	part := func(id string, n, per int) verify.Part {
		return verify.Part{ID: id, Shape: solid(square(0, 0, 1, 1)), Min: n, Max: n, Kit: "set", PerKit: per}
	}
	l := verify.Layout{Parts: []verify.Part{part("lid", 4, 2), part("foot", 16, 8)}, Sheets: []verify.Sheet{wide}}
	for _, c := range []struct{ lids, feet, torn int }{{4, 16, 0}, {2, 8, 0}, {1, 4, 1}, {3, 12, 1}, {2, 7, 1}, {0, 8, 1}, {0, 0, 0}} {
		var u verify.Use
		for i := range c.lids + c.feet {
			p := verify.Placement{Pose: geom.Pose{X: float64(2 * i)}}
			if i >= c.lids {
				p.Part = 1
			}
			u.Placements = append(u.Placements, p)
		}
		l.Uses = []verify.Use{u}
		if got := kindsOf(verify.Check(l))[verify.Kit]; got != c.torn {
			t.Errorf("%d lids, %d feet: %d torn, want %d", c.lids, c.feet, got, c.torn)
		}
	}
}

func TestBadInputIsNamed(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := one(verify.Part{}, geom.Pose{}, verify.Sheet{ID: "s"})
	shape := func(c geom.Contour, holes ...geom.Contour) func(l *verify.Layout) {
		return func(l *verify.Layout) { l.Parts[0].Shape = geom.Shape{Outer: c, Holes: holes} }
	}
	bow := geom.Contour{{P: pt(0, 0)}, {P: pt(10, 10)}, {P: pt(10, 0)}, {P: pt(0, 9)}}
	bulging := geom.Contour{{P: pt(0, 0)}, {P: pt(20, 0)}, {P: pt(20, 1), Bulge: -0.5}, {P: pt(0, 1)}}
	for _, c := range []struct {
		name   string
		change func(l *verify.Layout)
		kind   verify.Kind
	}{
		{"pose is NaN", func(l *verify.Layout) { l.Uses[0].Placements[0].Pose.Y = nan }, verify.BadNumber},
		{"pose is infinite", func(l *verify.Layout) { l.Uses[0].Placements[0].Pose.AngleDeg = inf }, verify.BadNumber},
		{"pose out of range", func(l *verify.Layout) { l.Uses[0].Placements[0].Pose.X = 2 * geom.MaxCoordinate }, verify.BadNumber},
		{"no such part", func(l *verify.Layout) { l.Uses[0].Placements[0].Part = 7 }, verify.BadNumber},
		{"no such part below", func(l *verify.Layout) { l.Uses[0].Placements[0].Part = -1 }, verify.BadNumber},
		{"no such sheet", func(l *verify.Layout) { l.Uses[0].Sheet = 1 }, verify.BadNumber},
		{"spacing negative", func(l *verify.Layout) { l.Spacing = -1 }, verify.BadNumber},
		{"spacing NaN", func(l *verify.Layout) { l.Spacing = nan }, verify.BadNumber},
		{"margin infinite", func(l *verify.Layout) { l.Margin = inf }, verify.BadNumber},
		{"rounding negative", func(l *verify.Layout) { l.Rounding = -1 }, verify.BadNumber},
		{"more at least than at most", func(l *verify.Layout) { l.Parts[0].Min = 9 }, verify.BadNumber},
		{"minus one sheet", func(l *verify.Layout) { l.Sheets[0].Count = -1 }, verify.BadNumber},
		{"no outline", shape(nil), verify.BadOutline},
		{"one point", shape(geom.Contour{{P: pt(1, 1)}}), verify.BadOutline},
		{"there and back", shape(geom.Contour{{P: pt(0, 0)}, {P: pt(5, 0)}}), verify.BadOutline},
		{"vertex NaN", shape(geom.Contour{{P: pt(nan, 0)}, {P: pt(5, 0)}, {P: pt(5, 5)}}), verify.BadNumber},
		{"bulge NaN", shape(geom.Contour{{P: pt(0, 0), Bulge: nan}, {P: pt(5, 0)}, {P: pt(5, 5)}}), verify.BadNumber},
		{"bulge huge", shape(geom.Contour{{P: pt(0, 0), Bulge: 1e9}, {P: pt(5, 0)}, {P: pt(5, 5)}}), verify.BadNumber},
		{"crosses itself", shape(bow), verify.BadOutline},
		{"an arc crosses the other side", shape(bulging), verify.BadOutline},
		{"hole crosses the outline", shape(square(0, 0, 5, 5), square(4, 1, 3, 3)), verify.BadOutline},
		{"hole outside", shape(square(0, 0, 5, 5), square(8, 8, 1, 1)), verify.BadOutline},
		{"sheet without outline", func(l *verify.Layout) { l.Sheets[0].Outline = nil }, verify.BadOutline},
		{"blocked zone without outline", func(l *verify.Layout) { l.Sheets[0].Blocked = []geom.Contour{nil} }, verify.BadOutline},
	} {
		l := clone(good)
		l.Sheets = slices.Clone(l.Sheets)
		c.change(&l)
		if got := kindsOf(verify.Check(l)); got[c.kind] == 0 {
			t.Errorf("%s: %v, want %v", c.name, got, c.kind)
		}
	}
	if r := verify.Check(good); !r.OK() {
		t.Errorf("unchanged: %v", r.Violations)
	}
}

func TestLimitCountsTheRest(t *testing.T) {
	l := pair(solid(square(0, 0, 4, 4)), solid(square(1, 1, 4, 4)), 0)
	l.Parts[0].Min, l.Parts[0].Max = 9, 9
	l.Limit = 1
	if r := verify.Check(l); len(r.Violations) != 1 || r.More != 1 || r.OK() {
		t.Errorf("%d listed, %d more", len(r.Violations), r.More)
	}
}

// TestTexts: the texts name both parts, the sheet, the place and the amount.
func TestTexts(t *testing.T) {
	r := verify.Check(pair(solid(square(0, 0, 4, 4)), solid(square(3.5, 0, 4, 4)), 0))
	text := r.Violations[0].Text
	for _, want := range []string{"sheet 1 (wide)", "part a (placement 1)", "part b (placement 2)", "0.500 mm", "move"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q lacks %q", text, want)
		}
	}
}
