package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// The fast rounding of a crossing agrees with rational arithmetic, near-parallel
// segments far out and crossings midway between grid points included.
func TestCrossingPointAgainstRational(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	crossings := 0
	for k := range 40000 {
		size := int64(1) << (2 + rng.IntN(40))
		pt := func() orb.Point {
			return orb.Point{float64(rng.Int64N(2*size)-size) * Grid, float64(rng.Int64N(2*size)-size) * Grid}
		}
		a, b := pt(), pt()
		c, d := pt(), pt()
		if k%3 == 0 { // all but along ab
			near := func(p orb.Point) orb.Point {
				return orb.Point{p[0] + float64(rng.IntN(7)-3)*Grid, p[1] + float64(rng.IntN(7)-3)*Grid}
			}
			c, d = near(a), near(b)
		}
		if RelateSegments(a, b, c, d) != Crossing {
			continue
		}
		crossings++
		if got, want := crossingPoint(a, b, c, d), crossingPointBig(a, b, c, d); got != want {
			t.Fatalf("%v %v × %v %v: %v, want %v", a, b, c, d, got, want)
		}
	}
	if crossings < 5000 {
		t.Errorf("only %d crossings", crossings)
	}
}

// meetsPixel agrees with a clip of the segment against the half-open pixel in
// whole numbers: coordinates are doubled so that the pixel's sides are whole.
func TestMeetsPixelAgainstClip(t *testing.T) {
	rng := rand.New(rand.NewPCG(35, 36))
	hits := 0
	for range 60000 {
		p := func() [2]int64 { return [2]int64{rng.Int64N(13) - 6, rng.Int64N(13) - 6} }
		a, b, c := p(), p(), p()
		if a == b {
			continue
		}
		g := func(q [2]int64) orb.Point { return orb.Point{float64(q[0]) * Grid, float64(q[1]) * Grid} }
		f := newFlow(g(a), g(b), 0)
		want := clipsPixel(a, b, c)
		if got := f.meetsPixel(g(c)); got != want {
			t.Fatalf("segment %v %v, pixel %v: %v, want %v", a, b, c, got, want)
		}
		if want {
			hits++
		}
	}
	if hits < 3000 {
		t.Errorf("only %d hits", hits)
	}
}

// clipsPixel reports whether the segment from a to b has a point in the pixel
// [c − ½, c + ½) on both axes, by intersecting ranges of its parameter kept as
// fractions.
func clipsPixel(a, b, c [2]int64) bool {
	lo, hi := fraction{0, 1}, fraction{1, 1}
	loOpen, hiOpen := false, false
	for k := range 2 {
		d := 2 * (b[k] - a[k])
		from, to := 2*c[k]-1-2*a[k], 2*c[k]+1-2*a[k] // from ≤ t·d < to
		if d == 0 {
			if from > 0 || to <= 0 {
				return false
			}
			continue
		}
		l, h, lOpen, hOpen := fraction{from, d}, fraction{to, d}, false, true
		if d < 0 {
			l, h, lOpen, hOpen = fraction{-to, -d}, fraction{-from, -d}, true, false
		}
		if s := l.compare(lo); s > 0 || s == 0 && lOpen {
			lo, loOpen = l, lOpen
		}
		if s := h.compare(hi); s < 0 || s == 0 && hOpen {
			hi, hiOpen = h, hOpen
		}
	}
	s := lo.compare(hi)
	return s < 0 || s == 0 && !loOpen && !hiOpen
}

type fraction struct{ num, den int64 }

func (f fraction) compare(g fraction) int {
	return int(math.Copysign(1, float64(f.num*g.den-g.num*f.den))) * min(1, int(abs64(f.num*g.den-g.num*f.den)))
}

func abs64(x int64) int64 { return max(x, -x) }
