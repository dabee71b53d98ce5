package week

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"kerfold/cost"
	"kerfold/nest"
	"kerfold/nest/verify"
)

// assemble makes the plan of the candidates found: judged layouts, the
// calendar, the ledger, what is left on the rack.
func (m *maker) assemble(ctx context.Context) (*Plan, error) {
	if ctx.Err() == nil {
		if err := m.deliberate(ctx); err != nil {
			return nil, err
		}
		if err := m.refine(ctx); err != nil {
			return nil, err
		}
	}
	m.shareRouting()
	chosen := make([]*candidate, len(m.tasks))
	err := m.each(func(i int, t *task) (err error) {
		chosen[i], err = m.settle(ctx, t, m.preferred(i), lastCare(ctx))
		return err
	})
	if err != nil {
		return nil, err
	}
	p := m.frame()
	for _, t := range m.tasks {
		p.Groups = append(p.Groups, t.group)
	}
	f, err := newFloor(m.job, m.tasks, chosen)
	if err != nil {
		return nil, err
	}
	q := f.schedule(p, m.o.Seed, m.prior)
	m.book(p, f.jobs)
	p.Orders = orderDates(p)
	if err := m.cure(ctx, f, p, q); err != nil {
		return nil, err
	}
	m.stockAfter(p)
	m.remarks(p)
	p.Status = status(ctx, p)
	return p, nil
}

// shareRouting spreads the work on the order of cuts over the layouts, so that a
// plan of thousands of parts does not wait for it, nor one of little effort.
func (m *maker) shareRouting() {
	layouts := 0
	for i := range m.found {
		layouts += len(m.preferred(i)[0].laid)
	}
	for _, t := range m.tasks {
		t.routing = min(1, routedFully/float64(max(1, layouts))) * m.o.ease()
	}
}

// routedFully is how many layouts are routed at full effort.
const routedFully = 60.0

// frame is the plan before anything is in it.
func (m *maker) frame() *Plan {
	p := &Plan{
		Job: m.job.Name, Seed: m.o.Seed, Effort: m.o.Effort, Currency: m.job.Rates.Currency, Units: m.job.Units,
		Days: slices.Clone(m.job.Days), WeekDays: len(m.job.Days), DayStartSec: m.job.DayStartSec, FromSec: m.job.FromSec,
		OvertimePerHour: m.job.Rates.OvertimePerHour, ExtraShiftPerHour: m.job.Rates.ExtraShiftPerHour,
	}
	if m.o.Clock != nil {
		p.Effort = 0
	}
	for i := range m.job.Machines {
		p.Machines = append(p.Machines, m.load(i))
	}
	return p
}

// load is machine i before it has work.
func (m *maker) load(i int) MachineLoad {
	l := MachineLoad{ID: m.job.Machines[i].ID, HoursPerDay: m.job.Machines[i].HoursPerDay, Tables: max(1, m.job.Machines[i].Tables)}
	for _, d := range m.job.Days {
		l.Hours = append(l.Hours, m.job.HoursOn(i, d))
	}
	return l
}

// lastCare is how closely the plan's cuts are worked out: in haste when someone
// waits for it to end.
func lastCare(ctx context.Context) care {
	if ctx.Err() != nil {
		return hasty
	}
	return final
}

// preferred lists a group's candidates, the one chosen by trial calendars first.
func (m *maker) preferred(i int) []*candidate {
	if m.chosen == nil {
		return m.found[i]
	}
	out := []*candidate{m.chosen[i]}
	for _, c := range m.found[i] {
		if c != m.chosen[i] {
			out = append(out, c)
		}
	}
	return out
}

// settle puts the best candidate that the judge accepts into the group: the one
// that trial calendars chose, else the cheapest. The closer look may cost that
// its place: then the next is looked at as closely.
func (m *maker) settle(ctx context.Context, t *task, found []*candidate, with care) (*candidate, error) {
	var refused string
	rest := slices.Clone(found)
	sort := func() {
		tail := rest
		if m.chosen != nil && rest[0] == m.chosen[t.index] {
			tail = rest[1:]
		}
		slices.SortStableFunc(tail, closer)
	}
	sort()
	for len(rest) > 0 {
		c := rest[0]
		if c.care < with {
			t.preferOldest(c)
			if err := c.price(ctx, t, m.o.Remnants, with); err != nil {
				return nil, err
			}
			sort()
			continue
		}
		t.adopt(c)
		report := Judge(&t.group)
		if report.OK() {
			t.adoptWays(c, found, m.ways[t.index])
			if refused != "" {
				t.group.Warnings = append(t.group.Warnings, "a cheaper way was set aside because the check refused it: "+refused)
			}
			return c, nil
		}
		refused, rest = firstFault(report), rest[1:]
	}
	return nil, fmt.Errorf("no layout passes the check (%s): this is a fault of the program, please report it", refused)
}

