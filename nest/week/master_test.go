package week

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// masterLike draws a program of the kind a master is, with many equal numbers,
// so that most of its corners are degenerate.
func masterLike(rng *rand.Rand) *program {
	rows, cols := 1+rng.IntN(8), 1+rng.IntN(20)
	p := &program{rows: rows}
	for range rows {
		p.right = append(p.right, float64(rng.IntN(4)*6))
	}
	for range cols {
		c := programColumn{cost: float64(1 + rng.IntN(5)), upper: math.Inf(1)}
		if rng.IntN(2) == 0 {
			c.upper = float64(rng.IntN(4))
		}
		for r := range rows {
			if rng.IntN(2) == 0 {
				c.entries = append(c.entries, entry{r, float64(1 + rng.IntN(3))})
			}
		}
		p.cols = append(p.cols, c)
	}
	for r := range rows {
		p.start = append(p.start, len(p.cols))
		p.cols = append(p.cols, programColumn{100, math.Inf(1), []entry{{r, 1}}},
			programColumn{float64(rng.IntN(2)), math.Inf(1), []entry{{r, -1}}})
	}
	return p
}

// The optimum is checked by itself: the solution is feasible, the prices are
// feasible for the dual program, and both cost the same. No other optimum can
// then be better.
func TestSimplexByDuality(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for n := range 2000 {
		p := masterLike(rng)
		r, err := p.solve()
		if err != nil {
			t.Fatalf("case %d: %v", n, err)
		}
		checkDuality(t, n, p, r)
	}
}

func checkDuality(t *testing.T, n int, p *program, r programResult) {
	t.Helper()
	const slack = 1e-6
	sum := make([]float64, p.rows)
	dual := 0.0
	for k, b := range p.right {
		dual += b * r.prices[k]
	}
	for j, c := range p.cols {
		if r.x[j] < 0 || r.x[j] > c.upper {
			t.Fatalf("case %d: variable %d is %v, its bounds 0 and %v", n, j, r.x[j], c.upper)
		}
		d := c.cost
		for _, e := range c.entries {
			sum[e.row] += e.value * r.x[j]
			d -= e.value * r.prices[e.row]
		}
		if d < -slack && math.IsInf(c.upper, 1) {
			t.Fatalf("case %d: variable %d would still lower the cost, by %v", n, j, d)
		}
		if d < 0 && !math.IsInf(c.upper, 1) {
			dual += d * c.upper // a bound has a price too
		}
	}
	for k, b := range p.right {
		if math.Abs(sum[k]-b) > slack {
			t.Fatalf("case %d: row %d adds up to %v, not %v", n, k, sum[k], b)
		}
	}
	if math.Abs(dual-r.cost) > slack*(1+math.Abs(r.cost)) {
		t.Fatalf("case %d: it costs %v, its dual %v", n, r.cost, dual)
	}
}

// gonum's simplex gives the same cost wherever it gives one at all.
func TestSimplexAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	compared, failed := 0, 0
	for n := range 400 {
		p := masterLike(rng)
		r, err := p.solve()
		if err != nil {
			t.Fatalf("case %d: %v", n, err)
		}
		want, err := byGonum(p)
		if err != nil {
			failed++
			continue
		}
		compared++
		if math.Abs(want-r.cost) > 1e-6*(1+math.Abs(want)) {
			t.Errorf("case %d: it costs %v, gonum says %v", n, r.cost, want)
		}
	}
	if compared < 200 {
		t.Errorf("only %d of 400 could be compared", compared)
	}
	t.Logf("gonum solved %d of %d", compared, compared+failed)
}

// byGonum poses a program the way gonum takes it: bounds become rows.
func byGonum(p *program) (cost float64, err error) {
	defer func() {
		if recover() != nil {
			err = errors.New("gonum gave up")
		}
	}()
	bounded := 0
	for _, c := range p.cols {
		if !math.IsInf(c.upper, 1) {
			bounded++
		}
	}
	a := mat.NewDense(p.rows+bounded, len(p.cols)+bounded, nil)
	right := append([]float64(nil), p.right...)
	costs := make([]float64, len(p.cols)+bounded)
	row := p.rows
	for j, c := range p.cols {
		costs[j] = c.cost
		for _, e := range c.entries {
			a.Set(e.row, j, e.value)
		}
		if !math.IsInf(c.upper, 1) {
			a.Set(row, j, 1)
			a.Set(row, len(p.cols)+row-p.rows, 1)
			right = append(right, c.upper)
			row++
		}
	}
	cost, _, err = lp.Simplex(costs, a, right, 1e-10, nil)
	return cost, err
}

func TestSimplexSaysWhatIsWrong(t *testing.T) {
	p := &program{
		rows: 1, right: []float64{1}, start: []int{0},
		cols: []programColumn{{1, math.Inf(1), []entry{{0, 1}}}, {-2, math.Inf(1), []entry{{0, -1}}}},
	}
	if _, err := p.solve(); !errors.Is(err, errUnbounded) {
		t.Errorf("error %v, want %v", err, errUnbounded)
	}
}

// A known program with ties everywhere: a transport of equal shares.
func TestSimplexOnManyRows(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	p := &program{rows: 60}
	for range p.rows {
		p.right = append(p.right, 50)
	}
	for range 400 {
		c := programColumn{cost: 10, upper: 30}
		for r := range p.rows {
			if rng.IntN(6) == 0 {
				c.entries = append(c.entries, entry{r, float64(1 + rng.IntN(4))})
			}
		}
		p.cols = append(p.cols, c)
	}
	for r := range p.rows {
		p.start = append(p.start, len(p.cols))
		p.cols = append(p.cols, programColumn{1000, math.Inf(1), []entry{{r, 1}}}, programColumn{0, math.Inf(1), []entry{{r, -1}}})
	}
	r, err := p.solve()
	if err != nil {
		t.Fatal(err)
	}
	checkDuality(t, 0, p, r)
}
