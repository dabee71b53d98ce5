package nest

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"kerfold/geom"
)

func rectPolygon(x0, y0, x1, y1 float64) orb.Polygon {
	return orb.Polygon{geom.RectRing(x0, y0, x1, y1)}
}

func boundArea(b orb.Bound) float64 { return (b.Max[0] - b.Min[0]) * (b.Max[1] - b.Min[1]) }

func TestFreeRect(t *testing.T) {
	sheet := rectPolygon(0, 0, 1000, 500)
	for _, c := range []struct {
		why   string
		sheet orb.Polygon
		parts []orb.Polygon
		gap   float64
		least float64
		want  orb.Bound
	}{
		{"an empty sheet is all remnant", sheet, nil, 3, 0, orb.Bound{Max: orb.Point{1000, 500}}},
		{
			"parts packed left leave the right, exact to the gap",
			sheet,
			[]orb.Polygon{rectPolygon(5, 5, 300.3, 480)},
			3, 0,
			orb.Bound{Min: orb.Point{303.3, 0}, Max: orb.Point{1000, 500}},
		},
		{
			"a part's hole is no remnant",
			sheet,
			[]orb.Polygon{{geom.RectRing(0, 0, 900, 500), geom.ReverseRing(geom.RectRing(10, 10, 890, 490))}},
			0, 0,
			orb.Bound{Min: orb.Point{900, 0}, Max: orb.Point{1000, 500}},
		},
		{
			"a blocked zone is kept off",
			orb.Polygon{geom.RectRing(0, 0, 1000, 500), geom.ReverseRing(geom.RectRing(0, 100, 200, 400))},
			nil,
			0, 0,
			orb.Bound{Min: orb.Point{200, 0}, Max: orb.Point{1000, 500}},
		},
		{
			"a long strip has more area, a wide piece can be used",
			sheet,
			[]orb.Polygon{rectPolygon(0, 0, 600, 340)},
			0, 200,
			orb.Bound{Min: orb.Point{600, 0}, Max: orb.Point{1000, 500}},
		},
		{
			"where all is too narrow the largest is told",
			sheet,
			[]orb.Polygon{rectPolygon(0, 0, 1000, 340)},
			0, 200,
			orb.Bound{Min: orb.Point{0, 340}, Max: orb.Point{1000, 500}},
		},
	} {
		got, ok := FreeRect(c.sheet, c.parts, c.gap, c.least)
		if !ok || math.Abs(boundArea(got)-boundArea(c.want)) > 1e-6*boundArea(c.want) || got != c.want {
			t.Errorf("%s: got %v, want %v", c.why, got, c.want)
		}
	}
	if r, ok := FreeRect(sheet, []orb.Polygon{rectPolygon(0, 0, 1000, 500)}, 0, 0); ok {
		t.Errorf("a full sheet has a remnant %v", r)
	}
}

// A side moved up to a part whose end is no round number must not let that part,
// by rounding, into the way of the other sides.
func TestFreeRectBesideAPart(t *testing.T) {
	sheet := rectPolygon(0, 0, 100, 80)
	tip := orb.Polygon{{{0.5000000000000018, 9.5}, {15.500000000000002, 9.5}, {8, 11.5}}}
	bar := rectPolygon(1, 49.5, 100, 51)
	got, ok := FreeRect(sheet, []orb.Polygon{tip, bar}, 1.5, 0)
	if want := 83.0 * 48; !ok || math.Abs(boundArea(got)-want) > 1e-3 {
		t.Errorf("got %v, want %v mm² right of the tip and below the bar", got, want)
	}
}

// Whatever the parts, the rectangle stays on the sheet and off the parts by the
// gap, and is no smaller than four fifths of the largest one on a coarse grid of
// corners, found by trying all.
func TestFreeRectAgainstEnumeration(t *testing.T) {
	sheet := orb.Polygon{{{0, 0}, {100, 0}, {100, 60}, {40, 80}, {0, 80}}}
	rapid.Check(t, func(t *rapid.T) {
		var parts []orb.Polygon
		for range rapid.IntRange(0, 6).Draw(t, "parts") {
			x, y := rapid.Float64Range(0, 90).Draw(t, "x"), rapid.Float64Range(0, 70).Draw(t, "y")
			w, h := rapid.Float64Range(2, 40).Draw(t, "w"), rapid.Float64Range(2, 40).Draw(t, "h")
			parts = append(parts, orb.Polygon{{{x, y}, {x + w, y}, {x + w/2, y + h}}})
		}
		gap := rapid.SampledFrom([]float64{0, 1.5}).Draw(t, "gap")
		got, ok := FreeRect(sheet, parts, gap, 0)
		best := bestOnGrid(sheet, parts, gap, 5)
		if !ok {
			if best > 0 {
				t.Fatalf("none found, but there is one of %v mm²", best)
			}
			return
		}
		if !isClear(got, sheet, parts, gap) {
			t.Fatalf("%v meets something", got)
		}
		if boundArea(got) < 0.8*best {
			t.Fatalf("found %v mm², there is one of %v mm²", boundArea(got), best)
		}
	})
}

func isClear(b orb.Bound, sheet orb.Polygon, parts []orb.Polygon, gap float64) bool {
	const slack = 1e-6
	shrunk := rectPolygon(b.Min[0]+slack, b.Min[1]+slack, b.Max[0]-slack, b.Max[1]-slack)
	if !geom.Within(shrunk, sheet) {
		return false
	}
	for _, p := range parts {
		if geom.InteriorsOverlap(shrunk, p) || geom.Distance(shrunk, p) < gap-slack {
			return false
		}
	}
	return true
}

func bestOnGrid(sheet orb.Polygon, parts []orb.Polygon, gap float64, n int) float64 {
	b := geom.Bounds(sheet)
	best := 0.0
	at := func(axis, k int) float64 {
		return b.Min[axis] + (b.Max[axis]-b.Min[axis])*float64(k)/float64(n)
	}
	for i0 := range n {
		for j0 := range n {
			for i1 := i0 + 1; i1 <= n; i1++ {
				for j1 := j0 + 1; j1 <= n; j1++ {
					r := orb.Bound{Min: orb.Point{at(0, i0), at(1, j0)}, Max: orb.Point{at(0, i1), at(1, j1)}}
					if boundArea(r) > best && isClear(r, sheet, parts, gap) {
						best = boundArea(r)
					}
				}
			}
		}
	}
	return best
}
