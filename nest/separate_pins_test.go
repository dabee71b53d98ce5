package nest

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// sepStar is a star of n points, deep enough to be far from convex.
func sepStar(n int, r float64) orb.Polygon {
	var ring orb.Ring
	for k := range 2 * n {
		s, c := math.Sincos(float64(k) * math.Pi / float64(n))
		q := r
		if k%2 == 1 {
			q = r * 0.45
		}
		ring = append(ring, geom.SnapPoint(orb.Point{q * c, q * s}))
	}
	return orb.Polygon{ring}
}

func sepTestBody(p orb.Polygon, gap float64) *sepBody {
	return sepNewBody(p, geom.ConvexPieces(p), geom.ConvexHull(p[0]), gap)
}

// TestSepBodiesAgainstExactOverlap compares pins and edges with the exact
// overlap and distance tests on random poses.
func TestSepBodiesAgainstExactOverlap(t *testing.T) {
	ring := orb.Polygon{geom.RectRing(-30, -30, 30, 30), geom.ReverseRing(geom.RectRing(-20, -25, 25, 25))}
	shapes := []orb.Polygon{sepLShape(30), sepStar(5, 12), ring, sepRectangle(60, 2)}
	rng := rand.New(rand.NewPCG(1, 2))
	overlaps := 0
	for _, gap := range []float64{0, 3} {
		var bodies []*sepBody
		for _, p := range shapes {
			bodies = append(bodies, sepTestBody(p, gap))
		}
		for n := range 4000 {
			pa, pb := shapes[n%4], shapes[n/4%4]
			a, b := bodies[n%4], bodies[n/4%4]
			pose := geom.Pose{X: rng.Float64()*90 - 45, Y: rng.Float64()*90 - 45, AngleDeg: rng.Float64() * 360}
			link := sepLink{sepTurnMatrix(Turn{AngleDeg: pose.AngleDeg}), pose.X, pose.Y}
			moved := geom.TransformPolygon(pb, pose)
			far := geom.Distance(pa, moved)
			pins, edges := sepPinned(a, b, link, gap), sepClash(a, b, link, gap)
			if math.Abs(far-gap) < 1e-3 && gap > 0 {
				continue // too close to call with a turned outline snapped
			}
			want := far < gap || geom.OverlapsBeyond(pa, moved, 1e-3)
			if !want && geom.InteriorsOverlap(pa, moved) {
				continue
			}
			if got := max(pins, edges) > sepTouch; got != want {
				t.Fatalf("gap %g, shapes %d and %d at %+v: pins %g, edges %g, but distance %g and overlap %v",
					gap, n%4, n/4%4, pose, pins, edges, far, want)
			}
			if want {
				overlaps++
			}
		}
	}
	if overlaps < 500 {
		t.Errorf("only %d of the poses overlap; the test is too easy", overlaps)
	}
}

// TestSepBodiesSeeSidesPushedIn: outlines whose corners all lie on each other's
// outline, or nearly, and whose sides still run into each other.
func TestSepBodiesSeeSidesPushedIn(t *testing.T) {
	square := orb.Polygon{geom.RectRing(-25, -25, 25, 25)}
	frame := orb.Polygon{geom.RectRing(-25, -25, 25, 25), geom.ReverseRing(geom.RectRing(-15, -15, 15, 15))}
	notched := orb.Polygon{{{-25, -25}, {25, -25}, {25, 25}, {2, 25}, {0, -10}, {-2, 25}, {-25, 25}}}
	for i, p := range []orb.Polygon{square, frame, notched} {
		for k, q := range []orb.Polygon{square, frame, notched} {
			a, b := sepTestBody(p, 0), sepTestBody(q, 0)
			for _, push := range []float64{-1, 0, 0.0035, 1} {
				for _, side := range [4][2]float64{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
					x, y := side[0]*(50-push), side[1]*(50-push)
					link := sepLink{sepTurnMatrix(Turn{}), x, y}
					got := max(sepPinned(a, b, link, 0), sepClash(a, b, link, 0)) > sepTouch
					want := geom.OverlapsBeyond(p, geom.TransformPolygon(q, geom.Pose{X: x, Y: y}), 1e-3)
					if got != want {
						t.Errorf("shapes %d and %d, pushed in by %g along %v: collision %v, overlap %v", i, k, push, side, got, want)
					}
				}
			}
		}
	}
}

func TestSeparateTurnsFreely(t *testing.T) {
	p := sepMixedProblem()
	for i := range p.Parts {
		p.Parts[i].FreeAngle = i != 1
	}
	for _, spacing := range []float64{0, 1} {
		p.Spacing = spacing
		r, err := Separate(context.Background(), p, Result{}, Options{Seed: 5, Effort: 0.6})
		if err != nil {
			t.Fatal(err)
		}
		sepCheckStrip(t, p, r)
		t.Logf("spacing %g: length %.3f, density %.4f, %d moves", spacing, r.Length, r.Density, r.Stats.Moves)
	}
}
