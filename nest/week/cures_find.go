package week

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"kerfold/nest/shop"
)

// Cures are looked for order by order. Tried are, each by planning the calendar
// anew: overtime of every machine, as little as does it; an extra shift; every
// layout cut in other stacks; the layouts that hold the order divided, so that
// what is urgent on them comes first; and where none of these does it, these
// with overtime on top. Another machine or another sequence needs no cure: the
// calendar has tried them already, and tries them again with every change. Last,
// a cure for all late orders at once is put together from those for each.

// Bounds of the search.
const (
	overtimeStep   = 0.5 // h, in which overtime is agreed
	mostCured      = 10  // late orders that cures are looked for, the most urgent first
	mostCureTrials = 600
	curesKept      = 3 // for each order
)

// A healer looks for cures.
type healer struct {
	floor *floor
	plan  *Plan
	seed  uint64
	base  *trial
	memo  map[string]*trial
	tried int
	work  int // orders and chores looked at, see mostLooks
	found []Cure
}

// cure fills in the plan's cures, where orders are late.
func (m *maker) cure(ctx context.Context, f *floor, p *Plan, q queue) error {
	h := &healer{floor: f, plan: p, seed: m.o.Seed, memo: map[string]*trial{}}
	late := h.late()
	if len(late) == 0 || ctx.Err() != nil {
		return nil
	}
	h.base = &trial{floor: f, queue: q}
	h.finish(h.base, f.bench())
	curable := slices.DeleteFunc(slices.Clone(late), func(i int) bool { return h.lastDay(i) < 0 })
	for _, i := range curable[:min(mostCured, len(curable))] {
		if ctx.Err() != nil {
			break
		}
		if err := h.heal(i); err != nil {
			return err
		}
	}
	if err := h.healAll(ctx, curable); err != nil {
		return err
	}
	p.Cures, p.CuresTried = h.sorted(), h.tried
	return nil
}

// late lists the orders that are late, the most urgent first.
func (h *healer) late() []int {
	var out []int
	for i := range h.plan.Orders {
		if h.plan.Orders[i].Tardy() && !h.order(i).Filler { // nobody waits for a filler
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		return cmp.Or(-cmp.Compare(h.order(a).Priority, h.order(b).Priority), h.order(a).Due.Compare(h.order(b).Due))
	})
	return out
}

// order is the order behind a date.
func (h *healer) order(i int) *shop.Order {
	d := &h.plan.Orders[i]
	parts := h.plan.Groups[d.Group].Parts
	return &parts[slices.IndexFunc(parts, func(o shop.Order) bool { return o.ID == d.Order })]
}

// heal looks for the cheapest cures of one order.
func (h *healer) heal(i int) error {
	singles, err := h.singles(i, h.base)
	if err != nil {
		return err
	}
	n := 0
	for _, steps := range singles {
		ok, err := h.offer(i, steps)
		if err != nil {
			return err
		}
		if ok {
			n++
		}
	}
	least, err := h.leastOvertime(i, h.base)
	if err != nil {
		return err
	}
	for _, t := range least {
		h.keep(t)
		n++
	}
	if n > 0 {
		return nil
	}
	return h.combine(i, singles)
}

// offer tries steps and keeps them where they save the order.
func (h *healer) offer(i int, steps []CureStep) (bool, error) {
	t, err := h.tryFor(i, h.base, steps)
	if err != nil || !h.saves(t, i) {
		return false, err
	}
	h.keep(t)
	return true, nil
}

// combine puts overtime on top of each other change.
func (h *healer) combine(i int, singles [][]CureStep) error {
	for _, steps := range singles {
		t, err := h.tryFor(i, h.base, steps)
		if err != nil {
			return err
		}
		if t.orders[i].LateSec >= h.plan.Orders[i].LateSec {
			continue // it does not help this order
		}
		least, err := h.leastOvertime(i, t)
		if err != nil {
			return err
		}
		for _, u := range least {
			h.keep(u)
		}
	}
	return h.bothMachines(i)
}

// bothMachines opens each machine as long as it may be, and another one as long
// as it takes.
func (h *healer) bothMachines(i int) error {
	for m := range h.plan.Machines {
		full := h.overtime(h.base, m, h.lastDay(i), math.MaxInt32)
		if len(full) == 0 {
			continue
		}
		t, err := h.tryFor(i, h.base, full)
		if err != nil {
			return err
		}
		least, err := h.leastOvertime(i, t)
		if err != nil {
			return err
		}
		for _, u := range least {
			h.keep(u)
		}
	}
	return nil
}

// singles lists the changes besides overtime worth trying for an order.
func (h *healer) singles(i int, from *trial) ([][]CureStep, error) {
	var out [][]CureStep
	d := &h.plan.Orders[i]
	for m := range h.plan.Machines {
		out = append(out, h.shifts(m, i)...)
	}
	out = append(out, h.divisions(d.Group, h.order(i))...)
	for g, t := range h.floor.tasks {
		c := h.floor.chosen[g]
		for l := range c.laid {
			for depth := 1; depth <= min(t.depth, c.laid[l].repeats); depth++ {
				if !slices.Equal(stacksOf(c.laid[l].repeats, depth), c.picks[l].stacks) && t.canStack(c.laid[l].sheet, depth) {
					out = append(out, []CureStep{{Kind: OtherStack, Group: g, Layout: l, Depth: depth}})
				}
			}
		}
	}
	return out, nil
}

