package nest

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// latRegular is the regular n-gon of circumradius r.
func latRegular(n int, r float64) orb.Polygon {
	var ring orb.Ring
	for k := range n {
		s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		ring = append(ring, geom.SnapPoint(orb.Point{r * c, r * s}))
	}
	return orb.Polygon{ring}
}

func TestDensestLatticeKnownValues(t *testing.T) {
	cases := []struct {
		name    string
		outline orb.Polygon
		density float64
		source  string
	}{
		{"regular pentagon", latRegular(5, 100), (5 - math.Sqrt(5)) / 3, "Kuperberg and Kuperberg 1990"},
		{"regular heptagon", latRegular(7, 100), 0.892690686126508, "Kuperberg and Kuperberg 1990"},
		{"regular hexagon", latRegular(6, 100), 1, "tiles the plane"},
		{"triangle", orb.Polygon{{{0, 0}, {100, 10}, {35, 70}}}, 1, "tiles the plane"},
		{"thin triangle", orb.Polygon{{{0, 0}, {100, 3}, {60, 12}}}, 1, "tiles the plane"},
		{"quadrilateral", orb.Polygon{{{0, 0}, {90, -10}, {100, 60}, {20, 45}}}, 1, "tiles the plane"},
		{"concave quadrilateral", orb.Polygon{{{0, 0}, {90, 0}, {30, 30}, {20, 80}}}, 1, "tiles the plane"},
		{"L of three squares", sepLShape(100), 1, "tiles the plane"},
		{"96-gon", latRegular(96, 50), 96 * math.Tan(math.Pi/96) / math.Sqrt(12), "derived: flats touch along three directions"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := DensestLattice(c.outline, LatticeOptions{Seed: 1})
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got.Density-c.density) > 1e-6 {
				t.Errorf("density %.6f, want %.6f (%s)", got.Density, c.density, c.source)
			}
		})
	}
}
