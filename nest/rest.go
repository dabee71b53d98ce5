package nest

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A Rest is the largest rectangle that a layout leaves of its sheet, for the rack:
// inside the sheet, off its blocked zones, and the spacing away from every part.
type Rest struct {
	Layout int       // index into Result.Layouts
	Box    orb.Bound // in the sheet's frame, millimetres; empty when there is none
}

// Area is the rectangle's, in mm².
func (r Rest) Area() float64 {
	return (r.Box.Max[0] - r.Box.Min[0]) * (r.Box.Max[1] - r.Box.Min[1])
}

// restSheets is how many of the least used sheets are looked at for the largest
// rest.
const restSheets = 2

// rest finds the largest rectangle that one of the least used sheets leaves.
func (r Result) rest(p Problem) Rest {
	if p.StripWidth > 0 {
		return Rest{}
	}
	order := make([]int, len(r.Layouts))
	free := make([]float64, len(r.Layouts))
	for i, l := range r.Layouts {
		order[i], free[i] = i, geom.PolygonArea(p.Sheets[l.Sheet].Outline)
		for _, pl := range l.Placements {
			free[i] -= geom.PolygonArea(p.Parts[pl.Part].Outline)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(free[b], free[a]) })
	var best Rest
	for _, i := range order[:min(len(order), restSheets)] {
		if box, ok := r.Layouts[i].freeRect(p); ok {
			if found := (Rest{Layout: i, Box: box}); found.Area() > best.Area() {
				best = found
			}
		}
	}
	return best
}

func (l Layout) freeRect(p Problem) (orb.Bound, bool) {
	parts := make([]orb.Polygon, len(l.Placements))
	for i, pl := range l.Placements {
		parts[i] = geom.TransformPolygon(p.Parts[pl.Part].Outline, pl.Pose)
	}
	return FreeRect(p.Sheets[l.Sheet].Outline, parts, p.Spacing, 0)
}

// bounded adds to a result what no plan for the copies it places could go below,
// by how much it is above that, and the rest it leaves.
func (r Result) bounded(pre *prepared, memo *Memo) Result {
	p := pre.problem
	counts := make([]int, len(p.Parts))
	for _, l := range r.Layouts {
		for _, pl := range l.Placements {
			if part := p.Parts[pl.Part]; !part.Filler && counts[pl.Part] < part.Quantity {
				counts[pl.Part]++
			}
		}
	}
	r.Bound = newBounder(pre, newFits(pre, memo), counts).bound()
	switch {
	case r.Bound.Length > 0:
		r.Gap = r.Length/r.Bound.Length - 1
	case r.Bound.Cost > 0:
		r.Gap = r.cost(p)/r.Bound.Cost - 1
	}
	r.Gap = max(0, r.Gap)
	r.Rest = r.rest(p)
	return r
}