// canStack reports whether some machine may cut stacks so deep of a sheet.
func (t *task) canStack(sheet, depth int) bool {
	return slices.ContainsFunc(t.machines, func(m int) bool {
		return shop.TakesSheet(&t.job.Machines[m], &t.group.Sheets[sheet]) && t.setup(m, depth).Check() == nil
	})
}

// shifts lists an extra shift on the order's last day, and one on every day up
// to it that is not worked.
func (h *healer) shifts(m, i int) [][]CureStep {
	usual := h.plan.Machines[m].HoursPerDay
	days, last := h.floor.horizon.days, h.lastDay(i)
	var out [][]CureStep
	shift := func(day time.Time, open float64) {
		if hours := math.Min(usual, 24-open); hours >= 1 {
			out = append(out, []CureStep{{Kind: ExtraShift, Machine: m, Day: day, Hours: hours}})
		}
	}
	if last >= 0 {
		shift(days[last], h.floor.horizon.open[m][last])
	}
	due := h.order(i).Due
	for k := 1; k < len(days) && days[k-1].Before(due); k++ {
		for d := days[k-1].AddDate(0, 0, 1); d.Before(days[k]) && !d.After(due); d = d.AddDate(0, 0, 1) {
			shift(d, 0)
		}
	}
	return out
}

// divisions lists every layout that holds the order divided, where something on
// it may wait, and all of them divided.
func (h *healer) divisions(group int, o *shop.Order) [][]CureStep {
	var out [][]CureStep
	var all []CureStep
	for l := range h.floor.chosen[group].laid {
		urgent, others := h.urgentOn(group, l, o)
		if len(urgent) == 0 || others == 0 || len(h.floor.chosen[group].routes[l].Cuts) == 0 {
			continue
		}
		step := CureStep{Kind: DivideLayout, Group: group, Layout: l, Orders: urgent}
		all = append(all, step)
		out = append(out, []CureStep{step})
	}
	if len(all) > 1 {
		out = append(out, all)
	}
	return out
}

// urgentOn lists the orders on a layout that are due no later than o, none where
// o itself is not on it, and counts the others.
func (h *healer) urgentOn(group, layout int, o *shop.Order) (urgent []string, others int) {
	g := &h.floor.groups[group]
	holds := false
	for part, n := range countParts(g, layout) {
		p := &g.Parts[part]
		switch {
		case n == 0:
		case !p.Due.IsZero() && !p.Due.After(o.Due):
			urgent = append(urgent, p.ID)
			holds = holds || p.ID == o.ID
		default:
			others++
		}
	}
	if !holds {
		return nil, others
	}
	return urgent, others
}

// lastDay is the last working day on which overtime can help an order; -1 when
// there is none.
func (h *healer) lastDay(i int) int {
	o, last := h.order(i), -1
	for k, d := range h.floor.horizon.days {
		if d.Before(o.Due) || d.Equal(o.Due) && o.DueSec == 0 {
			last = k
		}
	}
	return last
}

// overtime spreads so many steps of overtime over a machine's days up to the
// last, the last first, as far as a day bears it.
func (h *healer) overtime(from *trial, m, last, steps int) []CureStep {
	out := slices.Clone(from.steps)
	z := from.floor.horizon
	for d := last; d >= 0 && steps > 0; d-- {
		day := h.floor.horizon.days[d]
		at := slices.IndexFunc(z.days, day.Equal)
		if z.open[m][at] == 0 || worksOvertime(from.steps, m, day) {
			continue
		}
		most := math.Min(h.floor.job.Rates.OvertimeMostH, 24-z.open[m][at])
		n := min(steps, int(most/overtimeStep))
		if n > 0 {
			out = append(out, CureStep{Kind: Overtime, Machine: m, Day: day, Hours: float64(n) * overtimeStep})
			steps -= n
		}
	}
	return out
}

func worksOvertime(steps []CureStep, m int, day time.Time) bool {
	return slices.ContainsFunc(steps, func(s CureStep) bool { return s.Kind == Overtime && s.Machine == m && s.Day.Equal(day) })
}

// leastOvertime finds for each machine the least overtime that saves an order on
// top of a trial, by halving.
func (h *healer) leastOvertime(i int, from *trial) ([]*trial, error) {
	var out []*trial
	last := h.lastDay(i)
	for m := range h.plan.Machines {
		full := h.overtime(from, m, last, math.MaxInt32)
		most := 0
		for _, s := range full[len(from.steps):] {
			most += int(math.Round(s.Hours / overtimeStep))
		}
		if most == 0 {
			continue
		}
		best, err := h.tryFor(i, from, full)
		if err != nil {
			return nil, err
		}
		if !h.saves(best, i) {
			continue
		}
		for low := 0; most-low > 1; { // low does not do, most does
			mid := (low + most) / 2
			t, err := h.tryFor(i, best, h.overtime(from, m, last, mid))
			if err != nil {
				return nil, err
			}
			if h.saves(t, i) {
				most, best = mid, t
			} else {
				low = mid
			}
		}
		out = append(out, best)
	}
	return out, nil
}

