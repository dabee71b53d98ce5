package week

import (
	"fmt"
	"math"
	"slices"
	"time"
)

// auditCures follows every cure's calendar: within the hours it opens, every
// stack of the plan in it as the steps have it cut, and the orders it says it
// saves in time and no other late.
func auditCures(p *Plan) []string {
	var faults []string
	for i := range p.Cures {
		c := &p.Cures[i]
		t := p.timetableOf(c.Days, c.Open, c.Calendar, c.Steps)
		found := t.faults()
		found = append(found, cureStacks(p, c)...)
		found = append(found, cureHours(p, c)...)
		found = append(found, cureOrders(p, c, t.orderDates())...)
		if sum := c.premium(p); math.Abs(sum-c.Premium) > sumSlack*math.Max(1, sum) {
			found = append(found, fmt.Sprintf("its overtime and shifts cost %.2f, it says %.2f", sum, c.Premium))
		}
		for _, f := range found {
			faults = append(faults, fmt.Sprintf("cure %d (%s): %s", i+1, p.CureWords(c), f))
		}
	}
	return faults
}

func (c *Cure) premium(p *Plan) float64 {
	sum := 0.0
	for _, s := range c.Steps {
		switch s.Kind {
		case Overtime:
			sum += s.Hours * p.OvertimePerHour
		case ExtraShift:
			sum += s.Hours * p.ExtraShiftPerHour
		}
	}
	return sum
}

// cureStacks compares the stacks in a cure's calendar with those it must have.
func cureStacks(p *Plan, c *Cure) []string {
	count := map[workKey]int{}
	for _, s := range c.Calendar {
		count[slotKey(s)]++
	}
	var faults []string
	for g := range p.Groups {
		for l := range p.Groups[g].Layouts {
			lay := &p.Groups[g].Layouts[l]
			for key, n := range lay.stacksBy(g, l, c.Steps) {
				if count[key] != n {
					faults = append(faults, fmt.Sprintf("%s: %d stacks of %d in its calendar, it takes %d", lay.ID, count[key], key.depth, n))
				}
				delete(count, key)
			}
		}
	}
	if len(count) > 0 {
		faults = append(faults, "its calendar has stacks that are none of the plan's")
	}
	slices.Sort(faults)
	return faults
}

// stacksBy counts a layout's stacks as steps have them cut.
func (l *Layout) stacksBy(group, layout int, steps []CureStep) map[workKey]int {
	stacks, pieces := map[int]int{}, []Piece{WholeLayout} // stacks by depth
	for _, r := range l.Runs {
		stacks[r.Depth] += r.Count
	}
	for _, s := range steps {
		if s.Group != group || s.Layout != layout {
			continue
		}
		switch s.Kind {
		case OtherStack:
			stacks = map[int]int{}
			for _, d := range stacksOf(l.Repeats, max(1, s.Depth)) {
				stacks[d]++
			}
		case DivideLayout:
			pieces = []Piece{UrgentPiece, LaterPiece}
		}
	}
	out := map[workKey]int{}
	for d, n := range stacks {
		for _, piece := range pieces {
			out[workKey{group, layout, d, piece}] = n
		}
	}
	return out
}

// cureHours holds a cure's hours against the plan's and its steps.
func cureHours(p *Plan, c *Cure) []string {
	var faults []string
	for m := range p.Machines {
		for d, day := range c.Days {
			opened := 0.0
			for _, s := range c.Steps {
				if s.OfHours() && s.Machine == m && s.Day.Equal(day) {
					opened += s.Hours
				}
			}
			at := slices.IndexFunc(p.Days, func(t time.Time) bool { return t.Equal(day) })
			switch {
			case at >= 0 && math.Abs(c.Open[m][d]-opened-p.Machines[m].Hours[at]) > auditSlack:
				faults = append(faults, fmt.Sprintf("%s is open for %v h on %s, with its steps it would be %v h",
					p.Machines[m].ID, c.Open[m][d], day.Format(time.DateOnly), p.Machines[m].Hours[at]+opened))
			case c.Open[m][d] > 24:
				faults = append(faults, fmt.Sprintf("%s is open for %v h on %s", p.Machines[m].ID, c.Open[m][d], day.Format(time.DateOnly)))
			}
		}
	}
	return faults
}

// cureOrders holds what a cure says of orders against its calendar.
func cureOrders(p *Plan, c *Cure, dates []OrderDate) []string {
	if len(dates) != len(p.Orders) {
		return nil // said elsewhere
	}
	var faults []string
	for i := range dates {
		was, is, said := p.Orders[i].Tardy(), dates[i].Tardy(), slices.Contains(c.Saves, dates[i].Order)
		switch {
		case worsened(&dates[i], &p.Orders[i]):
			faults = append(faults, fmt.Sprintf("it makes order %s late, or later", dates[i].Order))
		case said && (is || !was):
			faults = append(faults, fmt.Sprintf("order %s is not saved by it", dates[i].Order))
		case was && !is && !said:
			faults = append(faults, fmt.Sprintf("order %s is in time by it, and it does not say so", dates[i].Order))
		}
	}
	return faults
}
