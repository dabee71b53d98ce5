package report

import (
	"fmt"
	"time"

	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// A tile is one figure of the week with what it stands beside.
type tile struct {
	Name, Value, Note string
	Bad               bool
}

func tiles(p *week.Plan) []tile {
	sheets, area, parts, kept, copies := 0, 0.0, 0.0, 0.0, 0
	for i := range p.Groups {
		g := &p.Groups[i]
		sheets += g.SheetsUsed()
		area += g.SheetArea
		parts += g.PartArea
		kept += keptArea(g)
		copies += partsCut(g)
	}
	late, short := troubled(p)
	return []tile{
		{Name: "Sheets", Value: fmt.Sprint(sheets), Note: plural(copies, "part") + " on them"},
		{Name: "Yield", Value: Percent(ratio(parts, area)), Note: Percent(ratio(parts, area-kept)) + " with kept remnants taken off"},
		{Name: "Machine time", Value: Duration(p.Seconds), Note: fmt.Sprintf("%s to %s", Duration(p.SecondsRange.Low), Duration(p.SecondsRange.High))},
		{Name: "Cost", Value: Amount(p.Ledger.Money.Total(), p.Currency), Note: fmt.Sprintf("%.2f to %.2f; remnants worth %.2f", p.MoneyRange.Low, p.MoneyRange.High, p.RemnantCredit)},
		{Name: "Late orders", Value: fmt.Sprint(late), Note: fmt.Sprintf("of %d", len(p.Orders)), Bad: late > 0},
		{Name: "Not complete", Value: fmt.Sprint(short), Note: fmt.Sprintf("of %d", len(p.Orders)), Bad: short > 0},
	}
}

// troubled counts orders past their date and orders with parts missing.
func troubled(p *week.Plan) (late, short int) {
	for _, o := range p.Orders {
		if o.Tardy() {
			late++
		}
		if o.Placed < o.Wanted {
			short++
		}
	}
	return late, short
}

// An orderLine is an order and when it is done.
type orderLine struct {
	Order, Part, Customer, Group string
	Wanted, Cut                  int
	Due, Done, Verdict, Cure     string
	Bad                          bool
}

func orderLines(p *week.Plan) []orderLine {
	return each(p.Orders, func(o week.OrderDate) orderLine { return newOrderLine(p, o) })
}

func lateLines(p *week.Plan) []orderLine {
	var out []orderLine
	for i, l := range orderLines(p) {
		if !l.Bad {
			continue
		}
		if o := &p.Orders[i]; o.Tardy() {
			l.Verdict, l.Cure = lateWords(o), noCureWords(p, o)
			if c := p.CuresOf(o.Order); len(c) > 0 {
				l.Cure = p.CureWords(c[0]) + ": " + cureMoney(p, c[0])
			}
		}
		out = append(out, l)
	}
	return out
}

func newOrderLine(p *week.Plan, o week.OrderDate) orderLine {
	l := orderLine{
		Order: o.Order, Group: p.Groups[o.Group].ID, Wanted: o.Wanted, Cut: o.Placed,
		Due: dayOrDash(o.Due) + clockWords(o.DueSec), Done: finishWords(p, o), Bad: o.Tardy() || o.Placed < o.Wanted,
	}
	if part := partOf(p, o); part != nil {
		l.Part, l.Customer = part.Part, part.Customer
		if part.Filler && !o.Tardy() {
			l.Bad = false // nobody waits for a filler
		}
	}
	l.Verdict = dateVerdict(o)
	return l
}

func partOf(p *week.Plan, o week.OrderDate) *shop.Order {
	parts := p.Groups[o.Group].Parts
	for i := range parts {
		if parts[i].ID == o.Order {
			return &parts[i]
		}
	}
	return nil
}

func dateVerdict(o week.OrderDate) string {
	s := ""
	switch {
	case o.LateDays > 0:
		s = plural(o.LateDays, "day") + " late"
	case o.Tardy():
		s = Duration(o.LateSec) + " of work late"
	case o.Placed >= o.Wanted && o.Due.IsZero():
		return "no date"
	case o.Placed >= o.Wanted:
		return "in time"
	}
	if missing := o.Wanted - o.Placed; missing > 0 {
		if s != "" {
			s += ", "
		}
		s += fmt.Sprintf("%d missing", missing)
	}
	return s
}

func finishWords(p *week.Plan, o week.OrderDate) string {
	if o.Finish < 0 || o.Finish >= len(p.Days) {
		return "-"
	}
	return dayOrDash(p.Days[o.Finish])
}

func dayOrDash(d time.Time) string {
	if d.IsZero() {
		return "-"
	}
	return d.Format("Mon 2 Jan")
}

// A groupLine is one group at a glance.
type groupLine struct {
	ID, First, Material, Thickness, Grade string
	Parts, Sheets, Layouts                int
	Least, Above                          string // sheets no plan goes below; how far the cost lies above its bound
	Yield, Depth, Time, Cost, Range       string
	Due, Met                              string
	Bad                                   bool
}

func groupLines(p *week.Plan) []groupLine {
	var out []groupLine
	for i := range p.Groups {
		g := &p.Groups[i]
		due, met := dueWords(p, i)
		l := groupLine{
			ID: g.ID, Material: g.Material, Thickness: lengthIn(g.ThicknessMM, p.Units), Grade: g.Grade.String(),
			Parts: partsCut(g), Sheets: g.SheetsUsed(), Layouts: len(g.Layouts), Yield: Percent(g.Yield()),
			Depth: depthWords(g), Time: Duration(g.Seconds), Cost: fmt.Sprintf("%.2f", g.Ledger.Money.Total()),
			Least: leastSheets(&g.Bound), Above: aboveBound(g),
			Range: fmt.Sprintf("%.2f to %.2f", g.MoneyRange.Low, g.MoneyRange.High), Due: due, Met: met, Bad: met != "met",
		}
		if len(g.Layouts) > 0 {
			l.First = g.Layouts[0].ID
		}
		out = append(out, l)
	}
	return out
}

// A machineLine is how full a machine's week is.
type machineLine struct {
	ID                     string
	Stacks, Setups         int
	Work, Setup, Open, End string
	Share                  string
	Bar                    []segment
	Over                   bool
}

func machineLoads(p *week.Plan) []machineLine {
	var out []machineLine
	for i, m := range p.Machines {
		open := 0.0
		for _, h := range m.Hours[:min(p.WeekDays, len(m.Hours))] {
			open += h * 3600
		}
		whole := max(open, m.BusySec)
		out = append(out, machineLine{
			ID: m.ID, Stacks: m.Slots, Setups: m.Setups, Work: Duration(m.BusySec - m.SetupSec), Setup: Duration(m.SetupSec),
			Open: Duration(open), End: lastEnd(p, i), Share: Percent(ratio(m.BusySec, open)), Over: m.BusySec > open,
			Bar: stackedBar(whole, m.BusySec-m.SetupSec, m.SetupSec),
		})
	}
	return out
}

// clockWords is a time of day behind a date; nothing for the end of the day.
func clockWords(sec float64) string {
	if sec == 0 {
		return ""
	}
	return fmt.Sprintf(" %02d:%02d", int(sec)/3600, int(sec)/60%60)
}
