package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

func TestConvexPiecesTable(t *testing.T) {
	for _, tc := range []struct {
		name   string
		p      orb.Polygon
		pieces int
	}{
		{"square", rect(0, 0, 1, 1), 1},
		{"L", poly(orb.Ring{{0, 0}, {3, 0}, {3, 1}, {1, 1}, {1, 3}, {0, 3}}), 2},
		{"slot", socket, 3},
		{"frame", frame, 4},
		{"hole on the outline", poly(orb.Ring{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, orb.Ring{{0, 0}, {2, 3}, {3, 2}}), 3},
		{"collinear vertices", poly(orb.Ring{{0, 0}, {1, 0}, {2, 0}, {2, 2}, {1, 2}, {0, 2}}), 1},
	} {
		got := ConvexPieces(tc.p)
		if len(got) > 2*tc.pieces {
			t.Errorf("%s: %d pieces, at best %d", tc.name, len(got), tc.pieces)
		}
		checkPieces(t, tc.name, tc.p, got)
	}
}

func checkPieces(t *testing.T, name string, p orb.Polygon, pieces []orb.Ring) {
	t.Helper()
	sum := 0.0
	for _, r := range pieces {
		if !IsConvex(r) {
			t.Errorf("%s: a piece is not convex: %v", name, r)
		}
		if !Within(poly(r), p) {
			t.Errorf("%s: a piece sticks out: %v", name, r)
		}
		sum += RingArea(r)
	}
	if math.Abs(sum-PolygonArea(p)) > 1e-9*(1+sum) {
		t.Errorf("%s: pieces have area %g, polygon %g", name, sum, PolygonArea(p))
	}
}

func TestConvexPiecesRandom(t *testing.T) {
	rng := rand.New(rand.NewPCG(25, 26))
	for k := range 300 {
		p := samplePolygon(rng, k)
		if k%5 == 0 {
			p = manyHoles(rng)
		}
		checkPieces(t, "random", p, ConvexPieces(p))
		if t.Failed() {
			t.Fatalf("case %d: %v", k, p)
		}
	}
}

// manyHoles is a plate with holes in a lattice, some of them touching.
func manyHoles(rng *rand.Rand) orb.Polygon {
	var holes []orb.Polygon
	for range 12 {
		x, y := float64(1+rng.IntN(16)), float64(1+rng.IntN(16))
		holes = append(holes, poly(orb.Ring{{x, y}, {x + 1, y - 1}, {x + 2, y}, {x + 1, y + 1}}))
	}
	return largest(Difference([]orb.Polygon{rect(-1, -1, 20, 20)}, holes))
}

func BenchmarkConvexPieces(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, n := range []int{20, 200} {
		p := randomStar(rng, n, 100)
		b.Run(itoa(n), func(b *testing.B) {
			for b.Loop() {
				ConvexPieces(p)
			}
		})
	}
}
