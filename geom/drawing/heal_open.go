package drawing

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// reportOpen drops open chains that are mere specks, and reports the others
// with the gaps that may have been meant to close.
func (h *healer) reportOpen() {
	h.open = slices.DeleteFunc(h.open, func(c piece) bool {
		if c.length() >= ShortLength {
			return false
		}
		h.found(Finding{
			Kind: Speck, Level: Note, At: c.verts[0].P, HasAt: true,
			Text: "a loose piece shorter than " + mm(ShortLength) + " was dropped",
		}, c.from, c.layer)
		return true
	})
	at := func(i int) orb.Point {
		vs := h.open[i/2].verts
		return vs[(i%2)*(len(vs)-1)].P
	}
	for _, g := range nearestPairs(2*len(h.open), at, h.suggest(), func(_, _ int) bool { return true }) {
		c := &h.open[g.a/2]
		h.found(Finding{
			Kind: GapSuggested, Level: Suspect, At: midpoint(at(g.a), at(g.b)), HasAt: true,
			Text: "two ends lie " + mm(g.width) + " apart: close the gap in the drawing, or allow joins of " + mm(roundUp(g.width)),
		}, c.from, c.layer)
	}
	for i := range h.open {
		c := &h.open[i]
		h.found(Finding{
			Kind: OpenChain, Level: Problem, At: c.middle(), HasAt: true,
			Text: "a chain of " + mm(c.length()) + " from " + place(c.verts[0].P) + " to " + place(c.verts[len(c.verts)-1].P) + " does not close; it is no contour that can be cut out",
		}, c.from, c.layer)
	}
}

// roundUp returns the next larger length with one digit.
func roundUp(v float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(v)))
	return math.Ceil(v/step+1e-9) * step
}

// closeChains closes chains whose own two ends lie close together and far from
// other loose ends.
func (h *healer) closeChains() {
	ends := newPointIndex(h.selfClose(), 2*len(h.open))
	for _, c := range h.open {
		ends.add(c.verts[0].P)
		ends.add(c.verts[len(c.verts)-1].P)
	}
	var still []piece
	for i := range h.open {
		c := &h.open[i]
		a, b := c.verts[0].P, c.verts[len(c.verts)-1].P
		width := dist(a, b)
		if width > h.selfClose() || c.length() < 20*width || !alone(ends, a, 2*i) {
			still = append(still, *c)
			continue
		}
		h.loops = append(h.loops, loop{closeUp(c.verts, h.together()), c.from, c.layer})
		h.found(Finding{
			Kind: GapClosed, Level: Suspect, At: midpoint(a, b), HasAt: true,
			Text: "a chain ends " + mm(width) + " from where it begins; it was closed",
		}, c.from, c.layer)
	}
	h.open = still
}

// alone reports whether the ends 2k and 2k+1 of a chain are the only ones near
// p.
func alone(ends *pointIndex, p orb.Point, first int) bool {
	only := true
	ends.near(p, ends.reach, func(i int) bool {
		only = i == first || i == first+1
		return only
	})
	return only
}

// closeUp makes a closed contour of a chain: ends within tol become one point,
// wider gaps a straight piece.
func closeUp(vs []vertex, tol float64) []vertex {
	a, b := vs[0].P, vs[len(vs)-1].P
	if dist(a, b) > tol {
		out := slices.Clone(vs)
		out[len(out)-1].Bulge = 0
		return out
	}
	out := slices.Clone(vs[:len(vs)-1])
	out[0].P = midpoint(a, b)
	return out
}
