package nest

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// A boundedProgram is what sepSimplex solves, in plain form.
type boundedProgram struct {
	a      [][]float64
	b      []float64
	lo, hi []float64
}

// randomProgram has x = 0 feasible; about a third of its rows are tight there,
// as pairs that touch are.
func randomProgram(rng *rand.Rand) boundedProgram {
	n, m := 2+rng.IntN(6), 1+rng.IntN(12)
	var p boundedProgram
	for j := range n {
		p.lo, p.hi = append(p.lo, -rng.Float64()), append(p.hi, rng.Float64())
		if rng.IntN(5) == 0 || j == n-1 {
			p.hi[j] = 0
		}
	}
	for range m {
		row := make([]float64, n)
		for j := range row {
			if rng.IntN(2) == 0 {
				row[j] = rng.NormFloat64()
			}
		}
		p.a = append(p.a, row)
		p.b = append(p.b, max(0, rng.Float64()*1.5-0.5))
	}
	return p
}

// reference minimises the last variable by gonum's simplex: with y = x − lo,
// A·y + s = b − A·lo and y + t = hi − lo.
func (p boundedProgram) reference(t *testing.T) float64 {
	n, m := len(p.lo), len(p.b)
	a := mat.NewDense(m+n, n+m+n, nil)
	b := make([]float64, m+n)
	for i, row := range p.a {
		b[i] = p.b[i]
		for j, v := range row {
			a.Set(i, j, v)
			b[i] -= v * p.lo[j]
		}
		a.Set(i, n+i, 1)
	}
	for j := range n {
		a.Set(m+j, j, 1)
		a.Set(m+j, n+m+j, 1)
		b[m+j] = p.hi[j] - p.lo[j]
	}
	c := make([]float64, n+m+n)
	c[n-1] = 1
	f, _, err := lp.Simplex(c, a, b, 1e-10, nil)
	if err != nil {
		t.Fatalf("reference: %v", err)
	}
	return f + p.lo[n-1]
}

func (p boundedProgram) solve() []float64 {
	var s sepSimplex
	n := len(p.lo)
	s.reset(n)
	for i, row := range p.a {
		copy(s.row(p.b[i]), row)
	}
	copy(s.lo, p.lo)
	copy(s.hi, p.hi)
	s.solve(1000)
	x := make([]float64, n)
	s.solution(x)
	return x
}

// TestSimplexAgainstLibrary compares the optimum of random programs with that of
// a general library, and looks whether the point keeps to every row and bound.
func TestSimplexAgainstLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 8))
	for k := range 500 {
		p := randomProgram(rng)
		x := p.solve()
		for i, row := range p.a {
			sum := 0.0
			for j, v := range row {
				sum += v * x[j]
			}
			if !(sum <= p.b[i]+1e-7) {
				t.Fatalf("program %d: row %d is %g, at most %g allowed", k, i, sum, p.b[i])
			}
		}
		for j, v := range x {
			if !(v >= p.lo[j]-1e-7 && v <= p.hi[j]+1e-7) {
				t.Fatalf("program %d: variable %d is %g, outside %g to %g", k, j, v, p.lo[j], p.hi[j])
			}
		}
		if want := p.reference(t); math.Abs(x[len(x)-1]-want) > 1e-6 {
			t.Fatalf("program %d: optimum %g, the library says %g", k, x[len(x)-1], want)
		}
	}
}

// TestSimplexStopsWhereNothingHolds: a column that no row holds, but for
// entries too small to pivot on, must not run off to infinity.
func TestSimplexStopsWhereNothingHolds(t *testing.T) {
	var s sepSimplex
	s.reset(2)
	copy(s.row(1), []float64{1e-9, 0})
	s.lo[0], s.hi[0] = 0, math.Inf(1)
	s.gain[0], s.gain[1] = 1, 0
	s.solve(10)
	x := make([]float64, 2)
	s.solution(x)
	if math.IsNaN(x[0]) || math.IsInf(x[0], 0) {
		t.Errorf("variable runs off to %g", x[0])
	}
}
