package report

import (
	"fmt"
	"slices"
	"strings"

	"kerfold/nest/week"
)

// cureLines says for every late order what would bring it in time, for the
// summary.
func cureLines(p *week.Plan) []string {
	var out []string
	for i := range p.Orders {
		o := &p.Orders[i]
		if !o.Tardy() {
			continue
		}
		line := fmt.Sprintf("%s, %s: ", o.Order, lateWords(o))
		if c := p.CuresOf(o.Order); len(c) > 0 {
			line += cureWords(p, c[0])
		} else {
			line += noCureWords(p, o)
		}
		out = append(out, line)
	}
	return out
}

// lateWords says by how much an order is late.
func lateWords(o *week.OrderDate) string {
	work := Duration(o.LateSec) + " of work"
	if o.LateDays == 0 {
		return work + " late"
	}
	return fmt.Sprintf("%s late (%s)", plural(o.LateDays, "day"), work)
}

// cureWords says what a cure asks for, costs and brings.
func cureWords(p *week.Plan, c *week.Cure) string {
	s := fmt.Sprintf("%s: %s; in time then: %s", p.CureWords(c), cureMoney(p, c), strings.Join(c.Saves, ", "))
	if moves := curePlaces(p, c); moves != "" {
		s += "; " + moves
	}
	return s
}

func noCureWords(p *week.Plan, o *week.OrderDate) string {
	switch {
	case len(p.Days) > 0 && o.Due.Before(p.Days[0]):
		return "its date is over before the calendar begins"
	case p.CuresTried == 0:
		return "no cure was looked for"
	}
	return fmt.Sprintf("no cure found in %s: agree on a later date, or cut elsewhere", plural(p.CuresTried, "trial calendar"))
}

func cureMoney(p *week.Plan, c *week.Cure) string {
	if c.Money < 0 {
		return "saves " + Amount(-c.Money, p.Currency)
	}
	return "costs " + Amount(c.Money, p.Currency)
}

// curePlaces names the layouts that a cure puts on another machine.
func curePlaces(p *week.Plan, c *week.Cure) string {
	was := machinesOf(p.Calendar)
	var moved []string
	for key, now := range machinesOf(c.Calendar) {
		for m := range now {
			if !was[key][m] {
				moved = append(moved, fmt.Sprintf("%s goes to %s", p.Groups[key[0]].Layouts[key[1]].ID, p.Machines[m].ID))
			}
		}
	}
	slices.Sort(moved)
	return strings.Join(moved, ", ")
}

// machinesOf is the machines that cut each layout.
func machinesOf(slots []week.Slot) map[[2]int]map[int]bool {
	out := map[[2]int]map[int]bool{}
	for _, s := range slots {
		key := [2]int{s.Group, s.Layout}
		if out[key] == nil {
			out[key] = map[int]bool{}
		}
		out[key][s.Machine] = true
	}
	return out
}

// A cureRow is a cure as the report's table says it.
type cureRow struct{ Steps, Money, Premium, Saves, Moves string }

func cureRows(p *week.Plan) []cureRow {
	var out []cureRow
	for i := range p.Cures {
		c := &p.Cures[i]
		out = append(out, cureRow{
			Steps: p.CureWords(c), Money: signed(c.Money, 2), Premium: money(c.Premium),
			Saves: strings.Join(c.Saves, ", "), Moves: dash(curePlaces(p, c)),
		})
	}
	return out
}

// cureCautions is what to mind before a cure is chosen.
func cureCautions(p *week.Plan) []string {
	kinds := map[week.CureKind]bool{}
	for _, c := range p.Cures {
		for _, s := range c.Steps {
			kinds[s.Kind] = true
		}
	}
	var out []string
	if kinds[week.Overtime] || kinds[week.ExtraShift] {
		out = append(out, "overtime and extra shifts: agreements and the law on working time decide; tired people make mistakes at a jet")
	}
	if kinds[week.DivideLayout] {
		out = append(out, "a layout cut in two goes: clamp the sheet, mark its place and let it down on the same stops; cut one part and measure before the rest; cut parts that stay on may tip")
	}
	if kinds[week.OtherStack] {
		out = append(out, "another stack: look at the bottom sheet of the first one before the rest")
	}
	return out
}
