package report

import (
	"strings"

	"kerfold/nest/week"
)

// cureTable is what would bring late orders in time, as the report and the summary
// say it: cures, cheapest first; late orders that none was found for; and what to
// mind before one is chosen. It has no rows where nothing is late.
func cureTable(p *week.Plan) bookTable {
	t := bookTable{name: "Cures", columns: []column{
		{"late order", 16, plainColumn},
		{"what to change", 60, plainColumn},
		{"in time then", 24, plainColumn},
		{"more money, " + p.Currency, 12, moneyColumn},
		{"of it overtime, " + p.Currency, 12, moneyColumn},
		{"to another machine", 30, plainColumn},
	}}
	for i := range p.Cures {
		c := &p.Cures[i]
		t.rows = append(t.rows, []any{nil, p.CureWords(c), strings.Join(c.Saves, ", "), hundredths(c.Money), hundredths(c.Premium), curePlaces(p, c)})
	}
	for i := range p.Orders {
		if o := &p.Orders[i]; o.Tardy() && len(p.CuresOf(o.Order)) == 0 {
			t.rows = append(t.rows, []any{o.Order, noCureWords(p, o)})
		}
	}
	for _, s := range cureCautions(p) {
		t.rows = append(t.rows, []any{"mind", s})
	}
	return t
}
