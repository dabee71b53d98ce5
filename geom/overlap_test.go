package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func poly(rings ...orb.Ring) orb.Polygon { return orb.Polygon(rings) }

func rect(x0, y0, x1, y1 float64) orb.Polygon { return poly(RectRing(x0, y0, x1, y1)) }

// socket is a 10 × 10 block with a 1 wide, 4 deep slot from the top.
var socket = poly(orb.Ring{{0, 0}, {10, 0}, {10, 10}, {6, 10}, {6, 6}, {5, 6}, {5, 10}, {0, 10}})

// frame is a 10 × 10 block with a 4 × 4 window.
var frame = poly(RectRing(0, 0, 10, 10), orb.Ring{{3, 3}, {3, 7}, {7, 7}, {7, 3}})

func TestInteriorsOverlapTable(t *testing.T) {
	tri := poly(orb.Ring{{0, 0}, {4, 0}, {0, 4}})
	for _, tc := range []struct {
		name string
		a, b orb.Polygon
		want bool
	}{
		{"apart", rect(0, 0, 1, 1), rect(2, 0, 3, 1), false},
		{"sharing an edge", rect(0, 0, 1, 1), rect(1, 0, 2, 1), false},
		{"sharing part of an edge", rect(0, 0, 1, 1), rect(1, 0.5, 2, 3), false},
		{"sharing a corner", rect(0, 0, 1, 1), rect(1, 1, 2, 2), false},
		{"one grid step deep", rect(0, 0, 1, 1), rect(1-Grid, 0, 2, 1), true},
		{"the same", rect(0, 0, 1, 1), rect(0, 0, 1, 1), true},
		{"the same, other corner first", socket, poly(append(socket[0][3:].Clone(), socket[0][:3]...)), true},
		{"one inside the other", rect(0, 0, 9, 9), rect(2, 2, 3, 3), true},
		{"one inside the other, along an edge", rect(0, 0, 9, 9), rect(0, 2, 3, 3), true},
		{"a cross: no corner inside", rect(0, 4, 10, 6), rect(4, 0, 6, 10), true},
		{"a cross with corners on edges", rect(0, 0, 10, 6), rect(4, 0, 6, 6), true},
		{"corner into an edge's middle", tri, poly(orb.Ring{{2, 2}, {6, 2}, {6, 6}}), false},
		{"peg in a slot, exact", socket, rect(5, 6, 6, 10), false},
		{"peg in a slot, half way", socket, rect(5, 8, 6, 12), false},
		{"peg in a slot, too deep", socket, rect(5, 6-Grid, 6, 9), true},
		{"peg in a slot, too wide", socket, rect(5, 7, 6+Grid, 9), true},
		{"block in a window, exact", frame, rect(3, 3, 7, 7), false},
		{"block in a window, loose", frame, rect(4, 4, 5, 5), false},
		{"block over a window", frame, rect(2, 2, 8, 8), true},
		{"block over a window, exact on the outside", frame, rect(0, 0, 10, 10), true},
		{"frame in a frame's window", frame, poly(RectRing(3, 3, 7, 7), RectRing(4, 4, 6, 6)), false},
		{"through a vertex, along a diagonal", poly(orb.Ring{{0, 0}, {2, -2}, {4, 0}, {2, 2}}), poly(orb.Ring{{4, 0}, {6, -2}, {8, 0}, {6, 2}}), false},
		{"through two vertices", poly(orb.Ring{{0, 0}, {2, -2}, {4, 0}, {2, 2}}), rect(2, -5, 9, 5), true},
		{"vertex on vertex, wedges interlock", poly(orb.Ring{{0, 0}, {5, 0}, {5, 5}, {0, 5}, {2, 2}}), poly(orb.Ring{{2, 2}, {0, 4}, {-1, 2}, {0, 1}}), false},
		{"vertex on vertex, wedges bite", poly(orb.Ring{{0, 0}, {5, 0}, {5, 5}, {0, 5}, {2, 2}}), poly(orb.Ring{{2, 2}, {0, 6}, {-1, 2}, {0, 1}}), true},
	} {
		if got := InteriorsOverlap(tc.a, tc.b); got != tc.want {
			t.Errorf("%s: got %v", tc.name, got)
		}
		if got := InteriorsOverlap(tc.b, tc.a); got != tc.want {
			t.Errorf("%s, swapped: got %v", tc.name, got)
		}
		if d := Distance(tc.a, tc.b); (d > 0) != (tc.name == "apart" || tc.name == "block in a window, loose") {
			t.Errorf("%s: distance %g", tc.name, d)
		}
	}
}

