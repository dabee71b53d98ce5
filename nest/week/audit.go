package week

import "fmt"

// Audit holds a plan's book-keeping against itself: runs against repeats,
// calendar against runs, orders against layouts, lateness against the calendar,
// money against its parts, bounds against the ways, and the cuts against the contours. It returns one
// sentence per fault. What Judge looks at is not looked at again.
func Audit(p *Plan) []string {
	var faults []string
	cut := map[[3]int]int{} // stacks in the calendar by group, layout, depth
	for _, s := range p.Calendar {
		cut[[3]int{s.Group, s.Layout, s.Depth}]++
	}
	for g := range p.Groups {
		faults = append(faults, auditBound(&p.Groups[g])...)
		for l := range p.Groups[g].Layouts {
			faults = append(faults, auditLayout(&p.Groups[g].Layouts[l], func(depth int) int { return cut[[3]int{g, l, depth}] })...)
			faults = append(faults, auditCuts(&p.Groups[g], &p.Groups[g].Layouts[l])...)
		}
	}
	faults = append(faults, auditOrders(p)...)
	faults = append(faults, auditDates(p)...)
	faults = append(faults, p.timetable().faults()...)
	faults = append(faults, auditCures(p)...)
	return append(faults, auditMoney(p)...)
}

func auditLayout(l *Layout, inCalendar func(depth int) int) []string {
	var faults []string
	sheets, stacks := 0, map[int]int{}
	for _, r := range l.Runs {
		sheets += r.Depth * r.Count
		stacks[r.Depth] += r.Count
	}
	if sheets != l.Repeats {
		faults = append(faults, fmt.Sprintf("%s: its stacks cut %d sheets, it says %d", l.ID, sheets, l.Repeats))
	}
	for _, r := range l.Runs {
		if n := inCalendar(r.Depth); n != stacks[r.Depth] {
			faults = append(faults, fmt.Sprintf("%s: %d stacks of %d, but the calendar has %d", l.ID, stacks[r.Depth], r.Depth, n))
			break
		}
	}
	return faults
}

func auditOrders(p *Plan) []string {
	var faults []string
	placed := map[[2]string]int{}
	wanted := map[[2]string]int{}
	for i := range p.Groups {
		g := &p.Groups[i]
		for k := range g.Parts {
			wanted[[2]string{g.ID, g.Parts[k].ID}] += g.Parts[k].Quantity
		}
		for k := range g.Layouts {
			for part, n := range countParts(g, k) {
				placed[[2]string{g.ID, g.Parts[part].ID}] += n * g.Layouts[k].Repeats
			}
		}
	}
	for _, o := range p.Orders {
		key := [2]string{p.Groups[o.Group].ID, o.Order}
		if placed[key] != o.Placed || wanted[key] != o.Wanted {
			faults = append(faults, fmt.Sprintf("order %s: it says %d of %d, the layouts hold %d of %d",
				o.Order, o.Placed, o.Wanted, placed[key], wanted[key]))
		}
	}
	return faults
}
