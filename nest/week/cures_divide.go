package week

import (
	"slices"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/nest/route"
)

// divided is a layout cut in two goes: the parts of some orders first, and the
// others when the sheets are back on the table. Each go loads and unloads.
func (t *task) divided(c *candidate, layout int, orders []string) []sheetPiece {
	urgent := func(part int) bool { return slices.Contains(orders, t.group.Parts[part].ID) }
	first := t.pieceOf(c, layout, urgent)
	first.piece = UrgentPiece
	later := t.pieceOf(c, layout, func(part int) bool { return !urgent(part) })
	later.piece, later.again = LaterPiece, true
	return []sheetPiece{first, later}
}

// pieceOf is the cutting of the parts wanted, in the order of the whole route.
// The head moves straight from one pierce to the next.
func (t *task) pieceOf(c *candidate, layout int, wanted func(part int) bool) sheetPiece {
	laid, r := &c.laid[layout], &c.routes[layout]
	p := sheetPiece{counts: make([]int, len(t.group.Parts))}
	for _, pl := range laid.placements {
		if wanted(pl.Part) {
			p.counts[pl.Part]++
			p.work.Parts++
		}
	}
	var before *route.Cut
	for i := range r.Cuts {
		cut := &r.Cuts[i]
		if !wanted(laid.placements[cut.Placement].Part) {
			continue
		}
		p.work.Strokes = append(p.work.Strokes, cost.Stroke{LeadIn: cut.LeadIn, Contour: cut.Contour, LeadOut: cut.LeadOut})
		if before != nil {
			p.work.RapidsMM = append(p.work.RapidsMM, chainLength([]orb.Point{before.Pierce, cut.Pierce}))
		}
		before = cut
	}
	return p
}
