package week

import (
	"errors"
	"math"
	"slices"
)

// The master program is a linear program in few rows and many columns, solved
// over and over while columns are added and bounds tightened, and asked for the
// price of every row. The solver here is the revised simplex method with
// bounded variables and an explicit inverse of the basis (Dantzig 1955, "Upper
// bounds, secondary constraints, and block triangularity in linear
// programming"; the whole as in Chvátal 1983, "Linear Programming", chapters 7
// and 8). It starts from a basis its caller knows to be feasible, so there is
// no first phase. Dantzig's rule picks the entering column; after a run of
// steps that do not move, Bland's rule (1977, "New finite pivoting rules for
// the simplex method") takes over until one does, so it cannot cycle.
//
// gonum's simplex is the reference in the tests. It gives no prices of rows and
// takes no bounds, so each would have to be had from a second, larger program.

// A program is: minimise cost·x subject to Ax = right, 0 ≤ x ≤ upper.
type program struct {
	rows  int
	right []float64
	cols  []programColumn
	start []int // one column per row; their basis is feasible and diagonal
}

// A programColumn is one variable; its entries are by ascending row.
type programColumn struct {
	cost, upper float64
	entries     []entry
}

type entry struct {
	row   int
	value float64
}

// A programResult is an optimal solution and the price of every row.
type programResult struct {
	x      []float64
	prices []float64
	cost   float64
	steps  int
}

// Tolerances of the simplex method, relative to the largest cost and to
// right-hand sides that are counts.
const (
	simplexZero    = 1e-9  // a reduced cost or a step below it is none
	simplexPivot   = 1e-8  // least pivot
	simplexRefresh = 60    // steps after which the inverse is made anew
	simplexStalls  = 40    // steps without movement before Bland's rule
	simplexMost    = 20000 // steps; far beyond what a master takes
)

var (
	errUnbounded = errors.New("the linear program is unbounded")
	errSingular  = errors.New("the linear program's basis became singular")
	errStalled   = errors.New("the linear program took too many steps")
)

// A simplex is the state of the method.
type simplex struct {
	p       *program
	scale   float64 // largest cost
	basis   []int   // column of each row
	at      []int   // row of a basic column, atLower or atUpper otherwise
	inverse []float64
	value   []float64 // of the basic columns
	prices  []float64
	step    []float64 // the entering column in terms of the basis
	stalled int
	since   int // steps since the inverse was made anew
}

const (
	atLower = -1
	atUpper = -2
)

// solve finds an optimal solution.
func (p *program) solve() (programResult, error) {
	s := newSimplex(p)
	for n := 0; n < simplexMost; n++ {
		j, up := s.entering()
		if j < 0 {
			return s.result(n)
		}
		if err := s.enter(j, up); err != nil {
			return programResult{}, err
		}
		if s.since >= simplexRefresh {
			if err := s.refresh(); err != nil {
				return programResult{}, err
			}
		}
	}
	return programResult{}, errStalled
}

func newSimplex(p *program) *simplex {
	m := p.rows
	s := &simplex{
		p: p, basis: slices.Clone(p.start), at: make([]int, len(p.cols)), inverse: make([]float64, m*m),
		value: make([]float64, m), prices: make([]float64, m), step: make([]float64, m), scale: 1,
	}
	for j := range p.cols {
		s.at[j] = atLower
		s.scale = math.Max(s.scale, math.Abs(p.cols[j].cost))
	}
	for r, j := range s.basis {
		s.at[j] = r
		pivot := p.cols[j].entries[0].value
		s.inverse[r*m+r] = 1 / pivot
		s.value[r] = p.right[r] / pivot
	}
	return s
}

// entering picks the column to bring in, and whether it rises from its lower
// bound or falls from its upper one; -1 when none helps.
func (s *simplex) entering() (best int, up bool) {
	s.price()
	best = -1
	gain := simplexZero * s.scale
	for j := range s.p.cols {
		if s.at[j] >= 0 || s.p.cols[j].upper <= 0 {
			continue
		}
		d := s.reduced(j)
		if s.at[j] == atLower {
			d = -d
		}
		if d <= gain {
			continue
		}
		best, up, gain = j, s.at[j] == atLower, d
		if s.stalled > simplexStalls {
			break
		}
	}
	return best, up
}

// price works out the prices of the rows.
func (s *simplex) price() {
	m := s.p.rows
	zero(s.prices)
	for r, j := range s.basis {
		c := s.p.cols[j].cost
		if c == 0 {
			continue
		}
		for k, v := range s.inverse[r*m : r*m+m] {
			s.prices[k] += c * v
		}
	}
}

func (s *simplex) reduced(j int) float64 {
	d := s.p.cols[j].cost
	for _, e := range s.p.cols[j].entries {
		d -= s.prices[e.row] * e.value
	}
	return d
}

