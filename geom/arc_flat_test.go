package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// TestFlatArcIsStraight holds that a bulge next to zero, whose radius overflows,
// leaves a contour as long as its straight sides.
func TestFlatArcIsStraight(t *testing.T) {
	for _, bulge := range []float64{1.39e-308, -5e-324, 1e-300, 9e-13} {
		c := Contour{{P: orb.Point{0, 0}, Bulge: bulge}, {P: orb.Point{7.2, 7.2}}, {P: orb.Point{0, 7.2}}}
		want := 14.4 + math.Hypot(7.2, 7.2)
		if got := c.Length(); !(math.Abs(got-want) <= 1e-9) {
			t.Errorf("bulge %g: length %v, want %v", bulge, got, want)
		}
	}
}
