package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// The diameter of random points is the largest of all their distances.
func TestDiameterAgainstAllPairs(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	for range 50 {
		var pts []orb.Point
		want := 0.0
		for range 2 + rng.IntN(40) {
			p := orb.Point{Snap(rng.Float64() * 90), Snap(rng.Float64() * 40)}
			for _, q := range pts {
				want = math.Max(want, math.Hypot(p[0]-q[0], p[1]-q[1]))
			}
			pts = append(pts, p)
		}
		if got := Diameter(pts); math.Abs(got-want) > 1e-9 {
			t.Fatalf("%v: %v, want %v", pts, got, want)
		}
	}
}
