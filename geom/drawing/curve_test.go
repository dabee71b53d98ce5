package drawing

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// basis is the B-spline basis function N(i, p) by its recursive definition
// (Cox–de Boor), slow and plain.
func basis(i, p int, t float64, k []float64) float64 {
	if p == 0 {
		if k[i] <= t && t < k[i+1] {
			return 1
		}
		return 0
	}
	sum := 0.0
	if d := k[i+p] - k[i]; d > 0 {
		sum += (t - k[i]) / d * basis(i, p-1, t, k)
	}
	if d := k[i+p+1] - k[i+1]; d > 0 {
		sum += (k[i+p+1] - t) / d * basis(i+1, p-1, t, k)
	}
	return sum
}

func randomNURBS(rng *rand.Rand) nurbs {
	degree := 1 + rng.IntN(5)
	n := degree + 1 + rng.IntN(8)
	knots := make([]float64, n+degree+1)
	for i := 1; i < len(knots); i++ {
		knots[i] = knots[i-1]
		if i > degree && i <= n && rng.IntN(5) > 0 {
			knots[i] += 0.1 + rng.Float64()
		}
	}
	knots[n]++ // at least one span
	for i := n + 1; i < len(knots); i++ {
		knots[i] = knots[n]
	}
	var weights []float64
	pts := make([]orb.Point, n)
	rational := rng.IntN(2) == 0
	for i := range pts {
		pts[i] = orb.Point{100 * rng.Float64(), 100 * rng.Float64()}
		if rational {
			weights = append(weights, 0.2+2*rng.Float64())
		}
	}
	c, ok := newNURBS(degree, knots, pts, weights)
	if !ok { // a knot came up too often
		return randomNURBS(rng)
	}
	return c
}

// The quick evaluation agrees with the definition, and its derivative with
// differences.
func TestNURBSAgainstDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 9))
		c := randomNURBS(rng)
		i := rng.IntN(c.spans())
		from, to := c.span(i)
		u := from + (to-from)*(0.05+0.9*rng.Float64())
		p, d := c.eval(i, u)
		var want orb.Point
		w := 0.0
		for k, q := range c.points {
			b := basis(k, c.degree, u, c.knots)
			if c.weights != nil {
				b *= c.weights[k]
			}
			want[0], want[1], w = want[0]+b*q[0], want[1]+b*q[1], w+b
		}
		want = orb.Point{want[0] / w, want[1] / w}
		if dist(p, want) > 1e-9 {
			t.Fatalf("point %v, want %v", p, want)
		}
		h := (to - from) * 1e-6
		a, _ := c.eval(i, u-h)
		b, _ := c.eval(i, u+h)
		slope := orb.Point{(b[0] - a[0]) / (2 * h), (b[1] - a[1]) / (2 * h)}
		if dist(d, slope) > 1e-3*(1+dist(orb.Point{}, d)) {
			t.Fatalf("derivative %v, want about %v", d, slope)
		}
	})
}

// Fitted arcs stay within the tolerance of the curve, both ways, follow one
// another without gaps, and end where the curve ends.
func TestFitStaysWithinTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 10))
		var c curve = randomNURBS(rng)
		if rng.IntN(3) == 0 {
			c = conic{orb.Point{5, 5}, orb.Point{80 * rng.Float64(), 20}, orb.Point{-3, 1 + 30*rng.Float64()}, 6 * rng.Float64(), 0.1 + 6*rng.Float64()}
		}
		f := fitter{tol: CurveTolerance, left: 1 << 20}
		segs := f.arcs(nil, c)
		var dense []orb.Point
		for i := range c.spans() {
			from, to := c.span(i)
			for k := range 40 {
				p, _ := c.eval(i, from+(to-from)*float64(k)/40)
				dense = append(dense, p)
			}
		}
		_, to := c.span(c.spans() - 1)
		last, _ := c.eval(c.spans()-1, to)
		dense = append(dense, last)
		if dist(segs[0].a, dense[0]) > 1e-9 || dist(segs[len(segs)-1].b, last) > 1e-9 {
			t.Fatalf("runs from %v to %v, want %v to %v", segs[0].a, segs[len(segs)-1].b, dense[0], last)
		}
		for i := 1; i < len(segs); i++ {
			if segs[i].a != segs[i-1].b {
				t.Fatalf("gap of %v before segment %d", dist(segs[i].a, segs[i-1].b), i)
			}
		}
		for _, p := range dense {
			best := math.Inf(1)
			for _, s := range segs {
				best = min(best, s.distance(p))
			}
			if best > 1.05*CurveTolerance {
				t.Fatalf("curve is %v mm from the arcs at %v", best, p)
			}
		}
		for _, s := range segs {
			limit := 1.05 * CurveTolerance
			if s.length() < 10*CurveTolerance { // in a hairpin as small as the tolerance
				limit = 2 * CurveTolerance
			}
			d := curveDistance(c, s.middle(), 40)
			if d > limit { // perhaps a branch was missed
				d = curveDistance(c, s.middle(), 4000)
			}
			if d > limit {
				t.Fatalf("arc %v is %v mm from the curve", s, d)
			}
		}
	})
}

