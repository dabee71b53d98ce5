package week

import (
	"context"
	"fmt"
	"math"
	"slices"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest/shop"
)

// varied is a copy of a task with another job or group, ready to be worked out.
func (t *task) varied(job *shop.Job, edit func(*Group)) *task {
	old := &t.group
	v := &task{index: t.index, job: job, material: t.material, flat: t.flat, area: t.area, lines: t.lines}
	v.group = Group{
		ID: old.ID, Material: old.Material, ThicknessMM: old.ThicknessMM, Grade: old.Grade, Process: old.Process,
		SpacingMM: old.SpacingMM, MarginMM: old.MarginMM, Parts: old.Parts, Sheets: slices.Clone(old.Sheets),
		Unplaced: map[int]int{}, Surplus: map[int]int{},
	}
	if edit != nil {
		edit(&v.group)
	}
	v.machines, v.depth = v.capable()
	v.group.Sheets = slices.DeleteFunc(v.group.Sheets, func(s shop.Stock) bool { return !v.fitsTable(&s) })
	tol := nestTolerance(v.group.SpacingMM)
	for i := range v.group.Sheets {
		s := &v.group.Sheets[i]
		v.sheets, v.round = append(v.sheets, flatSheetTo(s, tol)), append(v.round, netArea(s.Outline, s.Blocked))
	}
	return v
}

// repriced lists the changes that leave the layouts as they are.
func (b *bidder) repriced(i int) []variation {
	return slices.Concat(b.gradeChanges(i), b.machineChanges(i), b.stackChanges(i))
}

func (b *bidder) gradeChanges(i int) []variation {
	var out []variation
	t := b.tasks[i]
	for _, c := range []struct {
		grade cost.Grade
		text  string
	}{{t.group.Grade - 1, "one grade rougher: "}, {t.group.Grade + 1, "one grade finer: "}} {
		if c.grade < cost.Separate || c.grade > cost.Fine {
			continue
		}
		out = append(out, b.reprice(i, ChangeGrade, c.text+c.grade.String(), func() *task {
			return t.varied(b.job, func(g *Group) { g.Grade = c.grade })
		}))
	}
	return out
}

// machineChanges are each capable machine alone, where that is not how it is.
func (b *bidder) machineChanges(i int) []variation {
	var out []variation
	t := b.tasks[i]
	used := map[int]bool{}
	for _, r := range b.out[i].Runs {
		used[r.Machine] = true
	}
	for _, m := range t.machines {
		if used[m] && len(used) == 1 {
			continue
		}
		out = append(out, b.reprice(i, ChangeMachine, "all on "+b.job.Machines[m].ID, func() *task {
			v := t.varied(b.job, nil)
			v.machines = []int{m}
			v.depth = v.depthOn(m)
			return v
		}))
	}
	return out
}

// stackChanges are single sheets alone where stacks were chosen, and stacks of
// two where none was.
func (b *bidder) stackChanges(i int) []variation {
	t := b.tasks[i]
	if deepest(b.out[i].Runs) > 1 {
		return []variation{b.reprice(i, ChangeStacking, "no stacks: every sheet by itself", func() *task {
			return t.varied(singleSheets(b.job), nil)
		})}
	}
	v := variation{kind: ChangeStacking, text: "stacks of two", against: b.bases[i].routed}
	c := stackable(b.bases[i].found)
	switch refusal := t.stackRefusal(); {
	case t.depth < 2:
		v.refusal = refusal
	case c == nil:
		return nil
	}
	v.find = func(ctx context.Context) (*task, *candidate, error) {
		two, err := b.inTwos(ctx, t, c)
		return t, two, err
	}
	return []variation{v}
}

func deepest(runs []BidRun) int {
	d := 0
	for _, r := range runs {
		d = max(d, r.Depth)
	}
	return d
}

// singleSheets is the job with machines that cut no stacks.
func singleSheets(job *shop.Job) *shop.Job {
	out := *job
	out.Machines = slices.Clone(job.Machines)
	for i := range out.Machines {
		out.Machines[i].MaxLayers = 1
	}
	return &out
}

// stackable is the best candidate with a layout cut more than once.
func stackable(found []*candidate) *candidate {
	for _, c := range found {
		if slices.ContainsFunc(c.laid, func(l laid) bool { return l.repeats > 1 }) {
			return c
		}
	}
	return nil
}

// stackRefusal is why two layers are not allowed on any machine.
func (t *task) stackRefusal() string {
	for _, m := range t.machines {
		if err := t.setup(m, 2).Check(); err != nil {
			return err.Error()
		}
	}
	return ""
}

// inTwos is a candidate with its repeats cut two at a time.
func (b *bidder) inTwos(ctx context.Context, t *task, c *candidate) (*candidate, error) {
	out := *c
	if err := out.price(ctx, t, b.o.Remnants, routedCare); err != nil {
		return nil, err
	}
	for i := range out.laid {
		l := &out.laid[i]
		if l.repeats < 2 {
			continue
		}
		best, err := t.twoLayers(l, out.works[i])
		if err != nil {
			return nil, err
		}
		out.way.Money += best.money - out.picks[i].money
		out.way.Seconds += best.seconds - out.picks[i].seconds
	}
	return &out, nil
}

// twoLayers is the cheapest machine for a layout cut two sheets at a time.
func (t *task) twoLayers(l *laid, w cost.Work) (best pick, err error) {
	best.money = math.Inf(1)
	sheet := &t.group.Sheets[l.sheet]
	for _, m := range t.machines {
		if !shop.TakesSheet(&t.job.Machines[m], sheet) {
			continue
		}
		table, _, err := cost.StackTable(t.setup(m, 1), w, l.repeats, sheet.Cost)
		if err != nil {
			return best, err
		}
		for _, row := range table {
			if row.Depth == 2 && row.Allowed() && row.Money() < best.money {
				best.money, best.seconds = row.Money(), row.Seconds
			}
		}
	}
	return best, nil
}

