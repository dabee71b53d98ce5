package week

import (
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A web is what lies between two cuts: a hole and the edge, two holes, a neck.
func TestThinWebs(t *testing.T) {
	plate := func(holes ...geom.Contour) geom.Shape {
		s := geom.Shape{Outer: geom.RectContour(0, 0, 100, 50)}
		for _, h := range holes {
			s.Holes = append(s.Holes, h.Reverse())
		}
		return s
	}
	disc := func(x, r float64) geom.Contour { return geom.CircleContour(orb.Point{x, 25}, r) }
	neck := geom.Shape{}
	for _, p := range []orb.Point{{0, 0}, {40, 0}, {40, 24.5}, {60, 24.5}, {60, 0}, {100, 0}, {100, 50}, {60, 50}, {60, 25.5}, {40, 25.5}, {40, 50}, {0, 50}} {
		neck.Outer = append(neck.Outer, geom.Vertex{P: p})
	}
	for _, c := range []struct {
		name  string
		shape geom.Shape
		web   float64 // the narrowest
	}{
		{"hole near the edge", plate(disc(50, 24)), 1},
		{"two holes", plate(disc(30, 15), disc(61, 15)), 1},
		{"neck", neck, 1},
		{"plain plate", plate(), 50},
	} {
		p := flatPart(c.shape)
		if !hasThinWeb(p, c.web*1.05) {
			t.Errorf("%s: a web of %v mm is not seen", c.name, c.web)
		}
		if hasThinWeb(p, c.web*0.9) {
			t.Errorf("%s: its webs are %v mm, none is %v", c.name, c.web, c.web*0.9)
		}
	}
}
