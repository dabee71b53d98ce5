package nest

import (
	"context"
	"slices"
)

// sepJigsawShare is the share of what the caller allows that goes into a layout
// without waste, where the areas allow one: nothing else saves as much.
const sepJigsawShare = 0.6

// sepJigsawWork is how many lookups a step of the search for it counts for.
const sepJigsawWork = 10

// withoutWaste looks for a layout without waste where the parts' area is a whole
// number of sheets. It returns one; or, where it finds only some sheets full,
// those with the rest laid by bottom-left; or nothing.
func sepWithoutWaste(ctx context.Context, p Problem, store *sepStore, o Options, meter *sepMeter) (r Result, whole bool) {
	j, ok := sepNewJigsaw(p, store, o.Seed)
	if !ok {
		return Result{}, false
	}
	whole = j.solve(ctx, meter)
	for _, sheet := range j.best {
		r.Layouts = append(r.Layouts, j.layout(sheet))
	}
	if whole || len(r.Layouts) == 0 {
		return r, whole
	}
	tail, err := BottomLeft(ctx, j.remaining(p), nil, Options{Seed: o.Seed, Effort: 1, Workers: o.Workers})
	if err != nil || len(tail.Unplaced) > 0 {
		return Result{}, false
	}
	r.Layouts = append(r.Layouts, tail.Layouts...)
	return r, false
}

func (j *sepJigsaw) layout(sheet []sepLaid) Layout {
	var out Layout
	for _, o := range sheet {
		part := j.store.kinds[j.store.forms[o.form].kind].part
		out.Placements = append(out.Placements, Placement{Part: part, Pose: j.store.pose(o.form, 0, o.x, o.y)})
	}
	return out
}

// remaining is the problem without what lies on the best full sheets.
func (j *sepJigsaw) remaining(p Problem) Problem {
	p.Parts, p.Sheets = slices.Clone(p.Parts), slices.Clone(p.Sheets)
	for _, sheet := range j.best {
		p.Sheets[0].Count--
		for _, o := range sheet {
			p.Parts[j.store.kinds[j.store.forms[o.form].kind].part].Quantity--
		}
	}
	return p
}
