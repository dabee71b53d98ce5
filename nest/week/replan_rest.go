package week

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"kerfold/cost"
	"kerfold/nest"
	"kerfold/nest/shop"
)

// layRest lays out what the kept layouts leave. Where that finds no room, kept
// layouts are given up one by one, the emptiest first, and laid out with it.
func (r *replanner) layRest(ctx context.Context, m *maker) error {
	m.found = make([][]*candidate, len(m.tasks))
	for i, t := range m.tasks {
		for {
			c, err := r.rest(ctx, m, i)
			if err != nil {
				return err
			}
			if c.way.Short == 0 || len(r.kept[i].laid) == 0 {
				m.found[i] = []*candidate{c}
				break
			}
			r.giveUp(t, i)
		}
	}
	return nil
}

// giveUp lets go of the kept layout that is emptiest.
func (r *replanner) giveUp(t *task, i int) {
	filled := func(l laid) float64 {
		sum := 0.0
		for _, pl := range l.placements {
			sum += t.area[pl.Part]
		}
		return sum / t.round[l.sheet]
	}
	old := r.kept[i]
	at := 0
	for k := range old.laid {
		if filled(old.laid[k]) < filled(old.laid[at]) {
			at = k
		}
	}
	c := t.newCandidate(old.way.Name)
	for k, l := range old.laid {
		if k != at {
			c.take(l)
		}
	}
	r.say("%s: given up, because what else is wanted finds no sheet; its parts are laid out anew with it", t.layoutID(old, at))
	r.kept[i] = c
}

// rest is the kept layouts of a group and what else it needs, planned as a week
// of its own.
func (r *replanner) rest(ctx context.Context, m *maker, i int) (*candidate, error) {
	t, kept := m.tasks[i], r.kept[i]
	c := t.newCandidate(kept.way.Name)
	for _, l := range kept.laid {
		c.take(l)
	}
	left := c.rest(t.full())
	job := r.restJob(t, left)
	if len(job.Orders) == 0 {
		return c, c.price(ctx, t, m.o.Remnants, routed)
	}
	o := m.o
	if total := len(m.tasks); total > 0 && o.Effort > 0 {
		o.Effort /= float64(total)
	}
	if o.Clock != nil {
		o.Clock = partClock{o.Clock, float64(len(m.tasks) - i)}
	}
	n := &maker{job: job, o: o, engine: r.e, tasks: gather(job), meter: newMeter(nil, 1)}
	ctx, cancel := n.limited(ctx)
	defer cancel()
	if err := n.first(ctx); err != nil {
		return nil, err
	}
	if err := n.improve(ctx); err != nil {
		return nil, err
	}
	r.takeOver(c, t, n)
	c.way.Name = n.found[0][0].way.Name
	if len(kept.laid) > 0 {
		c.way.Name = "kept from the earlier plan; the rest: " + c.way.Name
	}
	return c, c.price(ctx, t, m.o.Remnants, routed)
}

// A partClock has a part of another clock's time left.
type partClock struct {
	Clock
	parts float64
}

// Left is how many seconds are left for the part.
func (c partClock) Left() float64 { return c.Clock.Left() / c.parts }

// restJob is the job of one group's rest.
func (r *replanner) restJob(t *task, left demand) *shop.Job {
	j := *r.job
	j.Orders, j.Stock, j.Warnings = nil, nil, nil
	for i, n := range left.want {
		if n > 0 {
			o := t.group.Parts[i]
			o.Quantity = n
			j.Orders = append(j.Orders, o)
		}
	}
	for i, n := range left.sheets {
		if n > 0 {
			s := t.group.Sheets[i]
			s.Count = n
			j.Stock = append(j.Stock, s)
		}
	}
	return &j
}

// takeOver adds what the rest's plan found to a candidate.
func (r *replanner) takeOver(c *candidate, t *task, n *maker) {
	best, of := n.found[0][0], &n.tasks[0].group
	for _, l := range best.laid {
		now := laid{repeats: l.repeats}
		now.sheet = slices.IndexFunc(t.group.Sheets, func(s shop.Stock) bool { return s.ID == of.Sheets[l.sheet].ID })
		for _, pl := range l.placements {
			part := slices.IndexFunc(t.group.Parts, func(o shop.Order) bool { return o.ID == of.Parts[pl.Part].ID })
			now.placements = append(now.placements, nest.Placement{Part: part, Pose: pl.Pose})
		}
		slices.SortFunc(now.placements, comparePlacements)
		c.take(now)
	}
	c.status, c.stats = best.status, best.stats
	c.warnings = append(c.warnings, best.warnings...)
}

