package week

import (
	"context"
	"fmt"

	"kerfold/nest"
)

// A k-th of the demand seldom fits a sheet to the last part, and where it does
// not, laying it out takes a second sheet k times over. So one sheet is filled
// with as much of a k-th as goes on it, cut k times and stacked, and what is left
// over is laid out on what else there is: on remnants, if they have room.

// mostFoldKinds bounds the kinds of sheet filled in this way.
const mostFoldKinds = 2

// foldFills lists these ways, given how many sheets the direct one takes.
func (t *task) foldFills(sheets int, fill valueLayer) []plannedWay {
	var out []plannedWay
	kinds := t.repeatableKinds()
	for _, s := range kinds[:min(mostFoldKinds, len(kinds))] {
		for k := 2; k <= min(sheets+1, t.group.Sheets[s].Count, t.mostWanted(), mostFolds); k++ {
			if !t.fraction(k, false).empty() {
				out = append(out, t.foldFill(k, s, fill, quickFills))
			}
		}
	}
	return out
}

// repeatableKinds lists the kinds of sheet there are several of, by price.
func (t *task) repeatableKinds() []int {
	var out []int
	for _, s := range t.kindsByPrice() {
		if t.group.Sheets[s].Count > 1 {
			out = append(out, s)
		}
	}
	return out
}

func (t *task) foldFill(k, kind int, fill valueLayer, care fillCare) plannedWay {
	name := fmt.Sprintf("%s filled alike %d times, and the rest", t.group.Sheets[kind].ID, k)
	lay := func(ctx context.Context, lay layer) (*candidate, error) {
		c := t.newCandidate(name)
		pr := &pricer{pool: &pool{t: t}}
		values := make([]float64, len(t.area))
		for i, a := range t.area {
			if values[i] = a; t.group.Parts[i].Filler {
				values[i] /= urgentFactor
			}
		}
		p, worth := pr.poseFrom(t.fraction(k, false).want, kind, values)
		if !p.solvable() {
			return c, t.layRest(ctx, lay, c)
		}
		r, err := fill(ctx, p.Problem, worth, nest.Options{Seed: care.seed, Effort: care.effort, Memo: &t.memo})
		if err != nil {
			return nil, err
		}
		for _, l := range p.back(r.Layouts, k) {
			c.take(l)
		}
		c.stats = r.Stats
		return c, t.layRest(ctx, lay, c)
	}
	return plannedWay{name: name, lay: lay, again: func(f fillCare) plannedWay { return t.foldFill(k, kind, fill, f) }}
}

// planWays lists what a plan tries beside the direct way: what a bid does, and
// what takes longer, the less of that the more copies there are to lay out.
func (t *task) planWays(sheets int, fill valueLayer) []plannedWay {
	out := t.ways(sheets, fill)
	if len(out) == 0 {
		return nil
	}
	due, fold := t.dueWays(fill), t.foldFills(sheets, fill)
	left := max(leastMore, moreCopies/max(1, t.copies()))
	for k := 0; k < max(len(due), len(fold)); k++ {
		for _, ways := range [][]plannedWay{due, fold} {
			if k < len(ways) && left > 0 {
				out, left = append(out, ways[k]), left-1
			}
		}
	}
	return out
}

// Of the ways that take longer, leastMore are tried at least, and else as many as
// lay moreCopies out in all.
const (
	leastMore  = 2
	moreCopies = 8000
)

// copies is how many parts are wanted.
func (t *task) copies() int {
	n := 0
	for i := range t.group.Parts {
		n += t.group.Parts[i].Quantity
	}
	return n
}
