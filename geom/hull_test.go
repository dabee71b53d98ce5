package geom

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func TestConvexHullTable(t *testing.T) {
	for _, tc := range []struct {
		name string
		pts  []orb.Point
		want orb.Ring
	}{
		{"nothing", nil, orb.Ring{}},
		{"one point twice", []orb.Point{{1, 1}, {1, 1}}, orb.Ring{{1, 1}}},
		{"on a line", []orb.Point{{0, 0}, {2, 2}, {1, 1}}, orb.Ring{{0, 0}, {2, 2}}},
		{"square with middles", []orb.Point{{0, 0}, {1, 0}, {2, 0}, {2, 2}, {1, 1}, {0, 2}, {0, 1}}, orb.Ring{{0, 0}, {2, 0}, {2, 2}, {0, 2}}},
	} {
		if got := ConvexHull(tc.pts); !slices.Equal(got, tc.want) {
			t.Errorf("%s: %v, want %v", tc.name, got, tc.want)
		}
	}
}

func TestConvexHullHoldsItsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawStar(t, "p")
		h := ConvexHull(p[0])
		if !IsConvex(h) || !Within(p, orb.Polygon{h}) {
			t.Fatalf("hull %v of %v", h, p)
		}
	})
}

func TestIsConvex(t *testing.T) {
	for _, tc := range []struct {
		name string
		r    orb.Ring
		want bool
	}{
		{"square", RectRing(0, 0, 1, 1), true},
		{"with a straight vertex", orb.Ring{{0, 0}, {1, 0}, {2, 0}, {2, 2}}, true},
		{"clockwise", ReverseRing(RectRing(0, 0, 1, 1)), false},
		{"notched", socket[0], false},
		{"pentagram: turns left, winds twice", orb.Ring{{0, 3}, {-2, -3}, {3, 1}, {-3, 1}, {2, -3}}, false},
		{"square twice around", append(RectRing(0, 0, 1, 1), RectRing(0, 0, 1, 1)...), false},
	} {
		if got := IsConvex(tc.r); got != tc.want {
			t.Errorf("%s: %v", tc.name, got)
		}
	}
}

func TestCalipersTable(t *testing.T) {
	turned := TransformRing(RectRing(0, 0, 30, 10), Pose{AngleDeg: 25})
	for _, tc := range []struct {
		name                 string
		pts                  []orb.Point
		width, angle         float64
		boxWidth, boxHeight  float64
		boxAngle             float64
		ignoreAngle, swapped bool
	}{
		{name: "rectangle", pts: RectRing(0, 0, 30, 10), width: 10, angle: 0, boxWidth: 30, boxHeight: 10},
		{name: "turned rectangle", pts: turned, width: 10, angle: 25, boxWidth: 30, boxHeight: 10, boxAngle: 25},
		{name: "right triangle", pts: []orb.Point{{0, 0}, {4, 0}, {0, 3}}, width: 2.4, angle: 180 - 36.8698976, boxWidth: 4, boxHeight: 3, ignoreAngle: true},
		{name: "line", pts: []orb.Point{{0, 0}, {1, 1}, {3, 3}}, width: 0, angle: 45, boxWidth: 3 * math.Sqrt2, boxAngle: 45},
		{name: "point", pts: []orb.Point{{2, 2}}},
	} {
		w, a := MinWidth(tc.pts)
		b := MinAreaBox(tc.pts)
		if math.Abs(w-tc.width) > 1e-5 || math.Abs(a-tc.angle) > 1e-5 {
			t.Errorf("%s: width %g at %g°", tc.name, w, a)
		}
		if math.Abs(b.Width*b.Height-tc.boxWidth*tc.boxHeight) > 1e-4 ||
			math.Abs(max(b.Width, b.Height)-max(tc.boxWidth, tc.boxHeight)) > 1e-5 && !tc.ignoreAngle {
			t.Errorf("%s: box %+v", tc.name, b)
		}
	}
}

// No direction gives a narrower strip or a smaller box.
func TestCalipersAgainstAllDirections(t *testing.T) {
	rng := rand.New(rand.NewPCG(29, 30))
	for range 200 {
		p := randomStar(rng, 3+rng.IntN(20), 50)[0]
		w, _ := MinWidth(p)
		b := MinAreaBox(p)
		least, leastArea := math.Inf(1), math.Inf(1)
		for deg := 0.0; deg < 180; deg += 0.25 {
			s, c := math.Sincos(deg * math.Pi / 180)
			x, y := spread(p, orb.Point{c, s}), spread(p, orb.Point{-s, c})
			least, leastArea = math.Min(least, y), math.Min(leastArea, x*y)
		}
		if w > least*(1+1e-12) || w < least*0.97 {
			t.Fatalf("width %g, directions give %g", w, least)
		}
		if a := b.Width * b.Height; a > leastArea*(1+1e-12) || a < leastArea*0.97 {
			t.Fatalf("box %+v of area %g, directions give %g", b, a, leastArea)
		}
	}
}

func spread(r orb.Ring, d orb.Point) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range r {
		lo, hi = math.Min(lo, along(p, d)), math.Max(hi, along(p, d))
	}
	return hi - lo
}
