package nest

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A latCell is a motif of copies of one outline and the lattice that repeats
// it: copy k lies turned by its own turn with the reference point at
// at[k] + i·u + j·v.
type latCell struct {
	u, v orb.Point
	at   []orb.Point // at[0] is the origin
	rows latRows
	*latMotif
}

// A latRows says how a cell's first vector must run: freely, or so that the
// lattice lies in straight rows along an edge of the sheet. Such a lattice may be
// looser than the densest and still leave less at the rim.
type latRows int

const (
	latAnyhow  latRows = iota
	latLevel           // u runs along x
	latUpright         // u runs along y
)

// A latMotif is what a motif's cells have in common: the turns of its copies
// and the no-fit regions of every two of them.
type latMotif struct {
	turns  []Turn
	sums   [][][]sepSum // [a][b]: b moving around a
	radius float64      // of the disc about the reference point that holds a copy
	area   float64      // of one copy
	gap    float64
}

// latNewMotif prepares a motif of an outline that is centred on its reference
// point.
func latNewMotif(k *sepKind, turns []Turn, gap float64) *latMotif {
	m := &latMotif{turns: turns, area: k.area, gap: gap}
	for _, p := range k.hull {
		m.radius = max(m.radius, math.Hypot(p[0], p[1]))
	}
	turned := make([][]orb.Ring, len(turns))
	for i, t := range turns {
		turned[i] = sepTurned(k.pieces, sepTurnMatrix(t))
	}
	for i := range turns {
		var row [][]sepSum
		for j := range turns {
			row = append(row, sepSums(turned[i], turned[j]))
		}
		m.sums = append(m.sums, row)
	}
	return m
}

func (c *latCell) clone() latCell {
	d := *c
	d.at = append([]orb.Point(nil), c.at...)
	return d
}

// size is the area of the cell; density the share of it that is covered.
func (c *latCell) size() float64    { return math.Abs(latCross(c.u, c.v)) }
func (c *latCell) density() float64 { return float64(len(c.at)) * c.area / c.size() }

func latCross(a, b orb.Point) float64 { return a[0]*b[1] - a[1]*b[0] }
func latDot(a, b orb.Point) float64   { return a[0]*b[0] + a[1]*b[1] }

// reduce replaces the basis by the shortest one of the same lattice (Lagrange
// and Gauss), positively turned, and brings the copies near the origin. Rows
// that must keep their direction keep their vector, and only the other is
// shortened.
func (c *latCell) reduce() {
	if c.rows == latAnyhow {
		c.shorten()
	} else if uu := latDot(c.u, c.u); uu > 0 {
		k := math.Round(latDot(c.u, c.v) / uu)
		c.v = orb.Point{c.v[0] - k*c.u[0], c.v[1] - k*c.u[1]}
	}
	c.gather()
}

// shorten finds the shortest basis.
func (c *latCell) shorten() {
	if latDot(c.v, c.v) < latDot(c.u, c.u) {
		c.u, c.v = c.v, c.u
	}
	for range latReductions {
		if latDot(c.u, c.u) == 0 {
			return // flat; not legal anyway
		}
		k := math.Round(latDot(c.u, c.v) / latDot(c.u, c.u))
		c.v = orb.Point{c.v[0] - k*c.u[0], c.v[1] - k*c.u[1]}
		if latDot(c.v, c.v) >= latDot(c.u, c.u)*(1-1e-12) {
			break
		}
		c.u, c.v = c.v, c.u
	}
}

// gather turns the basis positively and brings the copies near the origin.
func (c *latCell) gather() {
	if latCross(c.u, c.v) < 0 {
		c.v = orb.Point{-c.v[0], -c.v[1]}
	}
	det := latCross(c.u, c.v)
	if det == 0 {
		return // flat; not legal anyway
	}
	for k := range c.at {
		p := c.at[k]
		i, j := math.Round(latCross(p, c.v)/det), math.Round(latCross(c.u, p)/det)
		c.at[k] = orb.Point{p[0] - i*c.u[0] - j*c.v[0], p[1] - i*c.u[1] - j*c.v[1]}
	}
}

// latReductions bounds the steps of a reduction; each shortens a vector to less
// than nine tenths but for the last few.
const latReductions = 256

// A latPair is two copies, one in the cell at the origin and one in cell (i, j),
// and where the second's reference point is from the first's.
type latPair struct {
	a, b int
	i, j float64
	w    orb.Point
}

// pairs visits every pair of copies that are nearer than reach beyond touching,
// each once, in a reduced basis.
func (c *latCell) pairs(reach float64, visit func(p latPair)) {
	most := 2*c.radius + c.gap + reach
	// The lattice point i·u + j·v is at least |j|·height and |i|·height' away, and
	// copies lie within a cell of the origin.
	det := c.size()
	if det < c.area*latFlat {
		return
	}
	ni := int(most*math.Hypot(c.v[0], c.v[1])/det) + 2
	nj := int(most*math.Hypot(c.u[0], c.u[1])/det) + 2
	for a := range c.at {
		for b := a; b < len(c.at); b++ {
			for j := -nj; j <= nj; j++ {
				for i := -ni; i <= ni; i++ {
					if a == b && (j < 0 || (j == 0 && i <= 0)) {
						continue
					}
					fi, fj := float64(i), float64(j)
					w := orb.Point{
						fi*c.u[0] + fj*c.v[0] + c.at[b][0] - c.at[a][0],
						fi*c.u[1] + fj*c.v[1] + c.at[b][1] - c.at[a][1],
					}
					if w[0]*w[0]+w[1]*w[1] < most*most {
						visit(latPair{a, b, fi, fj, w})
					}
				}
			}
		}
	}
}

// latSlack is how deep copies may run together from rounding.
const latSlack = geom.Grid / 4

// latFlat forgives rounding of a cell that is covered in full.
const latFlat = 1e-6

// legal reports whether no two copies overlap or come nearer than the gap.
func (c *latCell) legal() bool {
	if !(c.size() >= float64(len(c.at))*c.area*(1-latFlat)) {
		return false // the copies cannot fit
	}
	ok := true
	c.pairs(0, func(p latPair) {
		if ok && !c.apart(p) {
			ok = false
		}
	})
	return ok
}

func (c *latCell) apart(p latPair) bool {
	sums := c.sums[p.a][p.b]
	for k := range sums {
		if !sums[k].meets(p.w, c.gap) {
			continue
		}
		if h, _, _ := sums[k].beyond(p.w[0], p.w[1], c.gap); h < c.gap-latSlack {
			return false
		}
	}
	return true
}

// meets reports whether the point is in the sum's box grown by the gap.
func (s *sepSum) meets(w orb.Point, gap float64) bool {
	return w[0] > s.x0-gap && w[0] < s.x1+gap && w[1] > s.y0-gap && w[1] < s.y1+gap
}
