package week

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"kerfold/nest"
	"kerfold/nest/shop"
)

// Replan plans what is left of a week: what has been cut stays cut and its
// sheets used, layouts that are not begun stay as they are where their parts
// are still wanted and their sheets are still there, and only the rest is laid
// out anew. Layouts keep their ids; the calendar keeps its order unless another
// makes orders less late or saves set-ups.
//
// The job is the whole week's, with today's quantities and the stock as it was
// before anything was cut. The error is a [shop.Problems] where what is done
// does not match the earlier plan.
func Replan(ctx context.Context, job *shop.Job, earlier *Plan, d *shop.Done, o Options) (*Plan, error) {
	return replanWith(ctx, job, earlier, d, o, nestEngine)
}

func replanWith(ctx context.Context, job *shop.Job, earlier *Plan, d *shop.Done, o Options, e engine) (*Plan, error) {
	if err := check(job); err != nil {
		return nil, err
	}
	done, err := doneWork(earlier, d)
	if err != nil {
		return nil, err
	}
	r := &replanner{whole: job, earlier: earlier, done: done, e: e}
	if r.job, err = r.remaining(d); err != nil {
		return nil, err
	}
	o.Remnants = ruleFor(o.Remnants, job)
	m := &maker{job: r.job, o: filled(o), engine: e, tasks: gather(r.job), prior: earlier}
	m.ways = make([][]Way, len(m.tasks))
	m.meter = newMeter(nil, len(m.tasks))
	r.renumber(m.tasks)
	for _, t := range m.tasks {
		r.kept = append(r.kept, r.keep(ctx, t, m.o.Remnants))
	}
	ctx, cancel := m.limited(ctx)
	defer cancel()
	searching, stop := m.within(ctx, searchShare)
	defer stop()
	if err := r.layRest(searching, m); err != nil {
		return nil, err
	}
	p, err := m.assemble(ctx)
	if err != nil {
		return nil, err
	}
	p.Done = done
	p.Changes = append(r.changes, r.against(p)...)
	return p, nil
}

// A replanner changes an earlier plan.
type replanner struct {
	whole, job *shop.Job // the week's, and what is left of it
	earlier    *Plan
	done       []DoneLayout
	e          engine
	kept       []*candidate // by task
	changes    []string
}

func (r *replanner) say(format string, args ...any) {
	r.changes = append(r.changes, fmt.Sprintf(format, args...))
}

// remaining is the job less what is done.
func (r *replanner) remaining(d *shop.Done) (*shop.Job, error) {
	j := *r.whole
	j.Orders, j.Stock = nil, slices.Clone(r.whole.Stock)
	made := good(r.done)
	for _, o := range r.whole.Orders {
		n := max(0, made[o.ID])
		most := o.Quantity + o.Extra - n
		o.Quantity = max(0, o.Quantity-n)
		o.Extra = max(0, most-o.Quantity)
		if o.Quantity > 0 {
			j.Orders = append(j.Orders, o)
		}
	}
	if len(j.Orders) == 0 {
		return nil, errors.New("everything the job wants is cut: there is nothing left to plan")
	}
	r.dissolveKits(j.Orders)
	cut := sheetsCut(r.done)
	for i := range j.Stock {
		s := &j.Stock[i]
		if n := cut[s.ID]; n > s.Count {
			r.say("sheet %s: %d are cut, the job lists %d: none is left", s.ID, n, s.Count)
			s.Count = 0
		} else {
			s.Count -= n
		}
	}
	if j.Register != "" && r.earlier.RegisterSum != "" && shop.RegisterSum(j.RegisterData) != r.earlier.RegisterSum {
		r.say("the stock register is not the one of the earlier plan: the sheets cut are taken off as if it still listed them")
	}
	return &j, r.begin(&j, d)
}

// dissolveKits lets the parts of a kit be cut singly whose members are wanted in
// different numbers, as after scrap.
func (r *replanner) dissolveKits(orders []shop.Order) {
	kits := map[string]int{}
	broken := map[string]bool{}
	for _, o := range orders {
		if o.Kit == "" {
			continue
		}
		n := o.Quantity / o.PerKit
		if was, seen := kits[o.Kit]; seen && was != n || o.Quantity%o.PerKit != 0 {
			broken[o.Kit] = true
		}
		kits[o.Kit] = n
	}
	for _, o := range r.whole.Orders { // members that are complete make the others single too
		if o.Kit != "" && !slices.ContainsFunc(orders, func(p shop.Order) bool { return p.ID == o.ID }) && kits[o.Kit] > 0 {
			broken[o.Kit] = true
		}
	}
	said := map[string]bool{}
	for i := range orders {
		if o := &orders[i]; broken[o.Kit] {
			if !said[o.Kit] {
				r.say("kit %s: its parts are wanted in different numbers now and are cut singly", o.Kit)
				said[o.Kit] = true
			}
			o.Kit, o.PerKit = "", 0
		}
	}
}