// enter brings a column into the basis, or moves it to its other bound.
func (s *simplex) enter(j int, up bool) error {
	m := s.p.rows
	for r := range s.step {
		v := 0.0
		for _, e := range s.p.cols[j].entries {
			v += s.inverse[r*m+e.row] * e.value
		}
		s.step[r] = v
	}
	row, length, toUpper := s.ratio(j, up)
	if math.IsInf(length, 1) {
		return errUnbounded
	}
	s.stalled++
	if length > simplexZero {
		s.stalled = 0
	}
	sign := 1.0
	if !up {
		sign = -1
	}
	for r := range s.value {
		s.value[r] -= sign * length * s.step[r]
	}
	if row < 0 {
		s.at[j] = map[bool]int{true: atUpper, false: atLower}[up]
		return nil
	}
	out := s.basis[row]
	s.at[out] = atLower
	if toUpper {
		s.at[out] = atUpper
	}
	from := 0.0
	if !up {
		from = s.p.cols[j].upper
	}
	s.basis[row], s.at[j], s.value[row] = j, row, from+sign*length
	s.pivot(row)
	return nil
}

// ratio finds how far the entering column can move and what stops it: the
// basic column of a row, at its upper bound or not, or row -1 for its own bound.
func (s *simplex) ratio(j int, up bool) (row int, length float64, toUpper bool) {
	row, length = -1, s.p.cols[j].upper
	size := 0.0
	for r, w := range s.step {
		if !up {
			w = -w
		}
		if math.Abs(w) < simplexPivot {
			continue
		}
		room, top := s.value[r], false
		if w < 0 {
			room, top = s.p.cols[s.basis[r]].upper-s.value[r], true
		}
		t := math.Max(0, room) / math.Abs(w)
		if t < length-simplexZero || t <= length+simplexZero && s.leavesBefore(r, row, math.Abs(w), size) {
			row, length, toUpper, size = r, math.Min(t, length), top, math.Abs(w)
		}
	}
	return row, length, toUpper
}

// leavesBefore breaks ties between rows: the larger pivot, under Bland's rule
// the smaller column.
func (s *simplex) leavesBefore(r, than int, size, thanSize float64) bool {
	if than < 0 {
		return true
	}
	if s.stalled > simplexStalls {
		return s.basis[r] < s.basis[than]
	}
	return size > thanSize
}

// pivot updates the inverse for the column whose steps are in s.step.
func (s *simplex) pivot(row int) {
	m := s.p.rows
	line := s.inverse[row*m : row*m+m]
	for k := range line {
		line[k] /= s.step[row]
	}
	for r, w := range s.step {
		if r == row || w == 0 {
			continue
		}
		other := s.inverse[r*m : r*m+m]
		for k, v := range line {
			other[k] -= w * v
		}
	}
	s.since++
}

// refresh makes the inverse and the values anew, which takes out what rounding
// has put in.
func (s *simplex) refresh() error {
	m := s.p.rows
	a := make([]float64, m*m)
	rest := slices.Clone(s.p.right)
	for c, j := range s.basis {
		for _, e := range s.p.cols[j].entries {
			a[e.row*m+c] = e.value
		}
	}
	for j := range s.p.cols {
		if s.at[j] == atUpper {
			for _, e := range s.p.cols[j].entries {
				rest[e.row] -= e.value * s.p.cols[j].upper
			}
		}
	}
	if !invert(a, s.inverse, m) {
		return errSingular
	}
	for r := range m {
		v := 0.0
		for k, x := range s.inverse[r*m : r*m+m] {
			v += x * rest[k]
		}
		s.value[r] = v
	}
	s.since = 0
	return nil
}

// invert writes the inverse of a, which it destroys, into out; false where
// there is none. Gauss and Jordan's method with row exchanges.
func invert(a, out []float64, m int) bool {
	zero(out)
	for r := range m {
		out[r*m+r] = 1
	}
	for c := range m {
		best := c
		for r := c + 1; r < m; r++ {
			if math.Abs(a[r*m+c]) > math.Abs(a[best*m+c]) {
				best = r
			}
		}
		if math.Abs(a[best*m+c]) < simplexPivot {
			return false
		}
		swapRows(a, best, c, m)
		swapRows(out, best, c, m)
		scale := 1 / a[c*m+c]
		for k := range m {
			a[c*m+k] *= scale
			out[c*m+k] *= scale
		}
		for r := range m {
			f := a[r*m+c]
			if r == c || f == 0 {
				continue
			}
			for k := range m {
				a[r*m+k] -= f * a[c*m+k]
				out[r*m+k] -= f * out[c*m+k]
			}
		}
	}
	return true
}

func zero(xs []float64) {
	for i := range xs {
		xs[i] = 0
	}
}

func swapRows(a []float64, i, j, m int) {
	if i == j {
		return
	}
	for k := range m {
		a[i*m+k], a[j*m+k] = a[j*m+k], a[i*m+k]
	}
}

// result reads the solution off a fresh inverse.
func (s *simplex) result(steps int) (programResult, error) {
	if s.since > 0 {
		if err := s.refresh(); err != nil {
			return programResult{}, err
		}
	}
	s.price()
	r := programResult{x: make([]float64, len(s.p.cols)), prices: slices.Clone(s.prices), steps: steps}
	for j := range s.p.cols {
		c := &s.p.cols[j]
		switch at := s.at[j]; {
		case at >= 0:
			r.x[j] = math.Min(math.Max(0, s.value[at]), c.upper)
		case at == atUpper:
			r.x[j] = c.upper
		}
		r.cost += c.cost * r.x[j]
	}
	return r, nil
}