func TestWithinTable(t *testing.T) {
	for _, tc := range []struct {
		name string
		a, b orb.Polygon
		want bool
	}{
		{"the same", rect(0, 0, 1, 1), rect(0, 0, 1, 1), true},
		{"inside", rect(2, 2, 3, 3), rect(0, 0, 9, 9), true},
		{"along an edge", rect(0, 2, 3, 3), rect(0, 0, 9, 9), true},
		{"a grid step out", rect(-Grid, 2, 3, 3), rect(0, 0, 9, 9), false},
		{"beside a blocked zone", rect(0, 0, 3, 10), frame, true},
		{"around a blocked zone", rect(1, 1, 9, 9), frame, false},
		{"frame around a blocked zone", poly(RectRing(1, 1, 9, 9), RectRing(3, 3, 7, 7)), frame, true},
		{"in a blocked zone", rect(4, 4, 5, 5), frame, false},
		{"filling a blocked zone", rect(3, 3, 7, 7), frame, false},
		{"across a notch", rect(4, 7, 7, 9), socket, false},
	} {
		if got := Within(tc.a, tc.b); got != tc.want {
			t.Errorf("%s: got %v", tc.name, got)
		}
		if got := SticksOutBeyond(tc.a, tc.b, TouchTolerance); got == tc.want && tc.name != "a grid step out" {
			t.Errorf("%s: sticks out %v", tc.name, got)
		}
	}
}

func TestOverlapsBeyond(t *testing.T) {
	tri := poly(orb.Ring{{0, 0}, {4, 0}, {0, 4}})
	for _, tc := range []struct {
		name string
		a, b orb.Polygon
		tol  float64
		want bool
	}{
		{"touching", rect(0, 0, 1, 1), rect(1, 0, 2, 1), 0, false},
		{"sliver within tolerance", rect(0, 0, 1, 1), rect(0.99, 0, 2, 1), 0.011, false},
		{"sliver beyond tolerance", rect(0, 0, 1, 1), rect(0.98, 0, 2, 1), 0.011, true},
		{"corner within tolerance", rect(0, 0, 1, 1), rect(0.99, 0.99, 2, 2), 0.011, false},
		{"sharp corner beyond tolerance", rect(0, -5, 1, 5), poly(orb.Ring{{0.9, 0}, {3, -0.01}, {3, 0.01}}), 0.05, true},
		{"the same outline", rect(0, 0, 1, 1), rect(0, 0, 1, 1), 0.01, true},
		{"all but the same", tri, TranslatePolygon(tri, orb.Point{0.001, 0.001}), 0.01, true},
		{"too big for its window by a hair", frame, rect(2.999, 2.999, 7.001, 7.001), 0.01, false},
		{"filling the frame", frame, rect(0.001, 0.001, 9.999, 9.999), 0.01, true},
	} {
		if got := OverlapsBeyond(tc.a, tc.b, tc.tol); got != tc.want {
			t.Errorf("%s: got %v", tc.name, got)
		}
		if got := OverlapsBeyond(tc.b, tc.a, tc.tol); got != tc.want {
			t.Errorf("%s, swapped: got %v", tc.name, got)
		}
	}
}

func TestOverlapDepthAndArea(t *testing.T) {
	for _, tc := range []struct {
		name        string
		a, b        orb.Polygon
		depth, area float64
	}{
		{"apart", rect(0, 0, 1, 1), rect(2, 0, 3, 1), 0, 0},
		{"touching", rect(0, 0, 1, 1), rect(1, 0, 2, 1), 0, 0},
		{"edge into edge", rect(0, 0, 4, 4), rect(3.75, 1, 7, 3), 0.25, 0.5},
		{"corner into corner", rect(0, 0, 4, 4), rect(3, 3, 7, 7), 1, 1},
		{"the same disc", octagon, octagon, octagonApothem, PolygonArea(octagon)},
		{"swallowed", rect(0, 0, 10, 10), rect(4, 4, 6, 6), 5, 4},
	} {
		if d := OverlapDepth(tc.a, tc.b); math.Abs(d-tc.depth) > 0.01*tc.depth+Grid {
			t.Errorf("%s: depth %g, want %g", tc.name, d, tc.depth)
		}
		if a := OverlapArea(tc.a, tc.b); math.Abs(a-tc.area) > 1e-5 {
			t.Errorf("%s: area %g, want %g", tc.name, a, tc.area)
		}
	}
}

// octagon has corners at 1 mm from the origin.
var octagon = SnapPolygon(poly(orb.Ring{{1, 0}, {h, h}, {0, 1}, {-h, h}, {-1, 0}, {-h, -h}, {0, -1}, {h, -h}}))

const h = math.Sqrt2 / 2

var octagonApothem = math.Cos(math.Pi / 8)

// drawStar draws a simple, mostly concave polygon with small coordinates on a
// coarse lattice, where touching is common.
func drawStar(t *rapid.T, name string) orb.Polygon {
	n := rapid.IntRange(3, 9).Draw(t, name+" n")
	r := make(orb.Ring, 0, n)
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.3) / float64(n))
		m := rapid.Float64Range(1, 6).Draw(t, name+" r")
		r = append(r, orb.Point{math.Round(m * c), math.Round(m * s)})
	}
	p := NormalPolygon(poly(r))
	if len(p) == 0 || RingArea(p[0]) == 0 || !IsSimple(p) {
		return rect(0, 0, 2, 3)
	}
	return p
}

