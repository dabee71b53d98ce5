package geom

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

func TestSimplifyOutwardHoldsTheInput(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 28))
	fewer := 0
	for k := range 300 {
		p := samplePolygon(rng, k)
		if k%7 == 0 {
			p = manyHoles(rng)
		}
		growth := []float64{0.001, 0.02, 0.2, 1}[k%4]
		q := SimplifyOutward(p, growth)
		if !Within(p, q) {
			t.Fatalf("case %d: the input sticks out\n%v\n%v", k, p, q)
		}
		if !IsSimple(q) || len(q) == 0 {
			t.Fatalf("case %d: not simple: %v", k, q)
		}
		if PolygonArea(q) > PolygonArea(p)*(1+growth)*(1+1e-9) {
			t.Fatalf("case %d: area %g from %g, growth %g", k, PolygonArea(q), PolygonArea(p), growth)
		}
		if vertices(q) > vertices(p) {
			t.Fatalf("case %d: %d vertices from %d", k, vertices(q), vertices(p))
		}
		if vertices(q) < vertices(p) {
			fewer++
		}
	}
	if fewer < 100 {
		t.Errorf("only %d of 300 polygons lost vertices", fewer)
	}
}

func vertices(p orb.Polygon) int {
	n := 0
	for _, r := range p {
		n += len(r)
	}
	return n
}

func TestSimplifyOutwardOfRoundParts(t *testing.T) {
	s := Shape{Outer: CircleContour(orb.Point{}, 100), Holes: []Contour{CircleContour(orb.Point{}, 40)}}
	fine := s.Flatten(0.0005, Outward)
	coarse := SimplifyOutward(fine, 0.005)
	if n, m := vertices(fine), vertices(coarse); n < 1000 || m > 80 {
		t.Errorf("%d vertices became %d", n, m)
	}
	if !Within(fine, coarse) {
		t.Error("the fine outline sticks out")
	}
	near := SimplifyOutwardWithin(fine, 1, 0.05)
	for _, r := range near {
		for _, v := range r {
			if d := BoundaryDistance(v, fine); d > 0.2 {
				t.Errorf("steps of 0.05 mm moved the outline by %g", d)
			}
		}
	}
}

func BenchmarkSimplifyOutward(b *testing.B) {
	fine := Shape{Outer: CircleContour(orb.Point{}, 100)}.Flatten(0.0005, Outward)
	b.ReportMetric(float64(len(fine[0])), "vertices")
	for b.Loop() {
		SimplifyOutward(fine, 0.01)
	}
}