// closer orders candidates like better, those looked at roughly behind all
// others.
func closer(a, b *candidate) int {
	roughly := func(c *candidate) int {
		if c.care == rough {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(roughly(a), roughly(b)), better(a, b))
}

func firstFault(r verify.Report) string {
	if len(r.Violations) == 0 {
		return "nothing was listed"
	}
	return r.Violations[0].Text
}

// adopt makes a candidate the group's plan.
func (t *task) adopt(c *candidate) {
	g := &t.group
	g.Layouts, g.SheetArea, g.PartArea, g.RemnantCredit = nil, 0, 0, 0
	g.Unplaced, g.Surplus = map[int]int{}, map[int]int{}
	for i := range c.laid {
		l := t.layout(c, i)
		g.Layouts = append(g.Layouts, l)
		n := float64(l.Repeats)
		g.SheetArea += n * l.SheetArea
		g.PartArea += n * l.PartArea
		g.RemnantCredit += n * l.RemnantCredit
	}
	for i := range g.Parts {
		o := &g.Parts[i]
		if n := o.Quantity - c.placed[i]; n > 0 {
			g.Unplaced[i] = n
		}
		if n := c.placed[i] - o.Quantity - o.Extra; n > 0 {
			g.Surplus[i] = n
		}
	}
	g.Status, g.Stats = c.status, c.stats
}

func (t *task) layout(c *candidate, i int) Layout {
	laid := &c.laid[i]
	l := Layout{
		ID: t.layoutID(c, i), Sheet: laid.sheet, Placements: laid.placements,
		Repeats: laid.repeats, Route: c.routes[i], SheetArea: t.round[laid.sheet],
		Remnant: c.remnants[i], RemnantCredit: c.credits[i],
	}
	for _, p := range laid.placements {
		l.PartArea += t.area[p.Part]
	}
	return l
}

// layoutID is a layout's id: the one it had in an earlier plan, or the next
// number free.
func (t *task) layoutID(c *candidate, i int) string {
	if c.laid[i].id != "" {
		return c.laid[i].id
	}
	n := t.numbered + 1
	for _, l := range c.laid[:i] {
		if l.id == "" {
			n++
		}
	}
	return fmt.Sprintf("%s-L%d", t.group.ID, n)
}

// adoptWays lists the ways compared, the chosen one first, and behind the others
// those whose lateness nobody knows where that of some was weighed. Of a way worked out
// more than once, that with most care counts, and of those the better.
func (t *task) adoptWays(chosen *candidate, found []*candidate, others []Way) {
	ways := []Way{chosen.way}
	seen := map[string]bool{chosen.way.Name: true}
	add := func(w Way) {
		if !seen[w.Name] {
			seen[w.Name] = true
			ways = append(ways, w)
		}
	}
	for _, c := range found {
		add(c.way)
	}
	for _, w := range others {
		add(w)
	}
	weighed := slices.ContainsFunc(ways, func(w Way) bool { return w.LateKnown })
	untried := func(w Way) int {
		if weighed && !w.LateKnown {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(ways[1:], func(a, b Way) int {
		return cmp.Or(cmp.Compare(a.Short, b.Short), untried(a)-untried(b), cmp.Compare(a.Charged(), b.Charged()))
	})
	t.group.Ways = ways
	for _, w := range chosen.warnings {
		if !slices.Contains(t.group.Warnings, w) {
			t.group.Warnings = append(t.group.Warnings, w)
		}
	}
}

// book fills in runs, ledgers and loads from the calendar.
func (m *maker) book(p *Plan, jobs []stackJob) {
	work := map[[3]int][]machineWork{}
	estimates := make([]cost.RunEstimate, len(p.Groups))
	for _, j := range jobs {
		work[[3]int{j.group, j.layout, j.depth}] = j.work
	}
	for _, s := range p.Calendar {
		w := work[[3]int{s.Group, s.Layout, s.Depth}][s.Machine]
		g := &p.Groups[s.Group]
		l := &g.Layouts[s.Layout]
		l.addRun(s, w)
		l.Ledger = l.Ledger.Plus(w.ledger)
		g.Ledger = g.Ledger.Plus(w.ledger)
		g.Seconds += w.occupied
		estimates[s.Group] = estimates[s.Group].Plus(w.estimate)
		p.Machines[s.Machine].add(s)
		p.Ledger = p.Ledger.Plus(w.ledger)
		p.Between = p.Between.Plus(betweenRuns(m.job.Rates, s, w.occupied))
	}
	p.Ledger = p.Ledger.Plus(p.Between)
	for i := range p.Machines {
		p.Seconds += p.Machines[i].BusySec
	}
	m.ranges(p, estimates)
	for i := range p.Groups {
		p.RemnantCredit += p.Groups[i].RemnantCredit
		for k := range p.Groups[i].Layouts {
			slices.SortFunc(p.Groups[i].Layouts[k].Runs, deepFirst)
		}
	}
}

// ranges notes how sure the times and prices are. What all runs share, such as
// the pump and the batch of plate, moves them together.
func (m *maker) ranges(p *Plan, estimates []cost.RunEstimate) {
	var all cost.RunEstimate
	for i, e := range estimates {
		p.Groups[i].SecondsRange = e.OccupiedSec.Interval(cost.DefaultLevel)
		p.Groups[i].MoneyRange = e.Money.Interval(cost.DefaultLevel)
		all = all.Plus(e)
	}
	all.OccupiedSec = all.OccupiedSec.Plus(cost.Exact(p.Between.Usage.OccupiedSec))
	all.Money = all.Money.Plus(cost.Exact(p.Between.Money.Total()))
	p.SecondsRange, p.MoneyRange = all.OccupiedSec.Interval(cost.DefaultLevel), all.Money.Interval(cost.DefaultLevel)
}

// betweenRuns is what a stack takes besides its run's own time: the set-up
// before it, and the machine's wait for its loading beyond what the run counts.
// The operator loads meanwhile, but for the share that needs none.
func betweenRuns(r cost.Rates, s Slot, occupied float64) cost.Ledger {
	var l cost.Ledger
	if s.SetupSec > 0 {
		l = cost.SetupLedger(r)
	}
	wait := s.WorkSec - occupied
	u := cost.Usage{OccupiedSec: wait, LabourSec: wait * (1 - r.UnattendedShare)}
	return l.Plus(cost.Ledger{Usage: u, Money: r.Price(u, 0)})
}

func deepFirst(a, b Run) int {
	if a.Depth != b.Depth {
		return b.Depth - a.Depth
	}
	return a.Machine - b.Machine
}

// addRun counts a stack into the run of its depth and machine.
func (l *Layout) addRun(s Slot, w machineWork) {
	for i := range l.Runs {
		if l.Runs[i].Depth == s.Depth && l.Runs[i].Machine == s.Machine {
			l.Runs[i].Count++
			return
		}
	}
	l.Runs = append(l.Runs, Run{
		Depth: s.Depth, Count: 1, Machine: s.Machine, Time: w.time, OccupiedSec: w.occupied, Ledger: w.ledger, Speed: w.speed,
	})
}

func (m *MachineLoad) add(s Slot) {
	m.BusySec += s.SetupSec + s.WorkSec
	m.SetupSec += s.SetupSec
	m.Slots++
	if s.SetupSec > 0 {
		m.Setups++
	}
}

// remarks gathers what is worth reading, the job's own warnings first.
func (m *maker) remarks(p *Plan) {
	p.Warnings = slices.Clone(m.job.Warnings)
	for i := range p.Groups {
		g := &p.Groups[i]
		g.Warnings = append(g.Warnings, shortWarnings(g)...)
		for _, w := range g.Warnings {
			p.Warnings = append(p.Warnings, g.ID+": "+w)
		}
	}
	p.Warnings = append(p.Warnings, lateWarnings(p)...)
	p.Cautions = m.cautions(p)
}

func shortWarnings(g *Group) []string {
	var out []string
	for i := range g.Parts {
		o := &g.Parts[i]
		if n := g.Unplaced[i]; n > 0 && !o.Filler {
			out = append(out, fmt.Sprintf("order %s: %d of %d found no place: add stock of %s, %v mm",
				o.ID, n, o.Quantity, g.Material, g.ThicknessMM))
		}
		if n := g.Surplus[i]; n > 0 {
			out = append(out, fmt.Sprintf("order %s: %d more than wanted are cut, because the repeated layout is cheaper", o.ID, n))
		}
	}
	return out
}

func lateWarnings(p *Plan) []string {
	var out []string
	for _, o := range p.Orders {
		if o.Tardy() {
			out = append(out, fmt.Sprintf("order %s: due %s, done %s, %s",
				o.Order, o.Due.Format("Mon 2 Jan 2006")+clockWords(o.DueSec), p.Days[o.Finish].Format("Mon 2 Jan 2006"), lateness(o)))
		}
	}
	return out
}

// status is the plan's: the worst of its groups, or that it was cancelled.
func status(ctx context.Context, p *Plan) nest.Status {
	s := nest.Finished
	for i := range p.Groups {
		g := &p.Groups[i]
		s = worse(s, g.Status)
		for part, n := range g.Unplaced {
			if n > 0 && !g.Parts[part].Filler {
				s = worse(s, nest.Infeasible)
			}
		}
	}
	if ctx.Err() != nil {
		s = worse(s, ended(ctx))
	}
	return s
}
