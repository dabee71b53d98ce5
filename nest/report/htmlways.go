package report

import (
	"fmt"

	"kerfold/nest/week"
)

// A wayTable is the manners of cutting a group that were compared.
type wayTable struct {
	ID, Material string
	Lines        []wayLine
}

// A wayLine is one of them against the chosen one.
type wayLine struct {
	Name                    string
	Chosen                  bool
	Layouts, Sheets         int
	Surplus, Short          int
	Time, Money, Difference string
	Bar                     []segment
}

// wayTables lists the groups in which there was a choice.
func wayTables(p *week.Plan) []wayTable {
	var out []wayTable
	for i := range p.Groups {
		if g := &p.Groups[i]; len(g.Ways) > 1 {
			out = append(out, newWayTable(g))
		}
	}
	return out
}

func newWayTable(g *week.Group) wayTable {
	t := wayTable{ID: g.ID, Material: fmt.Sprintf("%s, %s mm, %s", g.Material, Length(g.ThicknessMM), g.Grade)}
	most := 0.0
	for _, w := range g.Ways {
		most = max(most, w.Money)
	}
	for i, w := range g.Ways {
		l := wayLine{
			Name: w.Name, Chosen: i == 0, Layouts: w.Layouts, Sheets: w.Sheets, Surplus: w.Surplus, Short: w.Short,
			Time: Duration(w.Seconds), Money: money(w.Money), Bar: stackedBar(most, w.Money), Difference: "chosen",
		}
		if i > 0 {
			l.Difference = fmt.Sprintf("%+.2f", w.Money-g.Ways[0].Money)
		}
		t.Lines = append(t.Lines, l)
	}
	return t
}