// weighed are the ways a change may be made in: all met, or where due dates
// decided that one, since nobody knows how late the others would be.
func (base *bidBase) weighed() []*candidate {
	if base.dated {
		return base.found[:1]
	}
	return base.found
}

// reprice prices the layouts met anew, for a varied task.
func (b *bidder) reprice(i int, kind ChangeKind, text string, make func() *task) variation {
	return variation{kind: kind, text: text, against: b.bases[i].rough, find: func(ctx context.Context) (*task, *candidate, error) {
		v := make()
		if unable(v) != "" || len(v.group.Sheets) != len(b.tasks[i].group.Sheets) {
			return v, nil, nil
		}
		var best *candidate
		for _, c := range b.bases[i].weighed() {
			again := *c
			if err := again.price(ctx, v, b.o.Remnants, rough); err != nil {
				return nil, nil, err
			}
			if best == nil || better(&again, best) < 0 {
				best = &again
			}
		}
		return v, best, nil
	}}
}

// relaid lists the changes that need layouts of their own.
func (b *bidder) relaid(i int) []variation {
	var out []variation
	t := b.tasks[i]
	if v, ok := b.spacingChange(i); ok {
		out = append(out, v)
	}
	for _, s := range b.otherSheets(t) {
		x, y := s.Size()
		text := fmt.Sprintf("sheets of %v x %v mm", math.Round(10*x)/10, math.Round(10*y)/10)
		if s.Where == "" {
			text += " at the same price by area"
		}
		out = append(out, b.relay(i, ChangeSheet, text, true, func() *task {
			return t.varied(b.job, func(g *Group) { g.Sheets = withMain(g.Sheets, s) })
		}))
	}
	return out
}

// spacingChange is a quarter less of spacing, or half as much again where that
// would be less than the kerf.
func (b *bidder) spacingChange(i int) (variation, bool) {
	t := b.tasks[i]
	old := t.group.SpacingMM
	to := math.Round(75*old) / 100
	if to < t.setup(t.machines[0], 1).KerfMM() {
		to = math.Round(150*old) / 100
	}
	if to <= 0 {
		return variation{}, false
	}
	return b.relay(i, ChangeSpacing, fmt.Sprintf("parts %v mm apart instead of %v mm", to, old), false, func() *task {
		return t.varied(b.job, func(g *Group) { g.SpacingMM = to })
	}), true
}

// otherSheets are the sizes to weigh in place of the largest whole sheet: those
// named, the other whole ones in stock, or where there is none the same sheet
// halved and doubled, at the same price by area.
func (b *bidder) otherSheets(t *task) []shop.Stock {
	main := t.mainSheet()
	if main < 0 {
		return nil
	}
	m := &t.group.Sheets[main]
	var out []shop.Stock
	for _, s := range b.opts.Also {
		s.Material, s.ThicknessMM = m.Material, m.ThicknessMM
		if math.IsNaN(s.Cost) {
			s.Cost, s.Where = m.Cost*s.AreaMM2()/m.AreaMM2(), ""
		}
		out = append(out, s)
	}
	for i := range t.group.Sheets {
		if s := t.group.Sheets[i]; i != main && !s.Remnant {
			out = append(out, s)
		}
	}
	if len(out) > 0 {
		return out
	}
	x, y := m.Size()
	long, short := math.Max(x, y), math.Min(x, y)
	for _, size := range [][2]float64{{long / 2, short}, {long, 2 * short}} {
		s := sized(m, size[0], size[1])
		if anyTakes(t.job, t.machines, &s) && size[0]*size[1] > 0 {
			out = append(out, s)
		}
	}
	return out
}

// sized is a sheet of another size, at the same price by area.
func sized(m *shop.Stock, x, y float64) shop.Stock {
	s := *m
	s.Outline, s.Blocked = geom.RectContour(0, 0, geom.Snap(x), geom.Snap(y)), nil
	s.Cost, s.Where = m.Cost*s.AreaMM2()/m.AreaMM2(), ""
	return s
}

// withMain keeps the remnants and puts one kind of whole sheet beside them.
func withMain(sheets []shop.Stock, s shop.Stock) []shop.Stock {
	out := slices.DeleteFunc(slices.Clone(sheets), func(have shop.Stock) bool { return !have.Remnant })
	s.Count = 1
	return append(out, s)
}

// bestWays names the two best ways.
func bestWays(found []*candidate) []string {
	var names []string
	for _, c := range found[:min(2, len(found))] {
		names = append(names, c.way.Name)
	}
	return names
}

// relay lays a varied task out. buy says that its sheets are others, bought as
// needed; else the ways that were best for the bid will do. Where due dates decided
// the way, that one is laid out again.
func (b *bidder) relay(i int, kind ChangeKind, text string, buy bool, make func() *task) variation {
	base := &b.bases[i]
	against := base.quick
	var only []string
	switch {
	case base.dated:
		against, only = base.rough, []string{base.best.way.Name}
	case !buy:
		only = bestWays(base.found)
	}
	return variation{kind: kind, text: text, against: against, find: func(ctx context.Context) (*task, *candidate, error) {
		v := make()
		if unable(v) != "" {
			return v, nil, nil
		}
		found, err := b.lay(ctx, v, b.quick(b.tasks[i]), buy, only)
		if err != nil {
			return v, nil, err
		}
		if at := slices.IndexFunc(found, func(c *candidate) bool { return base.dated && c.way.Name == only[0] }); at >= 0 {
			return v, found[at], nil
		}
		return v, found[0], nil
	}}
}
