package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Abs(a)+math.Abs(b)) }

func TestArcBetween(t *testing.T) {
	for _, tc := range []struct {
		name           string
		a, b           orb.Point
		bulge          float64
		center         orb.Point
		radius, sweep  float64
		minX, maxX     float64
		startTangent   orb.Point
		midX, midY     float64
		lengthOverPiMM float64
	}{
		{"upper half counter-clockwise", orb.Point{1, 0}, orb.Point{-1, 0}, 1, orb.Point{}, 1, math.Pi, -1, 1, orb.Point{0, 1}, 0, 1, 1},
		{"lower half clockwise", orb.Point{1, 0}, orb.Point{-1, 0}, -1, orb.Point{}, 1, -math.Pi, -1, 1, orb.Point{0, -1}, 0, -1, 1},
		{"quarter", orb.Point{2, 0}, orb.Point{0, 2}, math.Tan(math.Pi / 8), orb.Point{}, 2, math.Pi / 2, 0, 2, orb.Point{0, 1}, math.Sqrt2, math.Sqrt2, 1},
		{"three quarters", orb.Point{2, 0}, orb.Point{0, -2}, math.Tan(3 * math.Pi / 8), orb.Point{}, 2, 3 * math.Pi / 2, -2, 2, orb.Point{0, 1}, -math.Sqrt2, math.Sqrt2, 3},
	} {
		arc, ok := ArcBetween(tc.a, tc.b, tc.bulge)
		mid, tan, box := arc.At(0.5), arc.Tangent(0), arc.Bounds()
		if !ok || math.Hypot(arc.Center[0]-tc.center[0], arc.Center[1]-tc.center[1]) > 1e-12 ||
			!near(arc.Radius, tc.radius) || !near(arc.SweepRad, tc.sweep) ||
			!near(mid[0], tc.midX) || !near(mid[1], tc.midY) ||
			!near(tan[0], tc.startTangent[0]) || !near(tan[1], tc.startTangent[1]) ||
			!near(box.Min[0], tc.minX) || !near(box.Max[0], tc.maxX) ||
			!near(arc.Length(), math.Pi*tc.lengthOverPiMM) || !near(arc.Bulge(), tc.bulge) {
			t.Errorf("%s: %+v mid %v tangent %v box %v", tc.name, arc, mid, tan, box)
		}
	}
	if _, ok := ArcBetween(orb.Point{}, orb.Point{1, 1}, 0); ok {
		t.Error("a zero bulge is a line")
	}
}

func TestContourMeasures(t *testing.T) {
	circle := CircleContour(orb.Point{3, 4}, 5)
	if !near(circle.Area(), 25*math.Pi) || !near(circle.Length(), 10*math.Pi) {
		t.Errorf("circle area %g length %g", circle.Area(), circle.Length())
	}
	if b := circle.Bounds(); !near(b.Min[1], -1) || !near(b.Max[1], 9) {
		t.Errorf("circle bounds %v", b)
	}
	rev := circle.Reverse()
	if !near(rev.Area(), -25*math.Pi) || rev.IsCCW() {
		t.Errorf("reversed circle area %g", rev.Area())
	}
	s := Shape{Outer: RectContour(0, 0, 20, 10), Holes: []Contour{circle.Transform(Pose{X: 5, Y: 1}).Reverse()}}
	if !near(s.Area(), 200-25*math.Pi) || !near(s.Length(), 60+10*math.Pi) {
		t.Errorf("shape area %g length %g", s.Area(), s.Length())
	}
}

// Area and length survive any pose; a reversal undoes itself.
func TestContourTransformKeepsMeasures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawBlob(t)
		pose := drawPose(t)
		m := c.Transform(pose)
		if math.Abs(m.Area()-c.Area()) > 1e-6 || math.Abs(m.Length()-c.Length()) > 1e-6 {
			t.Fatalf("area %g → %g, length %g → %g", c.Area(), m.Area(), c.Length(), m.Length())
		}
		for i, v := range c.Reverse().Reverse() {
			if v != c[i] {
				t.Fatalf("vertex %d: %v, want %v", i, v, c[i])
			}
		}
	})
}

func drawPose(t *rapid.T) Pose {
	return Pose{
		X:        Snap(rapid.Float64Range(-200, 200).Draw(t, "x")),
		Y:        Snap(rapid.Float64Range(-200, 200).Draw(t, "y")),
		AngleDeg: rapid.SampledFrom([]float64{0, 90, 180, 270, 33, 211.5}).Draw(t, "angle"),
		Mirror:   rapid.Bool().Draw(t, "mirror"),
	}
}

func TestPoseThenAndInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawPose(t), drawPose(t)
		pt := orb.Point{rapid.Float64Range(-50, 50).Draw(t, "px"), rapid.Float64Range(-50, 50).Draw(t, "py")}
		if got, want := p.Then(q).Apply(pt), q.Apply(p.Apply(pt)); distance(got, want) > 1e-9 {
			t.Fatalf("then: %v, want %v", got, want)
		}
		if got := p.Inverse().Apply(p.Apply(pt)); distance(got, pt) > 1e-9 {
			t.Fatalf("inverse: %v, want %v", got, pt)
		}
	})
}
