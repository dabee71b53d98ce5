package week

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"kerfold/nest/shop"
)

// orderDates follows the plan's calendar and notes when each order's last wanted
// copy is cut.
func orderDates(p *Plan) []OrderDate { return p.timetable().orderDates() }

func (t timetable) orderDates() []OrderDate {
	p := t.plan
	var out []OrderDate
	first := make([]int, len(p.Groups)) // index of each group's first order
	for gi := range p.Groups {
		g := &p.Groups[gi]
		first[gi] = len(out)
		for i := range g.Parts {
			o := &g.Parts[i]
			out = append(out, OrderDate{Order: o.ID, Group: gi, Due: o.Due, DueSec: o.DueSec, Wanted: o.Quantity, Finish: -1})
		}
	}
	machine := make([]int, len(out)) // that cuts each order's last copy
	for _, s := range byEnd(t.slots) {
		for part, n := range t.yields(s) {
			i := first[s.Group] + part
			o := &out[i]
			if n > 0 && o.Placed < o.Wanted {
				o.Finish, o.FinishSec, machine[i] = s.EndDay, s.EndSec, s.Machine
			}
			o.Placed += n * s.Depth
		}
	}
	for i := range out {
		out[i].judge(t.days, t.hours[machine[i]])
	}
	return out
}

// judge fills in whether the order is late, hours being when the machine is open
// that cuts its last copy. An order that is not complete is late when it has a
// due date.
func (o *OrderDate) judge(days []time.Time, hours *openHours) {
	if o.Due.IsZero() {
		return
	}
	if o.Finish >= 0 {
		o.LateDays = max(0, int(days[o.Finish].Sub(o.Due).Hours()/24))
		due := dueClock(days[0], &shop.Order{Due: o.Due, DueSec: o.DueSec})
		if done := hours.opens[o.Finish] + o.FinishSec; done > due {
			o.LateSec = max(0, hours.tapeAt(done)-hours.tapeAt(due))
		}
	}
	o.Late = o.Tardy() || o.Placed < o.Wanted
}

// byEnd is the calendar in order of ends.
func byEnd(slots []Slot) []Slot {
	out := slices.Clone(slots)
	slices.SortStableFunc(out, func(a, b Slot) int {
		return cmp.Or(cmp.Compare(a.EndDay, b.EndDay), cmp.Compare(a.EndSec, b.EndSec))
	})
	return out
}

// clockWords is a time of day behind a date; nothing for the end of the day.
func clockWords(sec float64) string {
	if sec == 0 {
		return ""
	}
	return fmt.Sprintf(" %02d:%02d", int(sec)/3600, int(sec)/60%60)
}
