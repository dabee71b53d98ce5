package report

import (
	"math"

	"kerfold/cost"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

func cutListTable(p *week.Plan) bookTable {
	t := bookTable{name: "Cut list", columns: []column{
		{"layout", 10, plainColumn},
		{"material", 20, plainColumn},
		{lengthUnit(p), 7, plainColumn},
		{"grade", 10, plainColumn},
		{"sheet", 18, plainColumn},
		{"location", 12, plainColumn},
		{"sheets cut", 8, plainColumn},
		{"stacks", 14, plainColumn},
		{"machines", 14, plainColumn},
		{"number", 8, plainColumn},
		{"part", 26, plainColumn},
		{"order", 14, plainColumn},
		{"customer", 18, plainColumn},
		{"due", 11, dateColumn},
		{"a sheet", 8, plainColumn},
		{"in all", 8, plainColumn},
		{"note", 30, plainColumn},
	}}
	for gi := range p.Groups {
		g := &p.Groups[gi]
		for li := range g.Layouts {
			l := &g.Layouts[li]
			s := &g.Sheets[l.Sheet]
			for _, r := range legendRows(g, l) {
				o := &g.Parts[r.part]
				t.rows = append(t.rows, []any{
					l.ID, g.Material, bookLength(p, g.ThicknessMM), g.Grade.String(), s.ID, s.Location, l.Repeats, stackWords(l), machineWords(p, l),
					r.part + 1, o.Part, o.ID, o.Customer, bookDate(o.Due), r.onSheet, r.onSheet * l.Repeats, o.Note,
				})
			}
		}
	}
	return t
}

// bookLength is a length as a cell: mm as they are, inches to four places.
func bookLength(p *week.Plan, mm float64) float64 {
	if p.Units == cost.Metric {
		return mm
	}
	v, _ := p.Units.Show(mm, "mm")
	return math.Round(v*1e4) / 1e4
}

// ledgerColumns are the cells of ledgerCells.
func ledgerColumns() []column {
	var out []column
	for _, head := range []string{"sheets", "machine", "labour", "abrasive", "power", "water", "disposal", "wear", "cover sheets", "in all"} {
		out = append(out, column{head, 10, moneyColumn})
	}
	return out
}

func ledgerCells(m cost.Money) []any {
	return []any{m.Material, m.Machine, m.Labour, m.Abrasive, m.Power, m.Water, m.Disposal, m.Wear, m.Cover, m.Total()}
}

func ledgerTable(p *week.Plan) bookTable {
	m := measure{units: p.Units}
	t := bookTable{name: "Ledger", total: true, columns: []column{
		{"group", 10, plainColumn},
		{"layout", 10, plainColumn},
		{"material", 20, plainColumn},
		{lengthUnit(p), 7, plainColumn},
		{"sheets cut", 8, plainColumn},
		{"yield", 8, shareColumn},
		{"machine hours", 10, hoursColumn},
		{"abrasive, " + m.unit("kg"), 10, moneyColumn},
		{"water, " + m.unit("m³"), 10, moneyColumn},
		{"energy, kWh", 10, moneyColumn},
	}}
	for _, c := range ledgerColumns() {
		c.head += ", " + p.Currency
		t.columns = append(t.columns, c)
	}
	sheets, parts, area, rest, seconds := 0, 0.0, 0.0, p.Ledger, p.Seconds
	for gi := range p.Groups {
		g := &p.Groups[gi]
		for li := range g.Layouts {
			l := &g.Layouts[li]
			t.rows = append(t.rows, ledgerRow(p, g.ID, l.ID, g.Material, bookLength(p, g.ThicknessMM), l.Repeats, l.Yield(), l.Seconds(), l.Ledger))
			rest, seconds = rest.Plus(l.Ledger.Times(-1)), seconds-l.Seconds()
		}
		sheets, parts, area = sheets+g.SheetsUsed(), parts+g.PartArea, area+g.SheetArea
	}
	t.rows = append(t.rows, ledgerRow(p, "set-ups", nil, nil, nil, nil, nil, hundredths(seconds), roundedLedger(rest)),
		ledgerRow(p, "all", nil, nil, nil, sheets, ratio(parts, area), p.Seconds, p.Ledger))
	return t
}

func ledgerRow(p *week.Plan, group string, layout, material, thickness, sheets, yield any, seconds float64, l cost.Ledger) []any {
	abrasive, _ := p.Units.Show(l.Usage.AbrasiveKg, "kg")
	water, _ := p.Units.Show(l.Usage.WaterL/1000, "m³")
	return append([]any{
		group, layout, material, thickness, sheets, yield, seconds / 3600, abrasive, water, l.Usage.EnergyKWh,
	}, ledgerCells(l.Money)...)
}

// hundredths drops the crumbs that a difference of sums leaves.
func hundredths(v float64) float64 {
	if v = math.Round(v*100) / 100; v == 0 {
		return 0 // not -0
	}
	return v
}

func roundedLedger(l cost.Ledger) cost.Ledger {
	for _, v := range []*float64{
		&l.Money.Material, &l.Money.Machine, &l.Money.Labour, &l.Money.Abrasive, &l.Money.Power, &l.Money.Water,
		&l.Money.Disposal, &l.Money.Wear, &l.Money.Cover, &l.Usage.AbrasiveKg, &l.Usage.WaterL, &l.Usage.EnergyKWh,
	} {
		*v = hundredths(*v)
	}
	return l
}

// orderTable is what each order costs: its layouts' sheets by area, their work
// by length of cut. Set-ups serve all orders and are not shared out.
func orderTable(p *week.Plan) bookTable {
	t := bookTable{name: "Orders", columns: []column{
		{"order", 14, plainColumn},
		{"part", 26, plainColumn},
		{"customer", 18, plainColumn},
		{"group", 8, plainColumn},
		{"wanted", 8, plainColumn},
		{"cut", 8, plainColumn},
		{"due", 11, dateColumn},
		{"last cut", 11, dateColumn},
		{"dates", 14, plainColumn},
		{"cost, " + p.Currency, 11, moneyColumn},
		{"each, " + p.Currency, 11, moneyColumn},
	}}
	lines := orderBook(p)
	for _, o := range p.Orders {
		line := lines[o.Order]
		row := []any{o.Order, nil, nil, p.Groups[o.Group].ID, o.Wanted, o.Placed, bookDate(o.Due), nil, dateVerdict(o), line.Ledger.Money.Total(), nil}
		if part := partOf(p, o); part != nil {
			row[1], row[2] = part.Part, part.Customer
		}
		if o.Finish >= 0 && o.Finish < len(p.Days) {
			row[7] = bookDate(p.Days[o.Finish])
		}
		if line.Quantity > 0 {
			row[10] = line.Ledger.Money.Total() / float64(line.Quantity)
		}
		t.rows = append(t.rows, row)
	}
	return t
}

func orderBook(p *week.Plan) map[string]cost.Line {
	var book cost.Book
	for gi := range p.Groups {
		g := &p.Groups[gi]
		for li := range g.Layouts {
			l := &g.Layouts[li]
			book = append(book, cost.Split(g.ID, l.ID, l.Ledger, claims(g, l))...)
		}
	}
	lines := map[string]cost.Line{}
	for _, line := range book.By(cost.ByOrder) {
		lines[line.Key] = line
	}
	return lines
}

func claims(g *week.Group, l *week.Layout) []cost.Claim {
	return each(legendRows(g, l), func(r legendRow) cost.Claim {
		o := &g.Parts[r.part]
		return cost.Claim{
			Order: o.ID, Part: o.Part, Quantity: r.onSheet * l.Repeats, CutWeight: cutLength(o), MaterialWeight: o.Shape.Area(),
		}
	})
}

func cutLength(o *shop.Order) float64 {
	mm := o.Shape.Outer.Length()
	for _, h := range o.Shape.Holes {
		mm += h.Length()
	}
	return mm
}

func calendarTable(p *week.Plan) bookTable {
	t := bookTable{name: "Calendar", columns: []column{
		{"machine", 12, plainColumn},
		{"layout", 10, plainColumn},
		{"material", 20, plainColumn},
		{lengthUnit(p), 7, plainColumn},
		{"sheets at once", 8, plainColumn},
		{"starts", 11, dateColumn},
		{"hours into the day", 10, hoursColumn},
		{"ends", 11, dateColumn},
		{"hours into the day", 10, hoursColumn},
		{"set-up, h", 9, hoursColumn},
		{"work, h", 9, hoursColumn},
		{"late", 18, plainColumn},
	}}
	for _, s := range p.Calendar {
		g := &p.Groups[s.Group]
		row := []any{
			p.Machines[s.Machine].ID, g.Layouts[s.Layout].ID, g.Material, bookLength(p, g.ThicknessMM), s.Depth,
			bookDate(p.Days[s.StartDay]), s.StartSec / 3600, bookDate(p.Days[s.EndDay]), s.EndSec / 3600,
			s.SetupSec / 3600, s.WorkSec / 3600, nil,
		}
		if makesLate(p, s) {
			row[11] = "after a due date"
		}
		t.rows = append(t.rows, row)
	}
	return t
}