// likeBefore is the queue as the earlier plan had it, new batches put where they
// do least harm, unless the one found is less late or has fewer set-ups.
func (f *floor) likeBefore(b *bench, found queue, prior *Plan) queue {
	q := make(queue, len(b.hours))
	placed := make([]bool, len(f.batches))
	for _, s := range prior.Calendar {
		id := prior.Groups[s.Group].Layouts[s.Layout].ID
		m := slices.IndexFunc(f.job.Machines, machineNamed(prior.Machines[s.Machine].ID))
		for i, batch := range f.batches {
			j := batch[0]
			if !placed[i] && m >= 0 && j.work[m].ok && f.groups[j.group].Layouts[j.layout].ID == id && j.depth == s.Depth {
				q[m], placed[i] = append(q[m], i), true
				break
			}
		}
	}
	j := newJudge(b)
	for i := range f.batches {
		if !placed[i] {
			q = cheapestPlace(j, q, i)
		}
	}
	was, is := j.weigh(q), j.weigh(found)
	if cmp.Or(is.compareLate(was), cmp.Compare(is.setup, was.setup)) < 0 {
		return found
	}
	return q
}

// cheapestPlace puts a chore where the tally is least.
func cheapestPlace(j *judge, q queue, c int) queue {
	var best queue
	var least tally
	for m := range q {
		if !j.b.chores[c].can(m) {
			continue
		}
		for at := 0; at <= len(q[m]); at++ {
			tried := cloneQueue(q)
			tried[m] = slices.Insert(tried[m], at, c)
			if t := j.weigh(tried); best == nil || t.less(least) {
				best, least = tried, t
			}
		}
	}
	if best == nil {
		return q
	}
	return best
}

// against says what a plan changes of the earlier one.
func (r *replanner) against(p *Plan) []string {
	var out []string
	for _, l := range r.done {
		line := fmt.Sprintf("%s: %s cut", l.ID, sheetsText(l.Cut))
		for _, s := range l.Scrapped {
			line += fmt.Sprintf(", %d of %s scrapped and cut again", s.Count, s.Order)
		}
		out = append(out, line)
	}
	for i := range r.earlier.Groups {
		for _, l := range r.earlier.Groups[i].Layouts {
			if n := r.cutSince(l.ID); n > 0 && l.Remnant != nil {
				out = append(out, fmt.Sprintf("%s left its remnant %s %d times: it is not among the stock this plan cuts from", l.ID, l.RemnantID, n))
			}
		}
	}
	var same, fresh []string
	for i := range p.Groups {
		for k := range p.Groups[i].Layouts {
			l := &p.Groups[i].Layouts[k]
			if _, at := r.earlier.findLayout(l.ID); at >= 0 {
				same = append(same, l.ID)
			} else {
				fresh = append(fresh, l.ID)
			}
		}
	}
	if len(same) > 0 {
		out = append(out, "kept as they were: "+joinComma(same))
	}
	if len(fresh) > 0 {
		out = append(out, "new: "+joinComma(fresh))
	}
	return append(out, r.orderChanges(p)...)
}

// orderChanges says which orders are new, gone or late otherwise than before.
func (r *replanner) orderChanges(p *Plan) []string {
	before := map[string]*OrderDate{}
	for i := range r.earlier.Orders {
		before[r.earlier.Orders[i].Order] = &r.earlier.Orders[i]
	}
	var out []string
	now, made := map[string]bool{}, good(r.done)
	for i := range p.Orders {
		o := &p.Orders[i]
		now[o.Order] = true
		was := before[o.Order]
		switch {
		case was == nil && made[o.Order] == 0:
			out = append(out, fmt.Sprintf("order %s is new: %d wanted", o.Order, o.Wanted))
		case was != nil && was.Tardy() != o.Tardy():
			out = append(out, fmt.Sprintf("order %s was %s, now it is %s", o.Order, lateness(*was), lateness(*o)))
		}
	}
	for i := range r.earlier.Orders {
		o := &r.earlier.Orders[i]
		if now[o.Order] {
			continue
		}
		if slices.ContainsFunc(r.whole.Orders, func(w shop.Order) bool { return w.ID == o.Order }) {
			out = append(out, fmt.Sprintf("order %s is complete", o.Order))
		} else {
			out = append(out, fmt.Sprintf("order %s is no longer in the job", o.Order))
		}
	}
	return out
}

func sheetsText(n int) string {
	if n == 1 {
		return "1 sheet"
	}
	return fmt.Sprintf("%d sheets", n)
}

func joinComma(words []string) string { return strings.Join(words, ", ") }

// machineNamed tells a machine by its id.
func machineNamed(id string) func(cost.Machine) bool {
	return func(m cost.Machine) bool { return m.ID == id }
}
