package week

import (
	"cmp"
	"slices"
	"time"
)

// orderDates follows the calendar and notes when each order's last wanted copy
// is cut.
func orderDates(p *Plan) []OrderDate {
	var out []OrderDate
	first := make([]int, len(p.Groups)) // index of each group's first order
	for gi := range p.Groups {
		g := &p.Groups[gi]
		first[gi] = len(out)
		for i := range g.Parts {
			o := &g.Parts[i]
			out = append(out, OrderDate{Order: o.ID, Group: gi, Due: o.Due, Wanted: o.Quantity, Finish: -1})
		}
	}
	for _, s := range byEnd(p.Calendar) {
		for part, n := range countParts(&p.Groups[s.Group], s.Layout) {
			o := &out[first[s.Group]+part]
			if n > 0 && o.Placed < o.Wanted {
				o.Finish, o.FinishSec = s.EndDay, s.EndSec
			}
			o.Placed += n * s.Depth
		}
	}
	for i := range out {
		out[i].judge(p.Days)
	}
	return out
}

// judge fills in whether the order is late. An order that is not complete is
// late when it has a due date.
func (o *OrderDate) judge(days []time.Time) {
	if o.Due.IsZero() {
		return
	}
	if o.Finish >= 0 {
		o.LateDays = max(0, int(days[o.Finish].Sub(o.Due).Hours()/24))
	}
	o.Late = o.LateDays > 0 || o.Placed < o.Wanted
}

// byEnd is the calendar in order of ends.
func byEnd(slots []Slot) []Slot {
	out := slices.Clone(slots)
	slices.SortStableFunc(out, func(a, b Slot) int {
		return cmp.Or(cmp.Compare(a.EndDay, b.EndDay), cmp.Compare(a.EndSec, b.EndSec))
	})
	return out
}
