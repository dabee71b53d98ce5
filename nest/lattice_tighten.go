package nest

import (
	"math"

	"github.com/paulmach/orb"
)

// Tightening shrinks a cell while its copies stay apart. The area of the cell is
// bilinear and the half-planes that keep copies apart are linear in the basis
// and the places of the copies, so each step solves the linear program of small
// changes, as in the compaction of layouts, and halves the step when that leads
// nowhere. It ends in a cell that no small change can improve.

// A latTightener is the scratch of tightening.
type latTightener struct {
	lp sepSimplex
	x  []float64
}

const (
	latFirstStep = 0.2  // of the radius
	latLastStep  = 1e-9 // of the radius
	latSteps     = 200
	latPivots    = 200
)

// tighten shrinks the cell as far as small steps can.
func (t *latTightener) tighten(c *latCell) {
	step := latFirstStep * c.radius
	c.reduce()
	for n := 0; n < latSteps && step > latLastStep*c.radius; n++ {
		next := t.step(c, step)
		if gain := 1 - next.size()/c.size(); gain <= 0 || !next.legal() {
			step /= 4
		} else {
			*c = next
			if gain < 1e-6 {
				step /= 4
			}
		}
	}
}

// step solves the program of changes of at most the step in every coordinate:
// variables 0–1 are the change of u, 2–3 of v, then two for every copy but the
// first, and the last is the change of the area.
func (t *latTightener) step(c *latCell, step float64) latCell {
	n := 4 + 2*(len(c.at)-1) + 1
	t.lp.reset(n)
	for k := range n - 1 {
		t.lp.lo[k], t.lp.hi[k] = -step, step
	}
	switch c.rows {
	case latLevel:
		t.lp.lo[1], t.lp.hi[1] = 0, 0
	case latUpright:
		t.lp.lo[0], t.lp.hi[0] = 0, 0
	}
	t.lp.lo[n-1] = -c.size()
	row := t.lp.row(0)
	row[0], row[1] = c.v[1], -c.v[0] // du × v
	row[2], row[3] = -c.u[1], c.u[0] // u × dv
	row[n-1] = -1
	c.pairs(8*step, func(p latPair) { t.keepApart(c, p, step) })
	t.lp.solve(latPivots)
	t.x = sepZeros(t.x, n)
	t.lp.solution(t.x)
	next := c.clone()
	next.u = orb.Point{c.u[0] + t.x[0], c.u[1] + t.x[1]}
	next.v = orb.Point{c.v[0] + t.x[2], c.v[1] + t.x[3]}
	for k := 1; k < len(c.at); k++ {
		next.at[k] = orb.Point{c.at[k][0] + t.x[2+2*k], c.at[k][1] + t.x[3+2*k]}
	}
	next.reduce()
	return next
}

// keepApart adds a row for every convex sum that the pair could come to overlap.
func (t *latTightener) keepApart(c *latCell, p latPair, step float64) {
	far := (math.Abs(p.i) + math.Abs(p.j) + 2) * step * math.Sqrt2
	sums := c.sums[p.a][p.b]
	for k := range sums {
		if !sums[k].meets(p.w, c.gap+far) {
			continue
		}
		h, nx, ny := sums[k].beyond(p.w[0], p.w[1], c.gap)
		h -= c.gap
		if h > far {
			continue
		}
		row := t.lp.row(max(0, h))
		row[0], row[1] = -p.i*nx, -p.i*ny
		row[2], row[3] = -p.j*nx, -p.j*ny
		if p.b > 0 {
			row[2+2*p.b] -= nx
			row[3+2*p.b] -= ny
		}
		if p.a > 0 {
			row[2+2*p.a] += nx
			row[3+2*p.a] += ny
		}
	}
}
