package nest

import (
	"context"
	"math"
)

// A sepSheetSearch is a search over several sheets under way.
type sepSheetSearch struct {
	problem Problem
	options Options
	store   *sepStore
	cast    *sepCast
	lanes   []*sepSheets
	start   Result
	meter   sepMeter
}

func sepOnSheets(ctx context.Context, p Problem, start Result, o Options) (Result, error) {
	store, err := sepNewStore(p)
	if err != nil {
		return Result{}, err
	}
	if len(start.Layouts) == 0 {
		start, err = BottomLeft(ctx, p, nil, Options{Seed: o.Seed, Effort: 1, Workers: o.Workers, Memo: o.Memo})
		if err != nil || len(start.Layouts) == 0 {
			return start, err
		}
	}
	meter := sepNewMeter(o)
	jigsaw, whole := sepWithoutWaste(ctx, p, store, o, &meter)
	s := &sepSheetSearch{problem: p, options: o, store: store, start: start, meter: meter}
	if whole || (len(jigsaw.Layouts) > 0 && len(jigsaw.Layouts) <= len(start.Layouts)) {
		s.start.Layouts = jigsaw.Layouts
	}
	if !s.ready() {
		s.start.Status = sepStatus(ctx)
		return s.start, nil
	}
	if !whole {
		s.spend(ctx)
	}
	return s.result(ctx), nil
}

// sepMostItems and sepMostSheets bound what one search takes on at once: its
// tables of pairs grow with the square of the items.
const (
	sepMostItems  = 2000
	sepMostSheets = 400
)

// ready makes the lanes; it is false when the start cannot be taken over or is
// too large.
func (s *sepSheetSearch) ready() bool {
	if len(s.start.Layouts) > sepMostSheets {
		return false
	}
	plan, ok := s.takeOver()
	if !ok || len(plan.form) > sepMostItems {
		return false
	}
	cost := s.costs()
	for i := range sepLaneCount {
		l := &sepSheets{sepLane: sepNewLane(s.store, s.cast, plan, s.options.Seed, i), cost: cost}
		l.work = s.meter.at
		l.full = append(l.full, plan.boxes...)
		l.best.assign(&plan)
		l.value = l.worth(&plan)
		l.least = l.smallest()
		if l.loss() > 0 {
			return false
		}
		s.lanes = append(s.lanes, l)
	}
	return true
}

// takeOver turns the start's layouts into a plan, one sheet each, with the
// sheets' zones last.
func (s *sepSheetSearch) takeOver() (sepPlan, bool) {
	s.cast = &sepCast{}
	var plan sepPlan
	sets := sepNewSets(s.problem)
	for k, layout := range s.start.Layouts {
		b := stretched(s.problem.Sheets[layout.Sheet].Outline).Bound()
		m := s.problem.Margin
		plan.boxes = append(plan.boxes, sepBox{b.Min[0] + m, b.Min[1] + m, b.Max[0] - m, b.Max[1] - m})
		s.cast.ground = append(s.cast.ground, int32(layout.Sheet))
		for _, pl := range layout.Placements {
			at, ok := s.store.place(pl)
			if !ok {
				return plan, false
			}
			at.sheet = int32(k)
			plan.add(at)
			s.cast.add(pl.Part, sets.of(pl.Part))
		}
		sets.nextSheet()
	}
	s.cast.free = len(plan.form)
	for k, layout := range s.start.Layouts {
		for _, z := range s.store.zonesOf(layout.Sheet) {
			kind := &s.store.kinds[z]
			plan.add(sepPick{form: int32(kind.form0), sheet: int32(k), x: kind.centre[0], y: kind.centre[1]})
			s.cast.add(z, -1)
		}
	}
	return plan, true
}

func (p *sepPlan) add(at sepPick) {
	p.form = append(p.form, at.form)
	p.sheet = append(p.sheet, at.sheet)
	p.angle = append(p.angle, at.angle)
	p.x = append(p.x, at.x)
	p.y = append(p.y, at.y)
}

func (c *sepCast) add(kind int, kit int32) {
	c.kind = append(c.kind, int32(kind))
	c.kit = append(c.kit, kit)
}

// A sepSets numbers the sets of kits as their copies are listed, sheet by sheet:
// the copies of one set must stay together, and another set may lie elsewhere.
type sepSets struct {
	problem Problem
	per     []int // by part: copies in one set; 0 for a part that stands alone
	seen    []int // by part: copies on the sheet so far
	numbers map[sepSet]int32
	sheet   int
}

