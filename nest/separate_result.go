package nest

import (
	"context"
	"math"

	"kerfold/geom"
)

// pose turns an item's reference point into the pose of its part, on the grid.
func (s *sepStore) pose(form int32, x, y float64) geom.Pose {
	f := &s.forms[form]
	k := &s.kinds[f.kind]
	cx, cy := f.rot.apply(k.centre[0], k.centre[1])
	return geom.Pose{X: geom.Snap(x - cx), Y: geom.Snap(y - cy), AngleDeg: f.turn.AngleDeg, Mirror: f.turn.Mirror}
}

// place is the inverse of pose: the form and reference point of a placement.
func (s *sepStore) place(p Placement) (form int32, x, y float64, ok bool) {
	if p.Part < 0 || p.Part >= len(s.kinds) {
		return 0, 0, 0, false
	}
	k := &s.kinds[p.Part]
	for i := k.form0; i < k.form0+k.forms; i++ {
		f := &s.forms[i]
		if f.turn.Mirror != p.Pose.Mirror || math.Abs(f.turn.AngleDeg-geom.NormalDeg(p.Pose.AngleDeg)) > grainToleranceDeg {
			continue
		}
		cx, cy := f.rot.apply(k.centre[0], k.centre[1])
		return int32(i), p.Pose.X + cx, p.Pose.Y + cy, true
	}
	return 0, 0, 0, false
}

// placements lists a sheet's items as placements, in item order.
func (s *sepStore) placements(p *sepPlan, free int, sheet int32) []Placement {
	var out []Placement
	for i, f := range p.form[:free] {
		if p.sheet[i] == sheet {
			out = append(out, Placement{Part: s.kinds[s.forms[f].kind].part, Pose: s.pose(f, p.x[i], p.y[i])})
		}
	}
	return out
}

// adoptStart gives every lane the layout the caller began with, when it holds
// all the items in turns that are allowed and none collide.
func (s *sepSearch) adoptStart() bool {
	if len(s.start.Layouts) != 1 {
		return false
	}
	plan := s.lanes[0].clone()
	taken := map[int]int{}
	first := s.firstItems()
	for _, pl := range s.start.Layouts[0].Placements {
		form, x, y, ok := s.store.place(pl)
		if !ok || taken[pl.Part] >= s.problem.Parts[pl.Part].Quantity {
			return false
		}
		i := first[pl.Part] + taken[pl.Part]
		taken[pl.Part]++
		plan.form[i], plan.x[i], plan.y[i] = form, x, y
	}
	if len(s.start.Layouts[0].Placements) != len(plan.form) {
		return false
	}
	for _, l := range s.lanes {
		l.adopt(&plan)
		if l.loss() > 0 {
			return false
		}
		l.record()
	}
	return true
}

// firstItems maps a part's index to its first item.
func (s *sepSearch) firstItems() []int {
	first := make([]int, len(s.problem.Parts))
	at := 0
	for i, part := range s.problem.Parts {
		first[i] = at
		at += part.Quantity
	}
	return first
}

// result puts the best layout into the caller's terms.
func (s *sepSearch) result(ctx context.Context) Result {
	best := sepShortest(s.lanes)
	length := geom.Snap(best.length+geom.Grid/2) + s.problem.Margin
	r := Result{
		Layouts: []Layout{{Placements: s.store.placements(&best.best, best.free, 0)}},
		Length:  length,
		Density: s.area / (length * s.problem.StripWidth),
		Status:  sepStatus(ctx),
		Stats:   Stats{Seed: s.options.Seed, Effort: s.options.Effort, Won: "separation"},
	}
	for _, l := range s.lanes {
		r.Stats.Moves += l.mover.moves
	}
	return r
}
