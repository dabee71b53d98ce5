package nest

import (
	"context"
	"fmt"
	"math"

	"kerfold/geom"
)

// A sepSearch is a strip search under way.
type sepSearch struct {
	problem Problem
	options Options
	store   *sepStore
	lanes   []*sepLane
	area    float64 // of all items
	start   Result
}

func sepStrip(ctx context.Context, p Problem, start Result, o Options) (Result, error) {
	s, err := sepNewSearch(p, start, o)
	if err != nil {
		return Result{}, err
	}
	if !s.firstLayout(ctx) {
		start.Status = sepStatus(ctx)
		return start, nil
	}
	s.spend(ctx)
	return s.result(ctx), nil
}

func sepNewSearch(p Problem, start Result, o Options) (*sepSearch, error) {
	store, err := sepNewStore(p)
	if err != nil {
		return nil, err
	}
	s := &sepSearch{problem: p, options: o, store: store, start: start}
	cast, plan := s.emptyPlan()
	if err := s.checkFit(&plan); err != nil {
		return nil, err
	}
	for i := range sepLaneCount {
		s.lanes = append(s.lanes, sepNewLane(store, cast, plan, o.Seed, i))
	}
	return s, nil
}

// emptyPlan lists all items, all at the strip's start.
func (s *sepSearch) emptyPlan() (*sepCast, sepPlan) {
	cast := &sepCast{ground: []int32{0}}
	var plan sepPlan
	for i, part := range s.problem.Parts {
		for range part.Quantity {
			cast.kind = append(cast.kind, int32(i))
			cast.kit = append(cast.kit, -1)
			plan.form = append(plan.form, int32(s.store.kinds[i].form0))
			s.area += s.store.kinds[i].area
		}
	}
	n := len(plan.form)
	cast.free = n
	plan.sheet = make([]int32, n)
	plan.x, plan.y, plan.angle = make([]float64, n), make([]float64, n), make([]float64, n)
	m := s.problem.Margin
	plan.boxes = []sepBox{{m, m, m, s.problem.StripWidth - m}}
	return cast, plan
}

// checkFit reports a part that is too wide for the strip in every turn.
func (s *sepSearch) checkFit(plan *sepPlan) error {
	width := plan.boxes[0].y1 - plan.boxes[0].y0
	for i := range s.store.kinds {
		k := &s.store.kinds[i]
		least := k.lowest(s.store)
		if s.problem.Parts[k.part].Quantity > 0 && least > width+geom.Grid {
			return fmt.Errorf("part %d (%q) is %g mm wide at least, the strip %g mm; widen the strip or allow more turns",
				k.part+1, s.problem.Parts[k.part].ID, least, width)
		}
	}
	return nil
}

// lowest is the least extent along y that a kind can have.
func (k *sepKind) lowest(s *sepStore) float64 {
	least := math.Inf(1)
	for i := k.form0; i < k.form0+k.forms; i++ {
		ext := s.leanest(int32(i))
		least = min(least, ext.y1-ext.y0)
	}
	return least
}

// sepLooseDensity is how dense the strip is that parts are first thrown on.
const sepLooseDensity = 0.6

// sepLonger is by how much the strip grows when they cannot be separated there.
const sepLonger = 1.15

// firstLayout gives every lane a legal layout: the start where there is one,
// else parts thrown on a roomy strip and separated.
func (s *sepSearch) firstLayout(ctx context.Context) bool {
	if s.adoptStart(ctx) {
		return true
	}
	room := s.area / (s.problem.StripWidth - 2*s.problem.Margin) / sepLooseDensity
	longest := 0.0
	for i := range s.store.forms {
		longest = max(longest, s.store.forms[i].ext.x1-s.store.forms[i].ext.x0)
	}
	sepRun(ctx, s.options.Workers, s.lanes, func(l *sepLane) {
		for length := max(room, longest); ctx.Err() == nil; length *= sepLonger {
			l.scatter(l.boxes[0].x0 + length)
			if l.settle(ctx, sepWide) {
				l.record()
				return
			}
		}
	})
	return s.allHave()
}

// settle runs one attempt to its end.
func (l *sepLane) settle(ctx context.Context, p sepPatience) bool {
	l.begin(p)
	for ctx.Err() == nil {
		switch l.step() {
		case sepSolved:
			return true
		case sepStuck:
			return false
		}
	}
	return false
}

// allHave makes sure that every lane has a layout as soon as one has.
func (s *sepSearch) allHave() bool {
	for _, l := range s.lanes {
		if l.length == 0 {
			continue
		}
		for _, other := range s.lanes {
			if other.length == 0 {
				other.length = l.length
				other.best.assign(&l.best)
			}
		}
		return true
	}
	return false
}

// spend works in rounds until what the caller allows is spent or ctx ends.
func (s *sepSearch) spend(ctx context.Context) {
	meter := sepNewMeter(s.options)
	sepMeet(s.lanes)
	for done := meter.done(); done < 1 && ctx.Err() == nil; done = meter.done() {
		s.report(done)
		narrow, share := sepPhase(done)
		quota := meter.next()
		sepRun(ctx, s.options.Workers, s.lanes, func(l *sepLane) { l.advance(quota, narrow, share) })
		sepMeet(s.lanes)
	}
	s.finish()
	s.report(meter.done())
}

// finish squeezes every lane's best layout once more.
func (s *sepSearch) finish() {
	for _, l := range s.lanes {
		l.squeezeBest()
	}
}

func (s *sepSearch) report(done float64) {
	if s.options.Progress == nil {
		return
	}
	best := sepShortest(s.lanes)
	length := best.length + s.problem.Margin
	s.options.Progress(Progress{
		Done: done, Length: length, Density: s.area / (length * s.problem.StripWidth), Arm: "separation",
	})
}
