package nest

import (
	"context"
	"slices"
)

// The core of a problem is what has to be placed: the wanted copies without
// fillers and without copies beyond the order. Searches that move everything at
// once take the core only, so that what is merely welcome never stands in the
// way of saving a sheet; it is filled in at the end.

// core is the problem with nothing but wanted parts. On a strip, where every
// part that fits at all finds room, those that do not fit are left out too.
func (p Problem) core(fits func(part int) bool) Problem {
	p.Parts = slices.Clone(p.Parts)
	for i := range p.Parts {
		part := &p.Parts[i]
		part.Extra = 0
		if part.Filler || (p.StripWidth > 0 && part.Quantity > 0 && !fits(i)) {
			part.Quantity = 0
		}
	}
	return p
}

// core is a result's layouts without what is welcome: of a part placed more
// often than it is wanted the last copies go.
func (r Result) core(p Problem) Result {
	left := make([]int, len(p.Parts))
	for i, part := range p.Parts {
		left[i] = part.Quantity
		if part.Filler {
			left[i] = 0
		}
	}
	r.Layouts = slices.Clone(r.Layouts)
	for i := range r.Layouts {
		var kept []Placement
		for _, pl := range r.Layouts[i].Placements {
			if pl.Part >= 0 && pl.Part < len(left) && left[pl.Part] > 0 {
				left[pl.Part]--
				kept = append(kept, pl)
			}
		}
		r.Layouts[i].Placements = kept
	}
	return r
}

// covers tells whether a result holds all copies that are wanted.
func (r Result) covers(core Problem) bool {
	n := 0
	for _, l := range r.Layouts {
		n += len(l.Placements)
	}
	for _, part := range core.Parts {
		n -= part.Quantity
	}
	return n == 0
}

// welcome tells whether the problem has parts that may be placed and need not.
func (p Problem) welcome() bool {
	return slices.ContainsFunc(p.Parts, func(part Part) bool {
		return part.Extra > 0 || part.Filler && part.Quantity > 0
	})
}

// completed fills a result of the core up with what is welcome, and says what
// is missing. Everything else of the result stays as it is.
func (r Result) completed(ctx context.Context, p Problem, memo *Memo) (Result, error) {
	if p.StripWidth > 0 && len(r.Layouts) == 0 {
		r.Layouts = []Layout{{}}
	}
	pre, err := prepareAround(p, r.Layouts)
	if err != nil {
		return Result{}, err
	}
	if p.welcome() {
		r.topUp(ctx, pre, newFits(pre, memo))
	}
	status := r.Status
	r.Unplaced, r.Warnings, r.Status = nil, nil, Finished
	if r = r.settle(pre); r.Status == Finished && status != Infeasible {
		r.Status = status
	}
	return r, nil
}

// topUp fills the layouts up.
func (r *Result) topUp(ctx context.Context, pre *prepared, fits *fits) {
	rest := newLeftovers(pre, demandOf(pre.problem, pre.kinds))
	for i := range r.Layouts {
		if !rest.some() || ctx.Err() != nil {
			break
		}
		fd := pre.fieldOf(fits, r.Layouts[i])
		rest.fill(fd)
		r.Layouts[i] = fd.layout()
	}
	bought := pre.problem.StripWidth * r.Length
	if pre.problem.StripWidth == 0 {
		bought = boughtArea(pre, r.Layouts)
	}
	if bought > 0 {
		r.Density = placedArea(pre, r.Layouts) / bought
	}
}

// fieldOf is a field with a layout on it; pre was prepared around the layout.
func (pre *prepared) fieldOf(fits *fits, l Layout) *field {
	fd := newField(pre, fits, &pre.grounds[l.Sheet], &clipper{})
	for _, pl := range l.Placements {
		fd.place(pre.kinds[pl.Part].spot(int32(pl.Part), pl))
	}
	return fd
}

func boughtArea(pre *prepared, layouts []Layout) float64 {
	sum := 0.0
	for _, l := range layouts {
		sum += pre.grounds[l.Sheet].area
	}
	return sum
}