// begin sets the day and time from which the rest is planned.
func (r *replanner) begin(j *shop.Job, d *shop.Done) error {
	day, sec := d.From, 0.0
	if day.IsZero() {
		day, sec = doneUntil(r.earlier, r.done)
		r.say("the calendar goes on where the stacks cut end in the earlier one: %s, %.1f h into the day; give another time where that is not so", day.Format("Mon 2 Jan"), sec/3600)
	} else if d.FromSec > 0 {
		sec = max(0, d.FromSec-j.DayStartSec)
	}
	if day.Before(j.Days[0]) {
		return fmt.Errorf("the rest is to be planned from %s, and the job begins on %s: give a later day", day.Format("2006-01-02"), j.Days[0].Format("2006-01-02"))
	}
	days := slices.Clone(j.Days)
	for days[len(days)-1].Before(day) && len(days) < mostDays {
		days = append(days, j.NextDay(days[len(days)-1]))
	}
	for days[0].Before(day) {
		if len(days) == 1 {
			return fmt.Errorf("the rest is to be planned from %s, which is far beyond the job's days", day.Format("2006-01-02"))
		}
		days = days[1:]
	}
	j.Days, j.Start = days, days[0]
	if days[0].Equal(day) {
		j.FromSec = sec
	}
	return nil
}

// renumber gives groups and layouts the ids they had, and new ones new ids.
func (r *replanner) renumber(tasks []*task) {
	last := 0
	for i := range r.earlier.Groups {
		last = max(last, trailing(r.earlier.Groups[i].ID))
	}
	for _, l := range r.done {
		last = max(last, trailing(l.ID[:max(0, strings.LastIndex(l.ID, "-"))]))
	}
	for _, t := range tasks {
		if g := r.group(t); g != nil {
			t.group.ID = g.ID
		} else {
			last++
			t.group.ID = fmt.Sprintf("G%d", last)
		}
		ids := make([]string, 0, len(r.done))
		for _, l := range r.done {
			ids = append(ids, l.ID)
		}
		if g := r.group(t); g != nil {
			for i := range g.Layouts {
				ids = append(ids, g.Layouts[i].ID)
			}
		}
		for _, id := range ids {
			if strings.HasPrefix(id, t.group.ID+"-L") {
				t.numbered = max(t.numbered, trailing(id))
			}
		}
	}
}

// trailing is the number an id ends in; 0 where it ends in none.
func trailing(id string) int {
	i := len(id)
	for i > 0 && id[i-1] >= '0' && id[i-1] <= '9' {
		i--
	}
	n, _ := strconv.Atoi(id[i:])
	return n
}

// group is the earlier plan's group of a task's material, thickness and grade.
func (r *replanner) group(t *task) *Group {
	for i := range r.earlier.Groups {
		g := &r.earlier.Groups[i]
		if g.Material == t.group.Material && g.ThicknessMM == t.group.ThicknessMM && g.Grade == t.group.Grade {
			return g
		}
	}
	return nil
}

// keep takes over the earlier layouts of a group that are not begun, as often
// as their parts are still wanted and their sheets are there.
func (r *replanner) keep(ctx context.Context, t *task, rule RemnantRule) *candidate {
	c := t.newCandidate("kept from the earlier plan")
	g := r.group(t)
	if g == nil {
		return c
	}
	part, sheet := r.sameParts(t, g), sameSheets(t, g)
	for i := range g.Layouts {
		l := &g.Layouts[i]
		left := l.Repeats - r.cutSince(l.ID)
		if left <= 0 {
			continue
		}
		if sheet[l.Sheet] < 0 {
			r.say("%s: its sheet %s is no longer in stock; its parts are laid out anew", l.ID, g.Sheets[l.Sheet].ID)
			continue
		}
		r.keepLayout(t, c, g, l, left, part, sheet[l.Sheet])
	}
	if len(c.laid) == 0 {
		return c
	}
	if err := c.price(ctx, t, rule, routed); err == nil {
		t.adopt(c)
		if t.legal() {
			return c
		}
	}
	r.say("%s: the layouts of the earlier plan do not pass the check with the job as it is now; its parts are laid out anew", t.group.ID)
	return t.newCandidate(c.way.Name)
}

