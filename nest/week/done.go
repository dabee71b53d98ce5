package week

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"kerfold/nest/shop"
)

// A DoneLayout is a layout that has been begun: what was cut of it since the
// first plan.
type DoneLayout struct {
	ID       string
	Sheet    string // id of the stock it was cut from
	Cut      int    // sheets
	PerSheet []Copies
	Scrapped []Copies // of what was cut, to be cut again
}

// Copies is so many copies of an order.
type Copies struct {
	Order string
	Count int
}

func madeOf(list []Copies, order string) int {
	for _, c := range list {
		if c.Order == order {
			return c.Count
		}
	}
	return 0
}

// doneWork holds what is done against the earlier plan. Counts are since the
// first plan; a layout that is not listed stays as it was recorded.
func doneWork(earlier *Plan, d *shop.Done) ([]DoneLayout, error) {
	out := slices.Clone(earlier.Done)
	var faults shop.Problems
	for _, line := range d.Lines {
		i := slices.IndexFunc(out, func(l DoneLayout) bool { return l.ID == line.Layout })
		now := DoneLayout{ID: line.Layout}
		recorded, left, known := 0, 0, i >= 0
		if i >= 0 {
			now, recorded = out[i], out[i].Cut
		}
		if g, l := earlier.findLayout(line.Layout); l >= 0 {
			left, known = g.Layouts[l].Repeats, true
			now.Sheet, now.PerSheet = g.Sheets[g.Layouts[l].Sheet].ID, perSheet(g, l)
		}
		say := func(fact, mend string) {
			p := line.At
			p.Fact, p.Mend = fact, mend
			faults = append(faults, p)
		}
		switch {
		case !known:
			say("the earlier plan has no such layout", earlier.namesLayouts())
			continue
		case line.Cut < recorded:
			say(fmt.Sprintf("%d sheets are cut, and %d were already when the earlier plan was made", line.Cut, recorded), "count all sheets since the first plan")
			continue
		case line.Cut > recorded+left:
			say(fmt.Sprintf("sheets counted as cut: %d, sheets in the plan: %d", line.Cut, recorded+left), "look at the count, or at the plan: it must be the one on the floor")
			continue
		}
		now.Cut, now.Scrapped = line.Cut, nil
		for _, s := range line.Scrapped {
			if most := line.Cut * madeOf(now.PerSheet, s.Order); s.Count > most {
				say(fmt.Sprintf("%d of %s are scrapped, %d were cut", s.Count, s.Order, most), "look at the order and the count: "+namesCopies(now.PerSheet))
				continue
			}
			now.Scrapped = append(now.Scrapped, Copies(s))
		}
		switch {
		case i >= 0:
			out[i] = now
		case now.Cut > 0:
			out = append(out, now)
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return out, nil
}

func (p *Plan) findLayout(id string) (*Group, int) {
	for i := range p.Groups {
		for l := range p.Groups[i].Layouts {
			if p.Groups[i].Layouts[l].ID == id {
				return &p.Groups[i], l
			}
		}
	}
	return nil, -1
}

// namesLayouts says which layouts there are.
func (p *Plan) namesLayouts() string {
	var ids []string
	for i := range p.Groups {
		for l := range p.Groups[i].Layouts {
			ids = append(ids, p.Groups[i].Layouts[l].ID)
		}
	}
	if len(ids) > 12 {
		ids = append(ids[:12], "…")
	}
	return "it has " + joinOr(ids, "none")
}

func namesCopies(list []Copies) string {
	var names []string
	for _, c := range list {
		names = append(names, c.Order)
	}
	return "the layout holds " + strings.Join(names, ", ")
}

func perSheet(g *Group, layout int) []Copies {
	var out []Copies
	for part, n := range countParts(g, layout) {
		if n > 0 {
			out = append(out, Copies{g.Parts[part].ID, n})
		}
	}
	return out
}

// good counts the copies of each order that are cut and good.
func good(done []DoneLayout) map[string]int {
	out := map[string]int{}
	for _, l := range done {
		for _, c := range l.PerSheet {
			out[c.Order] += l.Cut * c.Count
		}
		for _, c := range l.Scrapped {
			out[c.Order] -= c.Count
		}
	}
	return out
}

// sheetsCut counts the sheets of each stock line that are cut.
func sheetsCut(done []DoneLayout) map[string]int {
	out := map[string]int{}
	for _, l := range done {
		out[l.Sheet] += l.Cut
	}
	return out
}

// doneUntil is where the stacks cut since the earlier plan end in its calendar.
func doneUntil(earlier *Plan, done []DoneLayout) (day time.Time, sec float64) {
	left := map[string]int{} // sheets cut since the earlier plan
	for _, l := range done {
		left[l.ID] = l.Cut
	}
	for _, l := range earlier.Done {
		left[l.ID] -= l.Cut
	}
	day, sec = earlier.Days[0], earlier.FromSec
	for _, s := range byEnd(earlier.Calendar) {
		id := earlier.Groups[s.Group].Layouts[s.Layout].ID
		if left[id] <= 0 {
			continue
		}
		left[id] -= s.Depth
		if d := earlier.Days[s.EndDay]; d.After(day) || d.Equal(day) && s.EndSec > sec {
			day, sec = d, s.EndSec
		}
	}
	return day, sec
}
