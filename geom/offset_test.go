package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func TestOffsetTable(t *testing.T) {
	square := rect(0, 0, 10, 10)
	for _, tc := range []struct {
		name     string
		p        orb.Polygon
		d        float64
		polygons int
		area     float64 // of the true offset
	}{
		{"square grown", square, 2, 1, 100 + 80 + 4*math.Pi},
		{"square shrunk", square, -2, 1, 36},
		{"square shrunk to nothing", square, -5, 0, 0},
		{"square shrunk past nothing", square, -7, 0, 0},
		{"frame grown", frame, 1, 1, 100 + 40 + math.Pi - 4},
		{"frame grown shut", frame, 2, 1, 100 + 80 + 4*math.Pi},
		{"frame grown far past shut", frame, 9, 1, 100 + 360 + 81*math.Pi},
		{"frame shrunk", frame, -1, 1, 64 - 16 - 16 - math.Pi},
		{"frame shrunk to nothing", frame, -2, 0, 0},
		{"slot grown shut, two round corners over it", socket, 0.5, 1, 100 + 20 + 0.25*math.Pi - (0.5 - math.Pi/8)},
		{"dumbbell parts", poly(orb.Ring{{0, 0}, {4, 0}, {4, 1.5}, {6, 1.5}, {6, 0}, {10, 0}, {10, 4}, {6, 4}, {6, 2.5}, {4, 2.5}, {4, 4}, {0, 4}}), -1, 2, 8 + 4*(0.5-(0.5*math.Sqrt(0.75)+math.Pi/6)/2)},
	} {
		got := Offset(tc.p, tc.d, 0.001)
		area := sumArea(got)
		slack := 0.001 * (PolygonLength(tc.p) + 2*math.Pi*math.Abs(tc.d))
		tooBig, tooSmall := area > tc.area+slack, area < tc.area-slack
		if tc.d > 0 {
			tooSmall = area < tc.area-1e-9
		} else {
			tooBig = area > tc.area+1e-9
		}
		if len(got) != tc.polygons || tooBig || tooSmall {
			t.Errorf("%s: %d polygons of area %g, want %d of %g", tc.name, len(got), area, tc.polygons, tc.area)
		}
	}
}

// A sheet of round figures shrinks to round figures: exact fits stay exact.
func TestOffsetIsExactAlongAxes(t *testing.T) {
	got := Offset(rect(0, 0, 1000, 500), -10, 0.02)
	want := rect(10, 10, 990, 490)
	if len(got) != 1 || len(got[0]) != 1 || PolygonArea(got[0]) != PolygonArea(want) || Bounds(got[0]) != Bounds(want) {
		t.Errorf("got %v", got)
	}
	if b := Bounds(Offset(rect(0, 0, 100, 50), 2.5, 0.02)[0]); b != (orb.Bound{Min: orb.Point{-2.5, -2.5}, Max: orb.Point{102.5, 52.5}}) {
		t.Errorf("grown rectangle's box %v", b)
	}
}

// Sampled points: within d of the polygon means inside what grows, and inside
// what shrinks means at least d from the outside.
func TestOffsetStaysOnItsSide(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	for k := range 120 {
		p := starWithHole(rng)
		if k%3 == 0 {
			p = latticePolygon(rng)
		}
		size := Bounds(p).Max[0] - Bounds(p).Min[0]
		d := size * (0.01 + 0.2*rng.Float64())
		tol := d / 50
		grown, shrunk := NewIndexOf(Offset(p, d, tol)), NewIndexOf(Offset(p, -d, tol))
		b := Bounds(p)
		for range 400 {
			q := orb.Point{b.Min[0] - 2*d + rng.Float64()*(size+4*d), b.Min[1] - 2*d + rng.Float64()*(b.Max[1]-b.Min[1]+4*d)}
			checkOffsetPoint(t, p, q, d, tol, grown, shrunk)
		}
		for _, v := range p[0] { // points at the very rim of the true offset
			s, c := math.Sincos(rng.Float64() * 2 * math.Pi)
			checkOffsetPoint(t, p, orb.Point{v[0] + d*c, v[1] + d*s}, d, tol, grown, shrunk)
		}
	}
}

type indexes []*Index

// NewIndexOf indexes several polygons.
func NewIndexOf(ps []orb.Polygon) indexes {
	var s indexes
	for _, p := range ps {
		s = append(s, NewIndex(p))
	}
	return s
}

func (s indexes) holds(q orb.Point) bool {
	for _, ix := range s {
		if ix.Locate(q) != Outside {
			return true
		}
	}
	return false
}

func checkOffsetPoint(t *testing.T, p orb.Polygon, q orb.Point, d, tol float64, grown, shrunk indexes) {
	t.Helper()
	dist := BoundaryDistance(q, p)
	inside := Locate(p, q) != Outside
	if within := inside || dist <= d; within && !grown.holds(q) {
		t.Fatalf("%v lies within %g of the polygon but outside the grown one: %v", q, d, p)
	}
	if far := !inside && dist > d+tol+20*Grid; far && grown.holds(q) {
		t.Fatalf("%v lies %g from the polygon, inside the one grown by %g: %v", q, dist, d, p)
	}
	if deep := inside && dist >= d; !deep && shrunk.holds(q) {
		t.Fatalf("%v lies %g deep, inside the polygon shrunk by %g: %v", q, dist, d, p)
	}
	if deep := inside && dist > d+tol+20*Grid; deep && !shrunk.holds(q) {
		t.Fatalf("%v lies %g deep, outside the polygon shrunk by %g: %v", q, dist, d, p)
	}
}

// Growing more never gives less, and the results are simple.
func TestOffsetIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawStar(t, "p")
		d := rapid.Float64Range(0.01, 3).Draw(t, "d")
		last := sumArea(Offset(p, -3.1, 0.05))
		for _, by := range []float64{-d, -d / 2, 0, d / 2, d} {
			got := Offset(p, by, 0.05)
			for _, q := range got {
				if !IsSimple(q) {
					t.Fatalf("offset by %g is not simple: %v", by, q)
				}
			}
			area := sumArea(got)
			if area < last {
				t.Fatalf("offset by %g has area %g after %g", by, area, last)
			}
			last = area
		}
	})
}

// A sheet with a blocked zone keeps the clearance to it.
func TestOffsetHoldsClearance(t *testing.T) {
	p := poly(RectRing(0, 0, 100, 100), orb.Ring{{50, 20}, {30, 50}, {50, 80}, {70, 50}})
	for _, q := range Offset(p, -5, 0.02) {
		for _, r := range q {
			for _, v := range r {
				if d := BoundaryDistance(v, p); d < 5 {
					t.Errorf("%v keeps only %g", v, d)
				}
			}
		}
	}
}

func BenchmarkOffset(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, n := range []int{8, 50, 400} {
		p := randomStar(rng, n, 100)
		b.Run(itoa(n), func(b *testing.B) {
			for b.Loop() {
				Offset(p, 2, 0.02)
			}
		})
	}
}
