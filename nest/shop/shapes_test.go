package shop

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"kerfold/geom"
)

// Areas and boxes of plain shapes against formulas of school geometry.
func TestShapeAreas(t *testing.T) {
	disc := func(d float64) float64 { return math.Pi * d * d / 4 }
	tests := []struct {
		keys       string
		area, w, h float64
	}{
		{"shape: rectangle, width_mm: 120, height_mm: 80", 9600, 120, 80},
		{"shape: rectangle, width_mm: 120, height_mm: 80, corner_radius_mm: 10", 9600 - (4-math.Pi)*100, 120, 80},
		{"shape: rectangle, width_mm: 80, height_mm: 80, corner_radius_mm: 40", disc(80), 80, 80},
		{"shape: disc, diameter: 4 in", disc(101.6), 101.6, 101.6},
		{"shape: ring, diameter_mm: 90, bore_mm: 60", disc(90) - disc(60), 90, 90},
		{"shape: obround, width_mm: 100, height_mm: 20", 80*20 + disc(20), 100, 20},
		{"shape: obround, width_mm: 20, height_mm: 100", 80*20 + disc(20), 20, 100},
		{"shape: obround, width_mm: 20, height_mm: 20", disc(20), 20, 20},
		{"shape: polygon, sides: 6, across_flats_mm: 30", 30 * 30 * math.Sqrt(3) / 2, 30 * 2 / math.Sqrt(3), 30},
		{"shape: polygon, sides: 4, across_corners_mm: 100", 5000, 100 / math.Sqrt2, 100 / math.Sqrt2},
		{"shape: polygon, sides: 3, across_corners_mm: 100", 3 * math.Sqrt(3) / 4 * 2500, 50 * math.Sqrt(3), 75},
		// Rounding a corner of angle θ by r takes r²(1/tan(θ/2) − (π−θ)/2).
		{"shape: polygon, sides: 6, across_flats_mm: 30, corner_radius_mm: 3", 450*math.Sqrt(3) - 6*9*(1/math.Sqrt(3)-math.Pi/6), 0, 30},
		{"shape: outline, points_mm: [[10, 10], [110, 10], [10, 60]]", 2500, 100, 50},
		{"shape: outline, points_mm: [[0, 0], [100, 0, 1], [100, 60], [0, 60]]", 6000 + disc(60)/2, 130, 60},
		{"shape: outline, points_mm: [[0, 60], [100, 60], [100, 0], [0, 0]]", 6000, 100, 60},
		{"shape: flange, diameter_mm: 160, bore_mm: 60, bolt_circle_mm: 125, bolts: 8, bolt_hole_mm: 14", disc(160) - disc(60) - 8*disc(14), 160, 160},
		// A slot along the bolt circle: its centre line times its width, and two half discs.
		{
			"shape: flange, diameter_mm: 160, bolt_circle_mm: 120, bolts: 4, bolt_hole_mm: 10, bolt_slot_deg: 30",
			disc(160) - 4*(60*math.Pi/6*10+disc(10)), 160, 160,
		},
		{"shape: disc, diameter_mm: 100, holes: [{diameter_mm: 20, x_mm: 50, y_mm: 50}, {shape: rectangle, width_mm: 20, height_mm: 5, x_mm: 50, y_mm: 80}]", disc(100) - disc(20) - 100, 100, 100},
		{"shape: rectangle, width_mm: 100, height_mm: 100, holes: [{points_mm: [[10, 10], [20, 10], [10, 20]]}]", 10000 - 50, 100, 100},
		{"shape: rectangle, width_mm: 100, height_mm: 100, holes: [{width_mm: 90, height_mm: 2, x_mm: 50, y_mm: 50, turn_deg: 45}]", 10000 - 180, 100, 100},
	}
	for _, tt := range tests {
		j := mustLoad(t, order(tt.keys+", quantity: 1, material: test steel, thickness_mm: 6"))
		s := j.Orders[0].Shape
		b := s.Bounds()
		if math.Abs(s.Area()-tt.area) > 1e-3 {
			t.Errorf("%s: area %.5f, want %.5f", tt.keys, s.Area(), tt.area)
		}
		if math.Abs(b.Min[0]) > geom.Grid || math.Abs(b.Min[1]) > geom.Grid {
			t.Errorf("%s: box begins at %v", tt.keys, b.Min)
		}
		if tt.w > 0 && math.Abs(b.Max[0]-tt.w) > 1e-5 || math.Abs(b.Max[1]-tt.h) > 1e-5 {
			t.Errorf("%s: box %v, want %v x %v", tt.keys, b.Max, tt.w, tt.h)
		}
		checkShape(t, tt.keys, s)
	}
}

// checkShape holds a shape to what Order.Shape promises.
func checkShape(t *testing.T, what string, s geom.Shape) {
	t.Helper()
	if !s.Outer.IsCCW() {
		t.Errorf("%s: the outer contour runs clockwise", what)
	}
	for i, h := range s.Holes {
		if h.IsCCW() {
			t.Errorf("%s: hole %d runs counter-clockwise", what, i)
		}
	}
	for _, c := range append([]geom.Contour{s.Outer}, s.Holes...) {
		for _, v := range c {
			if geom.SnapPoint(v.P) != v.P {
				t.Errorf("%s: %v is off the grid", what, v.P)
			}
		}
	}
}