// saves reports whether a trial brings an order in time, makes no other late and
// none later by a day.
func (h *healer) saves(t *trial, i int) bool {
	for k := range t.orders {
		if worsened(&t.orders[k], &h.plan.Orders[k]) {
			return false
		}
	}
	return !t.orders[i].Tardy()
}

// worsened reports whether an order is late now and was not, or is later by a day.
func worsened(now, was *OrderDate) bool {
	return now.Tardy() && !was.Tardy() || now.LateDays > was.LateDays
}

// keep remembers a trial as a cure.
func (h *healer) keep(t *trial) {
	c := h.cureOf(t)
	key := fmt.Sprint(c.Steps, c.Saves)
	if !slices.ContainsFunc(h.found, func(c Cure) bool { return fmt.Sprint(c.Steps, c.Saves) == key }) {
		h.found = append(h.found, c)
	}
}

func (h *healer) cureOf(t *trial) Cure {
	c := Cure{Steps: t.steps, Premium: t.extra, Money: t.money + t.extra - h.base.money, Calendar: t.slots}
	for k := range t.orders {
		if h.plan.Orders[k].Tardy() && !t.orders[k].Tardy() {
			c.Saves = append(c.Saves, t.orders[k].Order)
		}
	}
	used := h.plan.WeekDays
	for _, s := range t.slots {
		used = max(used, s.EndDay+1)
	}
	c.Days = t.floor.horizon.days[:used:used]
	for m := range t.floor.horizon.open {
		c.Open = append(c.Open, t.floor.horizon.open[m][:used:used])
	}
	return c
}

// healAll puts a cure for every late order together: the most urgent order's
// cheapest change, then on top of it what the next one still needs.
func (h *healer) healAll(ctx context.Context, late []int) error {
	if len(late) < 2 {
		return nil
	}
	at := h.base
	byDue := slices.Clone(late)
	slices.SortStableFunc(byDue, func(a, b int) int { return h.order(a).Due.Compare(h.order(b).Due) })
	for _, i := range byDue {
		if !at.orders[i].Tardy() || ctx.Err() != nil {
			continue
		}
		next, err := h.cheapestOn(at, i)
		if err != nil {
			return err
		}
		if next != nil {
			at = next
		}
	}
	if at != h.base {
		h.keep(at)
	}
	return nil
}

// cheapestOn is the cheapest trial on top of another that saves an order; nil
// where none does.
func (h *healer) cheapestOn(at *trial, i int) (*trial, error) {
	var tries []*trial
	for k := range h.found {
		c := &h.found[k]
		if !slices.Contains(c.Saves, h.plan.Orders[i].Order) || clash(at.steps, c.Steps) {
			continue
		}
		t, err := h.tryFor(i, at, slices.Concat(at.steps, c.Steps))
		if err != nil {
			return nil, err
		}
		if h.saves(t, i) {
			tries = append(tries, t)
		}
	}
	least, err := h.leastOvertime(i, at)
	if err != nil {
		return nil, err
	}
	tries = append(tries, least...)
	if len(tries) == 0 {
		return nil, nil
	}
	return slices.MinFunc(tries, func(a, b *trial) int { return cmp.Compare(a.money+a.extra, b.money+b.extra) }), nil
}

// clash reports whether two lists of steps change the same thing.
func clash(a, b []CureStep) bool {
	for _, s := range a {
		for _, r := range b {
			same := s.Group == r.Group && s.Layout == r.Layout
			if s.OfHours() {
				same = s.Machine == r.Machine && s.Day.Equal(r.Day)
			}
			if same && s.OfHours() == r.OfHours() {
				return true
			}
		}
	}
	return false
}

// sorted is the cures by money, of each order the cheapest few, and whichever
// saves most orders.
func (h *healer) sorted() []Cure {
	slices.SortStableFunc(h.found, func(a, b Cure) int {
		return cmp.Or(cmp.Compare(a.Money, b.Money), cmp.Compare(len(a.Steps), len(b.Steps)), -cmp.Compare(len(a.Saves), len(b.Saves)))
	})
	most := 0
	for _, c := range h.found {
		most = max(most, len(c.Saves))
	}
	times := map[string]int{}
	var out []Cure
	for _, c := range h.found {
		wanted := false
		for _, o := range c.Saves {
			times[o]++
			wanted = wanted || times[o] <= curesKept
		}
		if len(c.Saves) == most && most > 0 {
			wanted, most = true, math.MaxInt32
		}
		if wanted {
			out = append(out, c)
		}
	}
	return out
}
