package nest

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"
)

// latStarts is how many random cells of each motif are tightened per copy in
// it.
const latStarts = 60

// latLoosest is how wide, in radii, a random cell is opened before it shrinks.
const latLoosest = 6.0

// latSearch tightens random cells of a motif and returns the densest, and others
// nearly as dense: at the edges of a sheet one of those may do better.
func latSearch(ctx context.Context, m *latMotif, rows latRows, rng *rand.Rand, starts int) []latCell {
	var t latTightener
	var found []latCell
	for n := range starts {
		if n > 0 && ctx.Err() != nil {
			break
		}
		c := latRandom(m, rows, rng)
		t.tighten(&c)
		found = append(found, c)
	}
	latSort(found)
	var kept []latCell
	for _, c := range found {
		if len(kept) == latPerMotif || c.density() < found[0].density()*latNearly {
			break
		}
		if !slices.ContainsFunc(kept, func(k latCell) bool { return k.like(&c) }) {
			kept = append(kept, c)
		}
	}
	return kept
}

const (
	latPerMotif = 4    // cells of one motif that are kept
	latNearly   = 0.97 // of the densest's density, at least
)

// like tells whether two cells of a motif are about the same lattice.
func (c *latCell) like(d *latCell) bool {
	near := func(a, b orb.Point) bool {
		return math.Hypot(a[0]-b[0], a[1]-b[1]) < c.radius/50 || math.Hypot(a[0]+b[0], a[1]+b[1]) < c.radius/50
	}
	return near(c.u, d.u) && near(c.v, d.v) || near(c.u, d.v) && near(c.v, d.u)
}

// latRandom makes a random cell and shrinks it until copies touch.
func latRandom(m *latMotif, rows latRows, rng *rand.Rand) latCell {
	n := float64(len(m.turns))
	turn := rng.Float64() * 2 * math.Pi
	lean := (60 + 60*rng.Float64()) * math.Pi / 180
	ratio := math.Exp(rng.NormFloat64() * 0.5)
	width := latLoosest * (m.radius + m.gap) * math.Sqrt(n)
	switch rows {
	case latLevel:
		turn = 0
	case latUpright:
		turn = math.Pi / 2
	}
	c := latCell{latMotif: m, rows: rows}
	su, cu := math.Sincos(turn)
	sv, cv := math.Sincos(turn + lean)
	c.u = orb.Point{cu * width * ratio, su * width * ratio}
	c.v = orb.Point{cv * width / ratio, sv * width / ratio}
	switch rows { // exactly
	case latLevel:
		c.u[1] = 0
	case latUpright:
		c.u[0] = 0
	}
	c.at = []orb.Point{{0, 0}}
	for len(c.at) < len(m.turns) {
		a, b := rng.Float64(), rng.Float64()
		c.at = append(c.at, orb.Point{a*c.u[0] + b*c.v[0], a*c.u[1] + b*c.v[1]})
	}
	return c.shrunk()
}

// shrunk scales the cell down to where copies all but touch; copies that fall
// on each other first make it wider.
func (c latCell) shrunk() latCell {
	hi := 1.0
	for wide := c.scaled(hi); !wide.legal() && hi < 1e6; wide = c.scaled(hi) {
		hi *= 2
	}
	lo := 0.0
	for range 20 {
		mid := (lo + hi) / 2
		if s := c.scaled(mid); s.size() > 0 && s.legal() {
			hi = mid
		} else {
			lo = mid
		}
	}
	return c.scaled(hi)
}

func (c *latCell) scaled(f float64) latCell {
	d := c.clone()
	d.u = orb.Point{c.u[0] * f, c.u[1] * f}
	d.v = orb.Point{c.v[0] * f, c.v[1] * f}
	for k, p := range c.at {
		d.at[k] = orb.Point{p[0] * f, p[1] * f}
	}
	d.reduce()
	return d
}
