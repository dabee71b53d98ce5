package nest

import (
	"math"

	"kerfold/geom"
)

// Coverage is the areas, in mm², that a bound counts with.
type Coverage struct {
	// Parts is, by part, what a copy and half the spacing round it take of the sheets
	// for sure when all wanted copies are summed, less what its holes take off them;
	// 0 where it is not wanted or fits nowhere. The sum holds for fewer copies too.
	Parts []float64
	// Sheets is, by sheet, what parts and half the spacing round them may cover.
	Sheets []float64

	margin, spacing float64
	claims          []claim // that prove what parts take
	weights         []float64
}

func (b *bounder) coverage() Coverage {
	p := b.pre.problem
	c := Coverage{Sheets: make([]float64, len(p.Sheets)), margin: p.Margin, spacing: p.Spacing}
	all, total := groundSet(0), 0.0
	for i, m := range b.mask {
		all |= m
		total += float64(b.counts[i]) * b.area[i]
	}
	proof := b.proof(all)
	c.Parts, c.claims, c.weights = b.area, proof.claims[:1], []float64{1}
	if room, each := proof.best(); room > total {
		c.Parts, c.claims, c.weights = each, proof.claims, proof.weights
	}
	for g, room := range b.room {
		if ground := &b.pre.grounds[g]; !ground.strip {
			c.Sheets[ground.sheet] = room
		}
	}
	return c
}

// Rect is what a rectangle of that size takes of a sheet for sure, counted like
// Parts, where it is kept clear of parts by the spacing; into the margin it may
// reach. Its area counts, and where discs do, as many of the smallest as fill it in
// rows: parts beside it and they could cover no more than discs can.
func (c *Coverage) Rect(width, height float64) float64 {
	off := 2*c.margin - c.spacing + 2*geom.TouchTolerance
	w, h := width-off, height-off
	if w <= 0 || h <= 0 {
		return 0
	}
	sum := 0.0
	for k, weight := range c.weights {
		switch l := &c.claims[k]; {
		case weight == 0:
		case l.least == 0:
			sum += weight * max(0, w*h-(4-math.Pi)*c.spacing*c.spacing/4)
		default:
			sum += weight * float64(discsInRect(w, h, l.least)) * math.Pi * l.least * l.least / l.share
		}
	}
	return sum
}

// discsInRect is how many equal discs rows of them lay in a rectangle, square to
// each other or staggered.
func discsInRect(w, h, radius float64) int {
	square := int(w/(2*radius)) * int(h/(2*radius))
	return max(square, staggered(w, h, radius), staggered(h, w, radius))
}

// staggered counts rows along the first side, every other one half a disc on.
func staggered(along, across, radius float64) int {
	if across < 2*radius {
		return 0
	}
	rows := 1 + int((across-2*radius)/(math.Sqrt(3)*radius))
	full, between := int(along/(2*radius)), int(max(0, along-radius)/(2*radius))
	return (rows+1)/2*full + rows/2*between
}
