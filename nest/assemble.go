package nest

import (
	"context"
	"errors"
	"fmt"

	"kerfold/geom"
)

// layout reports what lies on a field.
func (fd *field) layout() Layout {
	l := Layout{Sheet: fd.ground.sheet, Placements: make([]Placement, len(fd.placed))}
	for i, s := range fd.placed {
		t := fd.pre.kinds[s.kind].turns[s.turn]
		l.Placements[i] = Placement{Part: int(s.kind), Pose: t.pose(s.x, s.y)}
	}
	return l
}

// reach is the right end of what lies on a field, 0 when nothing does.
func (fd *field) reach() float64 {
	end := 0.0
	for _, s := range fd.placed {
		end = max(end, s.x+fd.pre.shapes[s.shape].w)
	}
	return end
}

func layoutsOf(fields []*field) []Layout {
	layouts := make([]Layout, len(fields))
	for i, fd := range fields {
		layouts[i] = fd.layout()
	}
	return layouts
}

// stripResult reports a strip; fields holds its one field, or nothing when
// nothing was placed.
func stripResult(pre *prepared, fields []*field) Result {
	r := Result{Layouts: []Layout{{}}}
	if len(fields) > 0 {
		r.Layouts = layoutsOf(fields)
		r.Length = fields[0].reach() + pre.grounds[0].margin
		r.Density = placedArea(pre, r.Layouts) / (pre.problem.StripWidth * r.Length)
	}
	return r.settle(pre)
}

// sheetsResult reports layouts on sheets.
func sheetsResult(pre *prepared, layouts []Layout) Result {
	r := Result{Layouts: layouts}
	bought := 0.0
	for _, l := range layouts {
		bought += pre.grounds[l.Sheet].area
	}
	if bought > 0 {
		r.Density = placedArea(pre, layouts) / bought
	}
	return r.settle(pre)
}

func placedArea(pre *prepared, layouts []Layout) float64 {
	area := 0.0
	for _, l := range layouts {
		for _, p := range l.Placements {
			area += pre.kinds[p.Part].area
		}
	}
	return area
}

// settle counts what is missing and says so.
func (r Result) settle(pre *prepared) Result {
	placed := make([]int, len(pre.kinds))
	for _, l := range r.Layouts {
		for _, p := range l.Placements {
			placed[p.Part]++
		}
	}
	for i, part := range pre.problem.Parts {
		missing := part.Quantity - placed[i]
		if missing <= 0 || part.Filler {
			continue
		}
		if r.Unplaced == nil {
			r.Unplaced = map[int]int{}
		}
		r.Unplaced[i] = missing
		r.Status = Infeasible
		r.Warnings = append(r.Warnings, missingWarning(pre, i, missing))
	}
	return r
}

func missingWarning(pre *prepared, part, missing int) string {
	id := pre.problem.Parts[part].ID
	if len(pre.problem.Turns(part)) == 0 {
		return fmt.Sprintf("part %q: none of its turns lays its grain along that of anything there is, %d not placed; allow such a turn, or take its grain away", id, missing)
	}
	if !fitsSomewhere(pre, part) {
		return fmt.Sprintf("part %q fits on nothing there is in any of its turns, %d not placed; allow other turns or add a larger sheet", id, missing)
	}
	return fmt.Sprintf("part %q: no room was found for %d; add sheets", id, missing)
}

// fitsSomewhere tells whether a part alone fits on one of the grounds.
func fitsSomewhere(pre *prepared, part int) bool {
	return len(newFits(pre, nil).usable(part)) > 0
}

// ended is the status of a search that has a complete layout.
func (r Result) ended(ctx context.Context) Result {
	if r.Status == Infeasible {
		return r
	}
	switch {
	case ctx.Err() == nil:
	case errors.Is(ctx.Err(), context.DeadlineExceeded):
		r.Status = Limit
	default:
		r.Status = Cancelled
	}
	return r
}

// cost is what the sheets of a result cost, by area where no sheet has a cost.
func (r Result) cost(p Problem) float64 {
	priced := false
	for _, s := range p.Sheets {
		priced = priced || s.Cost > 0
	}
	sum := 0.0
	for _, l := range r.Layouts {
		if s := p.Sheets[l.Sheet]; priced {
			sum += s.Cost
		} else {
			sum += geom.PolygonArea(s.Outline)
		}
	}
	return sum
}
