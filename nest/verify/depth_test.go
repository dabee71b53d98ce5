package verify_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/verify"
)

func square(x, y, w, h float64) geom.Contour {
	return geom.Contour{{P: orb.Point{x, y}}, {P: orb.Point{x + w, y}}, {P: orb.Point{x + w, y + h}}, {P: orb.Point{x, y + h}}}
}

func circle(x, y, r float64) geom.Contour {
	return geom.Contour{{P: orb.Point{x - r, y}, Bulge: 1}, {P: orb.Point{x + r, y}, Bulge: 1}}
}

func solid(c geom.Contour) geom.Shape { return geom.Shape{Outer: c} }

// wide is a sheet that is no limit.
var wide = verify.Sheet{ID: "wide", Outline: square(-5e5, -5e5, 1e6, 1e6)}

// pair lays two shapes down as they are.
func pair(a, b geom.Shape, spacing float64) verify.Layout {
	return verify.Layout{
		Parts: []verify.Part{
			{ID: "a", Shape: a, Min: 1, Max: 1},
			{ID: "b", Shape: b, Min: 1, Max: 1},
		},
		Sheets:  []verify.Sheet{wide},
		Uses:    []verify.Use{{Placements: []verify.Placement{{Part: 0}, {Part: 1}}}},
		Spacing: spacing,
	}
}

func TestPairs(t *testing.T) {
	ring := geom.Shape{Outer: circle(0, 0, 10), Holes: []geom.Contour{circle(0, 0, 5)}}
	frame := geom.Shape{Outer: square(0, 0, 10, 10), Holes: []geom.Contour{square(2, 2, 6, 6)}}
	const tiny = 1.0 / 1024 // thousands of touch tolerances, exact in binary
	for _, c := range []struct {
		name    string
		a, b    geom.Shape
		spacing float64
		kind    verify.Kind // -1 when legal
		amount  float64
	}{
		{"squares side by side touch", solid(square(0, 0, 4, 4)), solid(square(4, 0, 4, 4)), 0, -1, 0},
		{"squares touch with a corner on an edge", solid(square(0, 0, 4, 4)), solid(square(4, 3, 4, 4)), 0, -1, 0},
		{"squares touch in a corner", solid(square(0, 0, 4, 4)), solid(square(4, 4, 4, 4)), 0, -1, 0},
		{"edge into edge", solid(square(0, 0, 4, 4)), solid(square(4-tiny, 0, 4, 4)), 0, verify.Overlap, tiny},
		{"edge into edge within the tolerance", solid(square(0, 0, 4, 4)), solid(square(4-geom.TouchTolerance, 0, 4, 4)), 0, -1, 0},
		{"edge into edge at twice the tolerance", solid(square(0, 0, 4, 4)), solid(square(4-2*geom.TouchTolerance, 0, 4, 4)), 0, verify.Overlap, 2 * geom.TouchTolerance},
		{"half and half", solid(square(0, 0, 4, 4)), solid(square(2, 0, 4, 4)), 0, verify.Overlap, 2},
		{"one in the same place", solid(square(0, 0, 4, 4)), solid(square(0, 0, 4, 4)), 0, verify.Overlap, 4},
		{"discs in the same place", solid(circle(0, 0, 3)), solid(circle(0, 0, 3)), 0, verify.Overlap, 6},
		{"crossing bars", solid(square(-5, -1, 10, 2)), solid(square(-1, -5, 2, 10)), 0, verify.Overlap, 2},
		{"small in the middle of large", solid(square(0, 0, 10, 10)), solid(square(4, 4, 2, 2)), 0, verify.Overlap, 4},
		{"large around small", solid(square(4, 4, 2, 2)), solid(square(0, 0, 10, 10)), 0, verify.Overlap, 4},
		{"corner into edge", solid(square(0, 0, 4, 4)), diamond(4+2-0.25, 2, 2), 0, verify.Overlap, 0.25},
		{"part in a hole", frame, solid(square(3, 3, 2, 2)), 0, -1, 0},
		{"part that fits a hole", frame, solid(square(2, 2, 6, 6)), 0, -1, 0},
		{"part too large for a hole", frame, solid(square(2, 2, 6, 6+tiny)), 0, verify.Overlap, tiny},
		{"part that fills the frame", frame, solid(square(0, 0, 10, 10)), 0, verify.Overlap, 4 / (1 + 1/math.Sqrt2)},
		{"plug in a round hole", ring, solid(circle(0, 0, 5)), 0, -1, 0},
		{"plug turned in a round hole", ring, solid(turnedCircle(5)), 0, -1, 0},
		{"plug too large", ring, solid(circle(0, 0, 5+tiny)), 0, verify.Overlap, tiny},
		{"plug off centre", ring, solid(circle(tiny, 0, 5)), 0, verify.Overlap, tiny},
		{"discs touch", solid(circle(0, 0, 5)), solid(circle(8, 6, 5)), 0, -1, 0},
		{"disc on a line", solid(square(-50, -4, 100, 4)), solid(circle(1.5, 5, 5)), 0, -1, 0},
		{"disc into a line", solid(square(-50, -4, 100, 4)), solid(circle(1.5, 5-tiny, 5)), 0, verify.Overlap, tiny},
		{"discs overlap", solid(circle(0, 0, 5)), solid(circle(8, 0, 5)), 0, verify.Overlap, 2},
		{"discs apart enough", solid(circle(0, 0, 5)), solid(circle(12, 0, 5)), 2, -1, 0},
		{"discs too near", solid(circle(0, 0, 5)), solid(circle(11, 0, 5)), 2, verify.Clearance, 1},
		{"squares too near at corners", solid(square(0, 0, 4, 4)), solid(square(7, 8, 4, 4)), 6, verify.Clearance, 1},
		{"squares far enough at corners", solid(square(0, 0, 4, 4)), solid(square(7, 8, 4, 4)), 5, -1, 0},
		{"touching where a gap is asked", solid(square(0, 0, 4, 4)), solid(square(4, 0, 4, 4)), 2, verify.Clearance, 2},
		{"too near in a hole", frame, solid(square(2.5, 3, 2, 2)), 1, verify.Clearance, 0.5},
		{"disc too near in a hole", ring, solid(circle(1, 0, 3)), 2, verify.Clearance, 1},
		{"disc far enough in a hole", ring, solid(circle(1, 0, 3)), 1, -1, 0},
	} {
		r := verify.Check(pair(c.a, c.b, c.spacing))
		switch {
		case c.kind < 0 && !r.OK():
			t.Errorf("%s: %s", c.name, r.Violations[0].Text)
		case c.kind < 0:
		case len(r.Violations) != 1 || r.Violations[0].Kind != c.kind:
			t.Errorf("%s: got %v, want one %v", c.name, kindsOf(r), c.kind)
		case !near(r.Violations[0].Amount, c.amount, c.amount/100):
			t.Errorf("%s: %v by %v, want %v", c.name, c.kind, r.Violations[0].Amount, c.amount)
		}
	}
}

