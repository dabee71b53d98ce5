package nest

import (
	"context"

	"kerfold/geom"
)

// pose turns an item's reference point into the pose of its part, on the grid.
func (s *sepStore) pose(form int32, angle, x, y float64) geom.Pose {
	f := &s.forms[form]
	k := &s.kinds[f.kind]
	rot, _ := s.lie(form, angle)
	cx, cy := rot.apply(k.centre[0], k.centre[1])
	if !f.free {
		angle = f.turn.AngleDeg
	}
	return geom.Pose{X: geom.Snap(x - cx), Y: geom.Snap(y - cy), AngleDeg: angle, Mirror: f.turn.Mirror}
}

// place is the inverse of pose: where a placement's item lies; ok is false when
// its turn is not one of the part's.
func (s *sepStore) place(p Placement) (at sepPick, ok bool) {
	if p.Part < 0 || p.Part >= len(s.kinds) || s.kinds[p.Part].zone {
		return at, false
	}
	k := &s.kinds[p.Part]
	angle := geom.NormalDeg(p.Pose.AngleDeg)
	for i := k.form0; i < k.form0+k.forms; i++ {
		f := &s.forms[i]
		if !f.is(angle, p.Pose.Mirror) {
			continue
		}
		rot := sepTurnMatrix(Turn{AngleDeg: angle, Mirror: p.Pose.Mirror})
		cx, cy := rot.apply(k.centre[0], k.centre[1])
		return sepPick{form: int32(i), angle: angle, x: p.Pose.X + cx, y: p.Pose.Y + cy}, true
	}
	return at, false
}

// placements lists a sheet's items as placements, in item order.
func (s *sepStore) placements(p *sepPlan, free int, sheet int32) []Placement {
	var out []Placement
	for i, f := range p.form[:free] {
		if p.sheet[i] == sheet {
			out = append(out, Placement{Part: s.kinds[s.forms[f].kind].part, Pose: s.pose(f, p.angle[i], p.x[i], p.y[i])})
		}
	}
	return out
}

// adoptStart gives every lane the layout the caller began with, when it holds
// all the items in turns that are allowed. Outlines that were simplified for the
// search may collide there a little and are separated first.
func (s *sepSearch) adoptStart(ctx context.Context) bool {
	if len(s.start.Layouts) != 1 {
		return false
	}
	plan := s.lanes[0].clone()
	taken := map[int]int{}
	first := s.firstItems()
	for _, pl := range s.start.Layouts[0].Placements {
		at, ok := s.store.place(pl)
		if !ok || taken[pl.Part] >= s.problem.Parts[pl.Part].Quantity {
			return false
		}
		i := first[pl.Part] + taken[pl.Part]
		taken[pl.Part]++
		plan.form[i], plan.angle[i], plan.x[i], plan.y[i] = at.form, at.angle, at.x, at.y
	}
	if len(s.start.Layouts[0].Placements) != len(plan.form) {
		return false
	}
	l := s.lanes[0]
	l.adopt(&plan)
	l.boxes[0].x1 = l.stripLength() + s.store.coarse
	for i := range l.free {
		l.confine(i)
	}
	l.measure()
	if l.loss() > 0 && !l.settle(ctx, sepClose) {
		return false
	}
	l.record()
	return s.allHave()
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
	if len(s.start.Layouts) == 1 && s.start.Length > 0 && s.start.Length <= r.Length {
		s.start.Status = r.Status
		return s.start
	}
	return r
}
