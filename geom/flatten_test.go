package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// drawBlob draws a star-shaped contour of lines and arcs on the grid. Its radii
// differ little enough that arcs which bulge inwards do not cross at a corner.
func drawBlob(t *rapid.T) Contour {
	n := rapid.IntRange(3, 9).Draw(t, "n")
	c := make(Contour, n)
	for i := range c {
		r := rapid.Float64Range(40, 60).Draw(t, "r")
		s, co := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		c[i].P = SnapPoint(orb.Point{r * co, r * s})
		c[i].Bulge = rapid.SampledFrom([]float64{0, 0.05, -0.05, 0.2, -0.15, 1e-7}).Draw(t, "bulge")
	}
	return c
}

// curvePoints samples the true contour densely. A point a share s along an arc
// of sweep θ lies from its start at the chord times sin(sθ/2)/sin(θ/2), in a
// direction (1−s)θ/2 off the chord's: accurate for the flattest arcs too.
func curvePoints(c Contour) []orb.Point {
	var pts []orb.Point
	for i := range c {
		a, b, bulge := c.segment(i)
		half := 2 * math.Atan(bulge)
		for k := range 40 {
			s := float64(k) / 40
			ratio, turn := s, 0.0
			if half != 0 {
				ratio, turn = math.Sin(s*half)/math.Sin(half), -(1-s)*half
			}
			sin, cos := math.Sincos(turn)
			dx, dy := ratio*(b[0]-a[0]), ratio*(b[1]-a[1])
			pts = append(pts, orb.Point{a[0] + cos*dx - sin*dy, a[1] + sin*dx + cos*dy})
		}
	}
	return pts
}

// slack is what float64 noise in the sampled points may amount to, in mm.
const slack = Grid / 1000

func TestFlattenStaysOnItsSide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawBlob(t)
		if rapid.Bool().Draw(t, "clockwise") {
			c = c.Reverse()
		}
		tol := rapid.SampledFrom([]float64{0.5, 0.02, 0.001}).Draw(t, "tol")
		for _, side := range []Side{Outward, Inward} {
			r := c.Flatten(tol, side)
			want := Inside
			if side == Inward {
				want = Outside
			}
			for _, p := range curvePoints(c) {
				d := ringDistance(p, r)
				if d > tol+6*Grid {
					t.Fatalf("side %d: %v is %g from the ring, tolerance %g", side, p, d, tol)
				}
				if at := LocateInRing(r, p); at != want && d > slack {
					t.Fatalf("side %d: %v is on the wrong side by %g", side, p, d)
				}
			}
		}
	})
}

func ringDistance(p orb.Point, r orb.Ring) float64 {
	best := math.Inf(1)
	for i, a := range r {
		best = math.Min(best, pointSegmentDistance(p, a, r[(i+1)%len(r)]))
	}
	return best
}

func TestFlattenCircle(t *testing.T) {
	s := Shape{
		Outer: CircleContour(orb.Point{10, 5}, 50),
		Holes: []Contour{CircleContour(orb.Point{10, 5}, 20).Reverse()},
	}
	trueArea := math.Pi * (2500 - 400)
	out, in, on := s.Flatten(0.02, Outward), s.Flatten(0.02, Inward), s.Flatten(0.02, OnCurve)
	if a := PolygonArea(out); a < trueArea || a > trueArea+0.02*s.Length() {
		t.Errorf("outward area %g, true %g", a, trueArea)
	}
	if a := PolygonArea(in); a > trueArea || a < trueArea-0.02*s.Length() {
		t.Errorf("inward area %g, true %g", a, trueArea)
	}
	if RingArea(on[0]) < 0 || RingArea(on[1]) > 0 {
		t.Error("outer ring must run counter-clockwise and the hole clockwise")
	}
	if n := len(out[0]); n < 60 || n > 140 {
		t.Errorf("a 50 mm circle at 0.02 mm has %d vertices", n)
	}
}

