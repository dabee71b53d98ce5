package geom

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// orientReference is the textbook determinant in rational arithmetic.
func orientReference(a, b, c orb.Point) int {
	r := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
	m := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Mul(x, y) }
	d := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Sub(x, y) }
	bx, by := d(r(b[0]), r(a[0])), d(r(b[1]), r(a[1]))
	cx, cy := d(r(c[0]), r(a[0])), d(r(c[1]), r(a[1]))
	return m(bx, cy).Cmp(m(by, cx))
}

func TestOrientTable(t *testing.T) {
	for _, tc := range []struct {
		name    string
		a, b, c orb.Point
		want    int
	}{
		{"left", orb.Point{0, 0}, orb.Point{1, 0}, orb.Point{0, 1}, 1},
		{"right", orb.Point{0, 0}, orb.Point{1, 0}, orb.Point{0, -1}, -1},
		{"behind on the line", orb.Point{0, 0}, orb.Point{1, 1}, orb.Point{-3, -3}, 0},
		{"one step of the last bit above a long diagonal", orb.Point{12, 12}, orb.Point{24, 24}, orb.Point{0.5, math.Nextafter(0.5, 1)}, 1},
		{"products underflow", orb.Point{0, 0}, orb.Point{1e-200, 1e-200}, orb.Point{1e-200, 2e-200}, 1},
		{"products overflow", orb.Point{0, 0}, orb.Point{1e300, 1e300}, orb.Point{1e300, 1e299}, -1},
		{"differences overflow", orb.Point{-1.7e308, 0}, orb.Point{1.7e308, 0}, orb.Point{0, 5e-324}, 1},
		{"differences inexact", orb.Point{1e16, 1}, orb.Point{-1e16, -1}, orb.Point{0.25, 0}, 1},
		{"not finite", orb.Point{math.NaN(), 0}, orb.Point{1, 0}, orb.Point{0, 1}, 0},
	} {
		if got := Orient(tc.a, tc.b, tc.c); got != tc.want {
			t.Errorf("%s: got %d, want %d", tc.name, got, tc.want)
		}
	}
}

// Points near a line, where the fast filter cannot decide.
func TestOrientNearLine(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	zero := 0
	for range 20000 {
		scale := math.Ldexp(1, rng.IntN(60)-30)
		a := orb.Point{rng.NormFloat64() * scale, rng.NormFloat64()}
		b := orb.Point{rng.NormFloat64(), rng.NormFloat64() * scale}
		s := float64(rng.IntN(9)-4) / 4
		c := orb.Point{a[0] + s*(b[0]-a[0]), a[1] + s*(b[1]-a[1])}
		c[rng.IntN(2)] += float64(rng.IntN(3)-1) * 1e-16 * scale
		want := orientReference(a, b, c)
		if got := Orient(a, b, c); got != want {
			t.Fatalf("Orient(%v, %v, %v) = %d, want %d", a, b, c, got, want)
		}
		if want == 0 {
			zero++
		}
	}
	if zero == 0 {
		t.Error("no collinear triple among the samples: the exact path was not tried")
	}
}

func TestCrossSignGrid(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 20000 {
		k := int64(1) << (1 + rng.IntN(41))
		p := func() float64 { return float64(rng.Int64N(2*k)-k) * Grid }
		x1, y1, x2, y2 := p(), p(), p(), p()
		if rng.IntN(2) == 0 { // parallel, or off by one step
			f := float64(rng.IntN(5) - 2)
			x2, y2 = x1*f, y1*f+float64(rng.IntN(2))*Grid
		}
		want := orientReference(orb.Point{}, orb.Point{x1, y1}, orb.Point{x2, y2})
		if got := crossSign(x1, y1, x2, y2); got != want {
			t.Fatalf("crossSign(%v, %v, %v, %v) = %d, want %d", x1, y1, x2, y2, got, want)
		}
	}
}

func FuzzOrient(f *testing.F) {
	f.Add(0.0, 0.0, 1.0, 1.0, 0.5, 0.5)
	f.Add(12.0, 12.0, 24.0, 24.0, 0.5, 0.5000000000000001)
	f.Add(1e-320, 0.0, 0.0, 1e-320, 1e300, -1e300)
	f.Fuzz(func(t *testing.T, ax, ay, bx, by, cx, cy float64) {
		a, b, c := orb.Point{ax, ay}, orb.Point{bx, by}, orb.Point{cx, cy}
		if !finite(a) || !finite(b) || !finite(c) {
			Orient(a, b, c)
			return
		}
		if got, want := Orient(a, b, c), orientReference(a, b, c); got != want {
			t.Errorf("Orient(%v, %v, %v) = %d, want %d", a, b, c, got, want)
		}
		if Orient(b, a, c) != -Orient(a, b, c) || Orient(b, c, a) != Orient(a, b, c) {
			t.Errorf("Orient(%v, %v, %v) is not antisymmetric", a, b, c)
		}
	})
}

func BenchmarkOrient(b *testing.B) {
	p, q, r := orb.Point{0, 0}, orb.Point{1000.5, 333.25}, orb.Point{500.25, 166.625}
	s := orb.Point{500, 170}
	b.Run("filter", func(b *testing.B) {
		for b.Loop() {
			Orient(p, q, s)
		}
	})
	b.Run("collinear", func(b *testing.B) {
		for b.Loop() {
			Orient(p, q, r)
		}
	})
}