// legal reports whether the group's layouts pass the check, whatever is missing.
func (t *task) legal() bool { return Judge(&t.group).OK() }

// keepLayout keeps as many repeats of a layout as are wanted whole, and one more
// with what is not wanted left off.
func (r *replanner) keepLayout(t *task, c *candidate, g *Group, l *Layout, left int, part []int, sheet int) {
	now := laid{sheet: sheet, id: l.ID}
	for _, pl := range l.Placements {
		if part[pl.Part] >= 0 {
			now.placements = append(now.placements, nest.Placement{Part: part[pl.Part], Pose: pl.Pose})
		}
	}
	slices.SortFunc(now.placements, comparePlacements)
	dropped := len(l.Placements) - len(now.placements)
	room := r.room(t, c)
	free := t.group.Sheets[sheet].Count - c.used[sheet]
	whole := min(left, free, timesWithin(now.counts(len(t.group.Parts)), room))
	if len(now.placements) == 0 {
		r.say("%s: none of its parts is wanted any more; it is not cut", l.ID)
		return
	}
	if dropped > 0 {
		now.id = ""
		r.say("%s: %d of its %d parts are no longer wanted as they were and are left off; the others stay where they lie", l.ID, dropped, len(l.Placements))
	}
	if whole > 0 {
		n := now
		n.repeats = whole
		c.take(n)
	}
	if whole == min(left, free) {
		if whole < left {
			r.say("%s: only %d of its %d sheets are still in stock", l.ID, whole, left)
		}
		return
	}
	fewer := now
	fewer.id, fewer.repeats, fewer.placements = "", 1, nil
	room = r.room(t, c)
	for _, pl := range now.placements {
		if room[pl.Part] > 0 && t.group.Parts[pl.Part].Kit == "" {
			room[pl.Part]--
			fewer.placements = append(fewer.placements, pl)
		}
	}
	switch {
	case len(fewer.placements) == 0:
		r.say("%s: cut %d times instead of %d, its other parts are no longer wanted", l.ID, whole, left)
	case whole == 0:
		r.say("%s: cut with %d of its %d parts, the others are no longer wanted", l.ID, len(fewer.placements), len(l.Placements))
		c.take(fewer)
	default:
		r.say("%s: cut %d times instead of %d, and once with %d of its %d parts", l.ID, whole, left, len(fewer.placements), len(l.Placements))
		c.take(fewer)
	}
}

// room is how many more copies of each part may be cut: those wanted, the
// over-run, and what the earlier plan cut beyond it.
func (r *replanner) room(t *task, c *candidate) []int {
	out := make([]int, len(t.group.Parts))
	for i := range out {
		o := &t.group.Parts[i]
		out[i] = max(0, o.Quantity+o.Extra+r.surplus(t, o.ID)-c.placed[i])
	}
	return out
}

// surplus is how many copies of an order the earlier plan cut beyond what was
// asked for.
func (r *replanner) surplus(t *task, order string) int {
	g := r.group(t)
	if g == nil {
		return 0
	}
	for i := range g.Parts {
		if g.Parts[i].ID == order {
			return g.Surplus[i]
		}
	}
	return 0
}

// cutSince is how many sheets of a layout were cut since the earlier plan.
func (r *replanner) cutSince(id string) int {
	n := 0
	for _, l := range r.done {
		if l.ID == id {
			n += l.Cut
		}
	}
	for _, l := range r.earlier.Done {
		if l.ID == id {
			n -= l.Cut
		}
	}
	return n
}

// sameParts gives each part of the earlier group its index now; -1 where it is
// not wanted any more, or has another outline.
func (r *replanner) sameParts(t *task, g *Group) []int {
	out := make([]int, len(g.Parts))
	for i := range g.Parts {
		was := &g.Parts[i]
		out[i] = slices.IndexFunc(t.group.Parts, func(o shop.Order) bool { return o.ID == was.ID })
		if k := out[i]; k >= 0 && !reflect.DeepEqual(t.group.Parts[k].Shape, was.Shape) {
			r.say("order %s: its outline has changed; it is laid out anew", was.ID)
			out[i] = -1
		}
	}
	return out
}

// sameSheets gives each sheet of the earlier group its index now; -1 where it is
// gone.
func sameSheets(t *task, g *Group) []int {
	out := make([]int, len(g.Sheets))
	for i := range g.Sheets {
		out[i] = slices.IndexFunc(t.group.Sheets, func(s shop.Stock) bool {
			return s.ID == g.Sheets[i].ID && reflect.DeepEqual(s.Outline, g.Sheets[i].Outline)
		})
	}
	return out
}
