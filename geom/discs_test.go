package geom

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

func TestPoleTable(t *testing.T) {
	for _, tc := range []struct {
		name   string
		p      orb.Polygon
		radius float64
	}{
		{"square", rect(0, 0, 2, 2), 1},
		{"strip", rect(0, 0, 100, 2), 1},
		// On floor, wall and the slot's corner (5, 6): (5−r)² + (6−r)² = r².
		{"slot: beside and under it", socket, 11 - math.Sqrt(60)},
		// In a corner, on two walls and the window's corner (3, 3).
		{"frame", frame, 3 * math.Sqrt2 / (1 + math.Sqrt2)},
		{"turned strip", TransformPolygon(rect(0, 0, 100, 2), Pose{AngleDeg: 20}), 1},
		{"3-4-5 triangle", poly(orb.Ring{{0, 0}, {4, 0}, {0, 3}}), 1},
		{"no area", poly(orb.Ring{{0, 0}, {4, 0}, {2, 0}}), 0},
	} {
		got := Pole(tc.p, 1e-6)
		if math.Abs(got.Radius-tc.radius) > 2e-6 {
			t.Errorf("%s: radius %g at %v, want %g", tc.name, got.Radius, got.Center, tc.radius)
		}
	}
}

func TestDiscCover(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for k := range 60 {
		p := samplePolygon(rng, k)
		discs := DiscCover(p, 24, 0.8)
		if len(discs) == 0 {
			t.Fatalf("no disc for %v", p)
		}
		for i, d := range discs {
			if Locate(p, d.Center) != Inside || BoundaryDistance(d.Center, p) < d.Radius*(1-1e-12) {
				t.Fatalf("disc %v leaves the polygon", d)
			}
			for _, o := range discs[:i] {
				if distance(d.Center, o.Center) < o.Radius*(1-discOverlap) {
					t.Fatalf("discs %v and %v lie on each other", d, o)
				}
			}
		}
		if i := len(discs) - 1; i > 0 && i < 23 {
			if c := coveredShare(p, discs, rng); c < 0.7 {
				t.Fatalf("%d discs cover only %g", i+1, c)
			}
		}
	}
	if n := len(DiscCover(rect(0, 0, 1, 1), 10, 0.7)); n != 1 {
		t.Errorf("a square needs %d discs for 0.7", n)
	}
	if n := len(DiscCover(rect(0, 0, 10, 1), 50, 0.75)); n < 9 || n > 16 {
		t.Errorf("a long bar needs %d discs for 0.75", n)
	}
}

func coveredShare(p orb.Polygon, discs []Disc, rng *rand.Rand) float64 {
	b := Bounds(p)
	in, covered := 0, 0
	for range 4000 {
		q := orb.Point{b.Min[0] + rng.Float64()*(b.Max[0]-b.Min[0]), b.Min[1] + rng.Float64()*(b.Max[1]-b.Min[1])}
		if Locate(p, q) != Inside {
			continue
		}
		in++
		if slices.ContainsFunc(discs, func(d Disc) bool { return d.holds(q) }) {
			covered++
		}
	}
	return float64(covered) / float64(in)
}

func BenchmarkDiscCover(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	p := randomStar(rng, 40, 100)
	for b.Loop() {
		DiscCover(p, 16, 0.9)
	}
}