// A sepSet is one set of a kit on a sheet.
type sepSet struct {
	kit        string
	sheet, set int
}

func sepNewSets(p Problem) *sepSets {
	t := &sepSets{problem: p, per: make([]int, len(p.Parts)), seen: make([]int, len(p.Parts)), numbers: map[sepSet]int32{}}
	dem := demandOf(p, make([]kind, len(p.Parts)))
	for _, u := range dem.units[len(p.Parts):] {
		for _, part := range u.kinds {
			t.per[part]++
		}
	}
	return t
}

func (t *sepSets) nextSheet() {
	t.sheet++
	clear(t.seen)
}

// of is the number of the set that the next copy of a part belongs to, or −1.
func (t *sepSets) of(part int) int32 {
	if t.per[part] == 0 {
		return -1
	}
	key := sepSet{t.problem.Parts[part].Kit, t.sheet, t.seen[part] / t.per[part]}
	t.seen[part]++
	if _, ok := t.numbers[key]; !ok {
		t.numbers[key] = int32(len(t.numbers))
	}
	return t.numbers[key]
}

// costs prices every sheet of the start: by its cost, or by area where no
// sheet has one.
func (s *sepSheetSearch) costs() []float64 {
	priced := false
	for i := range s.problem.Sheets {
		priced = priced || s.problem.Sheets[i].Cost > 0
	}
	var out []float64
	for _, layout := range s.start.Layouts {
		sheet := s.problem.Sheets[layout.Sheet]
		c := sheet.Cost
		if !priced {
			c = sepArea(sheet)
		}
		out = append(out, c)
	}
	return out
}

// sepArea is a sheet's area as it is bought, blocked zones included.
func sepArea(s Sheet) float64 { return math.Abs(ringArea(s.Outline[0])) }

func (s *sepSheetSearch) spend(ctx context.Context) {
	lanes := make([]*sepLane, len(s.lanes))
	byLane := map[*sepLane]*sepSheets{}
	for i, l := range s.lanes {
		lanes[i] = l.sepLane
		byLane[l.sepLane] = l
	}
	for done := s.meter.done(); done < 1 && ctx.Err() == nil && !s.done(); done = s.meter.done() {
		s.report(done)
		quota := s.meter.next()
		sepRun(ctx, s.options.Workers, lanes, func(l *sepLane) { byLane[l].advance(quota) })
		s.meet()
	}
	s.report(s.meter.done())
}

func (s *sepSheetSearch) done() bool {
	for _, l := range s.lanes {
		if l.done {
			return true
		}
	}
	return false
}

func (s *sepSheetSearch) best() *sepSheets {
	best := s.lanes[0]
	for _, l := range s.lanes[1:] {
		if l.value < best.value {
			best = l
		}
	}
	return best
}

// meet hands the best layout to all lanes.
func (s *sepSheetSearch) meet() {
	best := s.best()
	for _, l := range s.lanes {
		if best.value < l.value {
			l.value = best.value
			l.best.assign(&best.best)
			l.target = 0 // start afresh
		}
	}
}

func (s *sepSheetSearch) report(done float64) {
	if s.options.Progress == nil {
		return
	}
	r := s.layouts()
	s.options.Progress(Progress{Done: done, Density: r.Density, Sheets: len(r.Layouts), Arm: "separation"})
}

// layouts puts the best plan into the caller's terms, without empty sheets.
func (s *sepSheetSearch) layouts() Result {
	l := s.best()
	var r Result
	parts, sheets := 0.0, 0.0
	for k, a := range l.areaOn(&l.best) {
		if a == 0 {
			continue
		}
		parts += a
		sheets += sepArea(s.problem.Sheets[l.ground[k]])
		r.Layouts = append(r.Layouts, Layout{
			Sheet: int(l.ground[k]), Placements: s.store.placements(&l.best, l.free, int32(k)),
		})
	}
	r.Density = parts / sheets
	return r
}

func (s *sepSheetSearch) result(ctx context.Context) Result {
	r := s.layouts()
	r.Unplaced, r.Warnings = s.start.Unplaced, s.start.Warnings
	r.Status = sepStatus(ctx)
	if len(r.Unplaced) > 0 && r.Status == Finished {
		r.Status = s.start.Status
	}
	r.Stats = Stats{Seed: s.options.Seed, Effort: s.options.Effort, Won: "separation"}
	for _, l := range s.lanes {
		r.Stats.Moves += l.mover.moves
	}
	return r
}