// A rounded convex polygon lies inside the polygon, touches each edge, and its
// arcs have the radius asked for.
func TestRoundedCorners(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := regular(rapid.IntRange(3, 12).Draw(t, "sides"), rapid.Float64Range(5, 500).Draw(t, "radius"))
		_, most, _ := rounded(points, 1)
		r := most * rapid.Float64Range(0.01, 1).Draw(t, "share")
		c, _, ok := rounded(points, r)
		if !ok {
			t.Fatalf("radius %v of at most %v refused", r, most)
		}
		poly := orb.Polygon{orb.Ring(points)}
		for i, v := range c {
			if geom.BoundaryDistance(v.P, poly) > 1e-9*500 {
				t.Fatalf("%v is off the edges", v.P)
			}
			if arc, is := geom.ArcBetween(v.P, c[(i+1)%len(c)].P, v.Bulge); is && math.Abs(arc.Radius-r) > 1e-9*r {
				t.Fatalf("arc radius %v, want %v", arc.Radius, r)
			}
		}
		if _, _, ok := rounded(points, most*1.001); ok {
			t.Fatalf("a radius beyond %v is accepted", most)
		}
	})
}

func TestInside(t *testing.T) {
	outer := flat(geom.RectContour(0, 0, 100, 100))
	for _, tt := range []struct {
		c    geom.Contour
		want bool
	}{
		{geom.RectContour(10, 10, 20, 20), true},
		{geom.RectContour(0, 10, 20, 20), false},
		{geom.RectContour(-10, 10, 20, 20), false},
		{geom.RectContour(110, 10, 120, 20), false},
		{geom.RectContour(-10, -10, 120, 120), false},
		{geom.CircleContour(orb.Point{50, 50}, 49.9), true},
		{geom.CircleContour(orb.Point{50, 50}, 50), false},
	} {
		if got := inside(flat(tt.c), outer); got != tt.want {
			t.Errorf("%v: got %v", tt.c, got)
		}
	}
}

// The box test never refuses a sheet on which the part has a place: sheets are
// made around a turned part.
func TestFitsSheetNeverRefusesWhatFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := Order{Shape: geom.Shape{Outer: geom.PolygonContour(
			orb.Point{0, 0}, orb.Point{rapid.Float64Range(1, 900).Draw(t, "w"), 0},
			orb.Point{rapid.Float64Range(0, 900).Draw(t, "x"), rapid.Float64Range(1, 900).Draw(t, "h")})}}
		o.FreeAngle = rapid.Bool().Draw(t, "free")
		o.Mirror = rapid.Bool().Draw(t, "mirror")
		o.Angles = rapid.SliceOfN(rapid.Float64Range(0, 359), 1, 5).Draw(t, "angles")
		turn := rapid.SampledFrom(o.Angles).Draw(t, "turn")
		if o.FreeAngle {
			turn = rapid.Float64Range(0, 360).Draw(t, "any turn")
		}
		mirror := o.Mirror && rapid.Bool().Draw(t, "mirrored")
		b := o.Shape.Outer.Transform(geom.Pose{AngleDeg: turn, Mirror: mirror}).Bounds()
		margin := rapid.Float64Range(0, 20).Draw(t, "margin")
		s := Stock{Outline: geom.RectContour(0, 0, b.Max[0]-b.Min[0]+2*margin, b.Max[1]-b.Min[1]+2*margin), Count: 1}
		if rapid.Bool().Draw(t, "grain") {
			own := rapid.Float64Range(0, 179).Draw(t, "own grain")
			along := own + turn
			if mirror {
				along = 180 - own + turn
			}
			o.GrainDeg, s.GrainDeg = grainDeg(own), grainDeg(along)
		}
		if !fitsSheet(&o, &s, margin) {
			t.Fatalf("refused: turn %v mirror %v", turn, mirror)
		}
	})
}

func TestGrainDecidesTheTurn(t *testing.T) {
	long := "orders:\n  - {id: K-1, shape: rectangle, width_mm: 1500, height_mm: 20, grain_deg: 0, quantity: 1, material: test steel, thickness_mm: 6}\n"
	along := strings.Replace(base, "cost: 150", "cost: 150, grain_deg: 0", 1)
	across := strings.Replace(base, "cost: 150", "cost: 150, grain_deg: 90", 1)
	mustLoad(t, along+long)
	_, err := load(across + long)
	if err == nil || !strings.Contains(err.Error(), "fits no sheet in an allowed turn") || !strings.Contains(err.Error(), "look at grain_deg") {
		t.Errorf("got %v", err)
	}
	if j := mustLoad(t, base+long); !strings.Contains(fmt.Sprint(j.Warnings), "the part has a grain and sheet S6 has none") {
		t.Errorf("warnings %q", j.Warnings)
	}
}
