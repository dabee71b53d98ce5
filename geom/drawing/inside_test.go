package drawing

import (
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A circle drawn from its lowest to its highest point and back is two stretches
// whose ends lie straight under and over the centre.
func TestInnerOfUprightHalfCircles(t *testing.T) {
	for _, c := range []geom.Contour{
		{{P: orb.Point{90, 21}, Bulge: 1}, {P: orb.Point{90, 31}, Bulge: 1}},
		{{P: orb.Point{90, 31}, Bulge: -1}, {P: orb.Point{90, 21}, Bulge: -1}},
	} {
		p, ok := inner(c, boundOf(c))
		if !ok || !contains(c, p) {
			t.Errorf("%v: inner point %v, found %v", c, p, ok)
		}
		if contains(c, orb.Point{84, 26}) || contains(c, orb.Point{96, 26}) || !contains(c, orb.Point{86, 26}) || !contains(c, orb.Point{94, 26}) {
			t.Errorf("%v: points 1 mm inside and outside are told apart wrongly", c)
		}
	}
}