// curveDistance is the distance from a point to a curve: around every sample
// that is nearer than its neighbours, of n in each span, the nearest place is
// searched for.
func curveDistance(c curve, q orb.Point, n float64) float64 {
	best := math.Inf(1)
	for i := range c.spans() {
		from, to := c.span(i)
		at := func(k float64) float64 {
			p, _ := c.eval(i, from+(to-from)*k/n)
			return dist(p, q)
		}
		before := math.Inf(1)
		here := at(0)
		for k := 0.0; k <= n; k++ {
			after := math.Inf(1)
			if k < n {
				after = at(k + 1)
			}
			if here <= before && here <= after {
				best = min(best, least(at, max(0, k-1), min(n, k+1)))
			}
			before, here = here, after
		}
	}
	return best
}

// least is the smallest value of a function that falls and then rises.
func least(f func(float64) float64, lo, hi float64) float64 {
	for range 50 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if f(a) < f(b) {
			hi = b
		} else {
			lo = a
		}
	}
	return f((lo + hi) / 2)
}

// The curve through points passes through them with one slope and one
// curvature on both sides.
func TestThroughIsSmooth(t *testing.T) {
	pts := []orb.Point{{0, 0}, {10, 5}, {20, -3}, {25, 10}, {40, 0}}
	for _, dirs := range [][2]orb.Point{{}, {{0, 1}, {3, -3}}} {
		c := through(pts, dirs[0], dirs[1])
		if len(c) != len(pts)-1 {
			t.Fatalf("%d pieces, want %d", len(c), len(pts)-1)
		}
		for i := range c {
			if c[i][0] != pts[i] || c[i][3] != pts[i+1] {
				t.Errorf("piece %d runs from %v to %v", i, c[i][0], c[i][3])
			}
		}
		for i := 1; i < len(c); i++ {
			h0, h1 := dist(pts[i-1], pts[i]), dist(pts[i], pts[i+1])
			_, d0 := c[i-1].eval(1)
			_, d1 := c[i].eval(0)
			second := func(c cubic, k, i0, i1, i2 int) float64 { return 6 * (c[i0][k] - 2*c[i1][k] + c[i2][k]) }
			for k := range 2 {
				if math.Abs(d0[k]/h0-d1[k]/h1) > 1e-9 {
					t.Errorf("slope jumps at point %d: %v, %v", i, d0[k]/h0, d1[k]/h1)
				}
				if a, b := second(c[i-1], k, 1, 2, 3)/(h0*h0), second(c[i], k, 0, 1, 2)/(h1*h1); math.Abs(a-b) > 1e-9 {
					t.Errorf("curvature jumps at point %d: %v, %v", i, a, b)
				}
			}
		}
	}
}

// Splines that are none are told.
func TestNURBSRefuses(t *testing.T) {
	pts := make([]orb.Point, 4)
	for _, c := range []struct {
		why     string
		degree  int
		knots   []float64
		weights []float64
	}{
		{"degree 0", 0, nil, nil},
		{"degree beyond use", 16, nil, nil},
		{"too few points", 4, nil, nil},
		{"too few knots", 3, []float64{0, 0, 0, 1, 1}, nil},
		{"knots fall", 3, []float64{0, 0, 0, 1, 0, 1, 1, 1}, nil},
		{"no span", 3, make([]float64, 8), nil},
		{"a weight of 0", 3, nil, []float64{1, 0, 1, 1}},
		{"too few weights", 3, nil, []float64{1}},
	} {
		if _, ok := newNURBS(c.degree, c.knots, pts, c.weights); ok {
			t.Errorf("%s is accepted", c.why)
		}
	}
}