// An arc so flat that its centre lies a million kilometres away.
func TestFlattenNearlyStraight(t *testing.T) {
	c := Contour{{P: orb.Point{0, 0}, Bulge: 1e-9}, {P: orb.Point{1000, 0}}, {P: orb.Point{500, 500}}}
	r := c.Flatten(0.02, Outward)
	if LocateInRing(r, orb.Point{500, -5e-7}) != Inside {
		t.Errorf("ring %v does not hold the arc's crown", r)
	}
}

// A slot whose walls bulge towards each other and all but meet: their tangents
// cross.
func TestFlattenClosesNarrowGap(t *testing.T) {
	c := Contour{
		{P: orb.Point{0, 0}},
		{P: orb.Point{40, 0}},
		{P: orb.Point{40, 20}},
		{P: orb.Point{25, 20}, Bulge: 4.99 / 9},
		{P: orb.Point{25, 2}},
		{P: orb.Point{15, 2}, Bulge: 4.99 / 9},
		{P: orb.Point{15, 20}},
		{P: orb.Point{0, 20}},
	}
	c = c.Transform(Pose{AngleDeg: 30})
	for i := range c {
		c[i].P = SnapPoint(c[i].P)
	}
	s := Shape{Outer: c}
	if IsSimple(orb.Polygon{c.Flatten(1, Outward)}) {
		t.Fatal("the bumps do not meet: nothing to repair")
	}
	p := s.Flatten(1, Outward)
	if !IsSimple(p) {
		t.Fatal("flattened polygon is not simple")
	}
	if PolygonArea(p) < s.Area() {
		t.Errorf("area %g is less than the true %g", PolygonArea(p), s.Area())
	}
	for _, q := range curvePoints(c) {
		if Locate(p, q) == Outside && BoundaryDistance(q, p) > slack {
			t.Fatalf("%v is left out", q)
		}
	}
}

func TestPathFlatten(t *testing.T) {
	p := Path{{P: orb.Point{-10, 0}, Bulge: 1}, {P: orb.Point{10, 0}}, {P: orb.Point{10, 30}}}
	line := p.Flatten(0.001)
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += math.Hypot(line[i][0]-line[i-1][0], line[i][1]-line[i-1][1])
	}
	if want := 10*math.Pi + 30; math.Abs(sum-want) > 1e-3*want || math.Abs(p.Length()-want) > 1e-9 {
		t.Errorf("flattened length %g, path length %g, want %g", sum, p.Length(), want)
	}
	if line[len(line)-1] != p[2].P {
		t.Errorf("last point %v", line[len(line)-1])
	}
}

// Discs and slots keep their exact size along the axes and stay convex, so that
// exact fits of round parts remain exact.
func TestFlattenKeepsSizeAndConvexity(t *testing.T) {
	slot := Contour{{P: orb.Point{0, 0}}, {P: orb.Point{30, 0}, Bulge: 1}, {P: orb.Point{30, 20}}, {P: orb.Point{0, 20}, Bulge: 1}}
	round := Contour{{P: orb.Point{5, 0}}, {P: orb.Point{40, 0}, Bulge: math.Tan(math.Pi / 8)}, {P: orb.Point{45, 5}}, {P: orb.Point{45, 30}}, {P: orb.Point{0, 30}}, {P: orb.Point{0, 5}, Bulge: math.Tan(math.Pi / 8)}}
	for _, tc := range []struct {
		name string
		c    Contour
	}{
		{"disc", CircleContour(orb.Point{10, 5}, 50)},
		{"slot", slot},
		{"turned slot", slot.Transform(Pose{AngleDeg: 30})},
		{"rounded corners", round},
		{"disc of odd radius", CircleContour(orb.Point{1.0 / 3, 0}, math.Sqrt2)},
	} {
		r := tc.c.Flatten(0.02, Outward)
		if !IsConvex(r) {
			t.Errorf("%s: not convex", tc.name)
		}
		got, want := RingBounds(r), tc.c.Bounds()
		slack := 0.0
		if tc.name == "turned slot" || tc.name == "disc of odd radius" {
			slack = 2 * Grid
		}
		for k := range 2 {
			if got.Min[k] < want.Min[k]-slack-1e-12 || got.Max[k] > want.Max[k]+slack+1e-12 {
				t.Errorf("%s: box %v, true %v", tc.name, got, want)
			}
		}
	}
}
