package nest

import (
	"math"
	"slices"
)

// A sepSimplex maximises the last variable's fall: it solves
//
//	maximise −x[n−1]  subject to  A·x ≤ b,  lo ≤ x ≤ hi
//
// from the feasible point x = 0, by the primal simplex method with bounded
// variables on a dense tableau (Dantzig 1963). A variable may start off both
// its bounds. Rows are few hundred, so a tableau that fits the cache beats
// sparse factors.
type sepSimplex struct {
	n, m   int
	lo, hi []float64
	t      []float64 // m × n: basic = value − t·(change of nonbasic)
	gain   []float64 // by column: gain per unit of its nonbasic variable
	value  []float64 // by row: value of its basic variable
	rest   []float64 // by column: value of its nonbasic variable
	basic  []int     // by row: its variable; n + row for a slack
	column []int     // by column: its variable
	work   int64     // tableau entries touched
}

// reset makes room for n variables and no rows.
func (s *sepSimplex) reset(n int) {
	s.n, s.m = n, 0
	s.t, s.value, s.basic = s.t[:0], s.value[:0], s.basic[:0]
	s.lo, s.hi = sepZeros(s.lo, n), sepZeros(s.hi, n)
	s.gain, s.rest = sepZeros(s.gain, n), sepZeros(s.rest, n)
	s.column = s.column[:0]
	for j := range n {
		s.column = append(s.column, j)
	}
	s.gain[n-1] = -1
	s.work = 0
}

func sepZeros(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// row appends a constraint with the right-hand side, to be filled in.
func (s *sepSimplex) row(b float64) []float64 {
	at := len(s.t)
	s.t = slices.Grow(s.t, s.n)[:at+s.n]
	clear(s.t[at:])
	s.work += int64(s.n)
	s.value = append(s.value, b)
	s.basic = append(s.basic, s.n+s.m)
	s.m++
	return s.t[at : at+s.n]
}

// solve runs until no column gains or limit pivots are done; the point is
// feasible throughout, so stopping early loses only length.
func (s *sepSimplex) solve(limit int) {
	for range limit {
		j, up := s.entering()
		if j < 0 {
			return
		}
		row, step := s.ratio(j, up)
		if math.IsInf(step, 1) {
			return // a slack that only rounding lets grow
		}
		s.advance(j, up*step)
		if row >= 0 {
			s.pivot(row, j)
		}
	}
}

// sepGain is the gain below which a column is not worth entering.
const sepGain = 1e-9

func (s *sepSimplex) entering() (col int, up float64) {
	best := sepGain
	col = -1
	for j, g := range s.gain {
		v := s.column[j]
		if g > best && (v >= s.n || s.rest[j] < s.hi[v]) {
			best, col, up = g, j, 1
		}
		if -g > best && s.rest[j] > s.low(v) {
			best, col, up = -g, j, -1
		}
	}
	return col, up
}

func (s *sepSimplex) low(v int) float64 {
	if v >= s.n {
		return 0 // a slack
	}
	return s.lo[v]
}

func (s *sepSimplex) high(v int) float64 {
	if v >= s.n {
		return math.Inf(1)
	}
	return s.hi[v]
}

// ratio finds how far the entering variable can go and which row stops it, −1
// for its own bound. Of rows that stop it alike, the largest pivot is chosen.
func (s *sepSimplex) ratio(j int, up float64) (row int, step float64) {
	v := s.column[j]
	row, step = -1, s.high(v)-s.rest[j]
	if up < 0 {
		step = s.rest[j] - s.low(v)
	}
	pivot := 0.0
	for i := range s.m {
		a := s.t[i*s.n+j] * up // the basic variable falls by a per unit
		if math.Abs(a) < sepPivot {
			continue
		}
		room := (s.value[i] - s.low(s.basic[i])) / a
		if a < 0 {
			room = (s.value[i] - s.high(s.basic[i])) / a
		}
		room = max(room, 0)
		if room < step*(1-sepGain) || (room <= step && math.Abs(a) > pivot) {
			row, step, pivot = i, min(step, room), math.Abs(a)
		}
	}
	return row, step
}

// sepPivot is the least size of a pivot.
const sepPivot = 1e-7

// advance moves the nonbasic variable of a column.
func (s *sepSimplex) advance(j int, delta float64) {
	s.rest[j] += delta
	for i := range s.m {
		s.value[i] -= delta * s.t[i*s.n+j]
	}
	s.work += int64(s.m)
}

// pivot exchanges the basic variable of a row with the nonbasic one of a column.
func (s *sepSimplex) pivot(r, j int) {
	n := s.n
	pr := s.t[r*n : r*n+n]
	inv := 1 / pr[j]
	for k := range pr {
		pr[k] *= inv
	}
	pr[j] = inv
	for i := range s.m {
		row := s.t[i*n : i*n+n]
		if f := row[j]; i != r && f != 0 {
			row[j] = 0
			sepSubtract(row, pr, f)
			s.work += int64(n)
		}
	}
	f := s.gain[j]
	s.gain[j] = 0
	sepSubtract(s.gain, pr, f)
	s.basic[r], s.column[j] = s.column[j], s.basic[r]
	s.value[r], s.rest[j] = s.rest[j], s.value[r]
}

func sepSubtract(row, pr []float64, f float64) {
	pr = pr[:len(row)]
	for k := range row {
		row[k] -= f * pr[k]
	}
}

// solution writes the values of the variables.
func (s *sepSimplex) solution(x []float64) {
	for j, v := range s.column {
		if v < s.n {
			x[v] = s.rest[j]
		}
	}
	for i, v := range s.basic {
		if v < s.n {
			x[v] = s.value[i]
		}
	}
}
