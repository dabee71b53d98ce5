package nest

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// pointSegment is the distance from a point to a segment.
func pointSegment(p, a, b orb.Point) float64 {
	ux, uy := b[0]-a[0], b[1]-a[1]
	t := 0.0
	if d := ux*ux + uy*uy; d > 0 {
		t = min(max(((p[0]-a[0])*ux+(p[1]-a[1])*uy)/d, 0), 1)
	}
	return math.Hypot(p[0]-a[0]-t*ux, p[1]-a[1]-t*uy)
}

// bruteDistance is the least distance between two outlines' borders, by corner
// and side: enough for outlines that do not cross.
func bruteDistance(a, b orb.Polygon) float64 {
	least := math.Inf(1)
	for _, pair := range [2][2]orb.Polygon{{a, b}, {b, a}} {
		for _, ring := range pair[0] {
			for _, p := range ring {
				for _, other := range pair[1] {
					for i := range other {
						least = min(least, pointSegment(p, other[i], other[(i+1)%len(other)]))
					}
				}
			}
		}
	}
	return least
}

// TestClearances lays random parts with spacing and margin and measures every
// distance of the unsnapped true outlines. Poses are rounded to the grid, which
// may take TouchTolerance.
func TestClearances(t *testing.T) {
	for seed := range 30 {
		rng := rand.New(rand.NewPCG(uint64(seed), 4))
		p := randomProblem(rng, seed%2 == 1, 0.3+rng.Float64(), 0.2+rng.Float64())
		r, err := BottomLeft(t.Context(), p, nil, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range r.Layouts {
			checkClearances(t, seed, p, l, r.Length)
		}
	}
}

func checkClearances(t *testing.T, seed int, p Problem, l Layout, length float64) {
	t.Helper()
	ground := orb.Polygon{geom.RectRing(0, 0, length, p.StripWidth)}
	if p.StripWidth == 0 {
		ground = p.Sheets[l.Sheet].Outline
	}
	var placed []orb.Polygon
	for _, pl := range l.Placements {
		placed = append(placed, applied(p.Parts[pl.Part].Outline, pl.Pose))
	}
	for i, a := range placed {
		if d := bruteDistance(a, ground); d < p.Margin-geom.TouchTolerance-geom.SheetAllowance {
			t.Errorf("seed %d: part %d is %v from the edge, margin %v", seed, i, d, p.Margin)
		}
		for k, b := range placed[:i] {
			if d := bruteDistance(a, b); d < p.Spacing-geom.TouchTolerance {
				t.Errorf("seed %d: parts %d and %d are %v apart, spacing %v", seed, k, i, d, p.Spacing)
			}
			if geom.InteriorsOverlap(a, b) {
				t.Errorf("seed %d: parts %d and %d overlap", seed, k, i)
			}
		}
	}
}

func applied(poly orb.Polygon, pose geom.Pose) orb.Polygon {
	out := make(orb.Polygon, len(poly))
	for i, ring := range poly {
		for _, p := range ring {
			out[i] = append(out[i], pose.Apply(p))
		}
	}
	return geom.NormalPolygon(out)
}