func diamond(x, y, r float64) geom.Shape {
	return solid(geom.Contour{{P: orb.Point{x - r, y}}, {P: orb.Point{x, y - r}}, {P: orb.Point{x + r, y}}, {P: orb.Point{x, y + r}}})
}

// turnedCircle is a circle that starts elsewhere and has three arcs.
func turnedCircle(r float64) geom.Contour {
	var c geom.Contour
	for _, deg := range []float64{17, 137, 257} {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		c = append(c, geom.Vertex{P: orb.Point{r * cos, r * sin}, Bulge: math.Tan(math.Pi / 6)})
	}
	return c
}

// TestDepthIsAShift pushes shapes together by known shifts along known normals;
// for an edge into an edge, a corner into an edge and a disc the depth is the
// shift.
func TestDepthIsAShift(t *testing.T) {
	for _, deg := range []float64{0, 10, 37, 90, 123.4, 200} {
		sin, cos := geom.SinCosDeg(deg)
		for _, shift := range []float64{1e-4, 0.01, 0.5} {
			for name, s := range map[string]geom.Shape{
				"square": solid(square(0, -5, 10, 10)), "diamond": diamond(7, 0, 7), "disc": solid(circle(7, 0, 7)),
			} {
				l := pair(solid(square(-20, -30, 20, 60)), s, 0)
				l.Parts[0].FreeAngle, l.Parts[1].FreeAngle = true, true
				l.Uses[0].Placements[0].Pose = geom.Pose{AngleDeg: deg, X: 100, Y: 50}
				l.Uses[0].Placements[1].Pose = geom.Pose{AngleDeg: deg, X: 100 - shift*cos, Y: 50 - shift*sin}
				r := verify.Check(l)
				if len(r.Violations) != 1 || !near(r.Violations[0].Amount, shift, shift/100) {
					t.Errorf("%s at %v° by %v: %+v", name, deg, shift, r.Violations)
				}
			}
		}
	}
}

func pt(x, y float64) orb.Point { return orb.Point{x, y} }
