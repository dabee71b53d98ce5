package nest

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// tryPlan looks at another order in which to open the grounds, and keeps it as
// the walk keeps a neighbour. Only problems with sheets of several kinds have
// more than one.
func (w *walker) tryPlan(heat float64) {
	plan, ok := w.otherPlan()
	if !ok {
		return
	}
	limit := w.value - heat*math.Log(1-w.rng.Float64())
	was := w.dec.plan
	w.dec.setPlan(plan)
	if v := w.dec.decode(w.order, w.by, limit); v <= limit {
		w.value = v
		w.note()
		return
	}
	w.dec.setPlan(was)
}

// otherPlan exchanges a ground in use with a later one of another kind.
func (w *walker) otherPlan() ([]int32, bool) {
	used := max(1, w.dec.used)
	if used > len(w.dec.plan) {
		return nil, false
	}
	i := w.rng.IntN(used)
	var others []int
	for j := i + 1; j < len(w.dec.plan); j++ {
		if w.dec.plan[j] != w.dec.plan[i] && w.dec.plan[j] != w.dec.plan[j-1] {
			others = append(others, j)
		}
	}
	if len(others) == 0 {
		return nil, false
	}
	plan := slices.Clone(w.dec.plan)
	j := others[w.rng.IntN(len(others))]
	plan[i], plan[j] = plan[j], plan[i]
	return plan, true
}

// swapDown exchanges sheets for cheaper ones that hold the same copies, the
// last sheets first. The search rates the last sheet by how much of it is used;
// what is bought is whole.
func swapDown(ctx context.Context, pre *prepared, fits *fits, fields []*field) []*field {
	if len(pre.grounds) < 2 {
		return fields
	}
	free := freeGrounds(pre, fields)
	for i := len(fields) - 1; i >= 0 && ctx.Err() == nil; i-- {
		for _, g := range cheaperGrounds(pre, fields[i].ground, free) {
			if fd := fields[i].onto(fits, &pre.grounds[g]); fd != nil {
				free[g]--
				free[fields[i].ground.index]++
				fields[i] = fd
				break
			}
		}
	}
	return fields
}

// freeGrounds is how many of each ground are not in use.
func freeGrounds(pre *prepared, fields []*field) []int {
	free := make([]int, len(pre.grounds))
	for g := range pre.grounds {
		free[g] = pre.grounds[g].count
	}
	for _, fd := range fields {
		free[fd.ground.index]--
	}
	return free
}

// cheaperGrounds lists the free grounds that cost less than one, cheapest first.
func cheaperGrounds(pre *prepared, than *ground, free []int) []int {
	var list []int
	for g := range pre.grounds {
		if free[g] > 0 && pre.grounds[g].cost < than.cost {
			list = append(list, g)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(pre.grounds[a].cost, pre.grounds[b].cost) })
	return list
}

// onto lays a field's copies out on another ground: in the same order and
// turns, then by decreasing area in any turn. It returns nil when neither fits.
func (fd *field) onto(fits *fits, g *ground) *field {
	if fd.usedArea() > g.room {
		return nil
	}
	copies := slices.Clone(fd.placed)
	to := newField(fd.pre, fits, g, &clipper{})
	if to.placeAgain(copies, false) {
		return to
	}
	to.rollback(0)
	slices.SortStableFunc(copies, func(a, b spot) int {
		return cmp.Compare(fd.pre.kinds[b.kind].area, fd.pre.kinds[a.kind].area)
	})
	if to.placeAgain(copies, true) {
		return to
	}
	return nil
}

func (fd *field) placeAgain(copies []spot, anyTurn bool) bool {
	for _, c := range copies {
		if anyTurn {
			c.turn = AnyTurn
		}
		at, ok := fd.spot(c.kind, c.turn)
		if !ok {
			return false
		}
		fd.place(at)
	}
	return true
}