// Random points of the plane: one inside both means that interiors overlap.
func TestInteriorsOverlapAgainstSamples(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawStar(t, "a"), drawStar(t, "b")
		b = TranslatePolygon(b, orb.Point{float64(rapid.IntRange(-9, 9).Draw(t, "dx")), float64(rapid.IntRange(-9, 9).Draw(t, "dy"))})
		got := InteriorsOverlap(a, b)
		if got != InteriorsOverlap(b, a) {
			t.Fatal("not symmetric")
		}
		seen := false
		for range 3000 {
			p := orb.Point{rng.Float64()*14 - 7, rng.Float64()*14 - 7}
			if Locate(a, p) == Inside && Locate(b, p) == Inside {
				seen = true
				break
			}
		}
		if seen && !got {
			t.Fatalf("a point lies inside both %v and %v", a, b)
		}
		if area := sumArea(Intersection([]orb.Polygon{a}, []orb.Polygon{b})); got != (area > 0) {
			t.Fatalf("overlap %v, common area %g: %v and %v", got, area, a, b)
		}
	})
}

func sumArea(ps []orb.Polygon) float64 {
	sum := 0.0
	for _, p := range ps {
		sum += PolygonArea(p)
	}
	return sum
}

func TestIndexAgreesWithPlain(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 50 {
		p := randomStar(rng, 3+rng.IntN(200), 100)
		ix := NewIndex(p)
		for range 200 {
			q := orb.Point{rng.Float64()*220 - 110, rng.Float64()*220 - 110}
			if rng.IntN(4) == 0 {
				q = p[0][rng.IntN(len(p[0]))]
			}
			if a, b := ix.Locate(q), Locate(p, q); a != b {
				t.Fatalf("index locates %v at %d, plain at %d", q, a, b)
			}
			if a, b := ix.BoundaryDistance(q), BoundaryDistance(q, p); !near(a, b) {
				t.Fatalf("index distance %g, plain %g", a, b)
			}
		}
	}
}

// randomStar is a star-shaped polygon on the grid around the origin.
func randomStar(rng *rand.Rand, n int, size float64) orb.Polygon {
	r := make(orb.Ring, n)
	for i := range r {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.8*rng.Float64()) / float64(n))
		m := size * (0.4 + 0.6*rng.Float64())
		r[i] = SnapPoint(orb.Point{m * c, m * s})
	}
	return poly(r)
}

func TestDistanceAgainstSamples(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for range 200 {
		a, b := randomStar(rng, 3+rng.IntN(12), 10), randomStar(rng, 3+rng.IntN(12), 10)
		b = TranslatePolygon(b, orb.Point{Snap(rng.Float64()*40 - 20), Snap(rng.Float64()*40 - 20)})
		want := plainDistance(a, b)
		if got := Distance(a, b); !near(got, want) {
			t.Fatalf("distance %g, want %g", got, want)
		}
		if NewIndex(a).CloserThan(NewIndex(b), orb.Point{}, want+0.001) != true ||
			NewIndex(a).CloserThan(NewIndex(b), orb.Point{}, want-0.001) != false {
			t.Fatalf("closer than disagrees at %g", want)
		}
	}
}

// plainDistance compares every vertex with every edge, both ways.
func plainDistance(a, b orb.Polygon) float64 {
	if InteriorsOverlap(a, b) {
		return 0
	}
	best := math.Inf(1)
	for _, pair := range [][2]orb.Polygon{{a, b}, {b, a}} {
		for _, p := range pair[0][0] {
			best = math.Min(best, BoundaryDistance(p, pair[1]))
		}
	}
	return best
}

func BenchmarkNewIndex(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, n := range []int{8, 50, 1000} {
		p := randomStar(rng, n, 100)
		b.Run(itoa(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				NewIndex(p)
			}
		})
	}
}

func BenchmarkOverlaps(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, n := range []int{8, 50, 1000} {
		p, q := NewIndex(randomStar(rng, n, 100)), NewIndex(randomStar(rng, n, 100))
		for name, shift := range map[string]orb.Point{"grazing": {150, 0}, "deep": {60, 0}} {
			b.Run(name+"/"+itoa(n), func(b *testing.B) {
				for b.Loop() {
					p.Overlaps(q, shift)
				}
			})
		}
	}
}

func BenchmarkLocate(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, n := range []int{8, 50, 1000} {
		p := randomStar(rng, n, 100)
		ix := NewIndex(p)
		b.Run("plain/"+itoa(n), func(b *testing.B) {
			for b.Loop() {
				Locate(p, orb.Point{13, 17})
			}
		})
		b.Run("index/"+itoa(n), func(b *testing.B) {
			for b.Loop() {
				ix.Locate(orb.Point{13, 17})
			}
		})
	}
}
