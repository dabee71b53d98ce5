package report

import (
	"fmt"

	"kerfold/cost"
	"kerfold/nest/week"
)

// A segment is a piece of a bar 100 wide. Its kind is its place among the
// bar's pieces; the style sheet gives each place its own fill and edge.
type segment struct {
	X, W string
	Kind int
}

// stackedBar sets values one behind the other on a bar that whole fills.
func stackedBar(whole float64, values ...float64) []segment {
	var out []segment
	x := 0.0
	for i, v := range values {
		w := 100 * ratio(v, whole)
		if w > 0 {
			out = append(out, segment{X: num(x), W: num(w), Kind: i})
		}
		x += w
	}
	return out
}

// A useGroup is how the sheets of one group are used.
type useGroup struct {
	ID, Material string
	Lines        []useLine
}

// A useLine is what becomes of the sheets of one layout.
type useLine struct {
	ID, Sheet          string
	Repeats            int
	Parts, Kept, Scrap string
	Bar                []segment
}

func useGroups(p *week.Plan) []useGroup {
	var out []useGroup
	for i := range p.Groups {
		g := &p.Groups[i]
		u := useGroup{ID: g.ID, Material: plateWords(p, g)}
		for k := range g.Layouts {
			u.Lines = append(u.Lines, newUseLine(g, &g.Layouts[k]))
		}
		out = append(out, u)
	}
	return out
}

func newUseLine(g *week.Group, l *week.Layout) useLine {
	kept := 0.0
	if l.Remnant != nil {
		kept = l.Remnant.Area()
	}
	scrap := max(0, l.SheetArea-l.PartArea-kept)
	return useLine{
		ID: l.ID, Sheet: g.Sheets[l.Sheet].ID, Repeats: l.Repeats, Parts: Percent(l.Yield()),
		Kept: Percent(ratio(kept, l.SheetArea)), Scrap: Percent(ratio(scrap, l.SheetArea)),
		Bar: stackedBar(l.SheetArea, l.PartArea, kept, scrap),
	}
}

// plateWords is what orders of a group share.
func plateWords(p *week.Plan, g *week.Group) string {
	return fmt.Sprintf("%s, %s", sheetWords(p, g), g.Grade)
}

// sheetWords is a group's material and thickness.
func sheetWords(p *week.Plan, g *week.Group) string {
	return fmt.Sprintf("%s, %s %s", g.Material, lengthIn(g.ThicknessMM, p.Units), lengthUnit(p))
}

// lengthUnit is the unit a plan's lengths are written in.
func lengthUnit(p *week.Plan) string { return measure{units: p.Units}.unit("mm") }

// A costLine is where a group's money goes.
type costLine struct {
	ID, Material string
	Cells        []string // as costKinds, then the total
	Bar          []segment
}

// costKinds names the cells of costCells.
var costKinds = []string{"sheets", "machine", "labour", "abrasive", "wear, power, water, rest"}

func costCells(m cost.Money) []float64 {
	return []float64{m.Material, m.Machine, m.Labour, m.Abrasive, m.Wear + m.Power + m.Water + m.Disposal + m.Cover}
}

func costLines(p *week.Plan) []costLine {
	most := 0.0
	var sum cost.Money
	for i := range p.Groups {
		m := p.Groups[i].Ledger.Money
		most, sum = max(most, m.Total()), sum.Plus(m)
	}
	var out []costLine
	for i := range p.Groups {
		g := &p.Groups[i]
		out = append(out, newCostLine(g.ID, sheetWords(p, g), g.Ledger.Money, most))
	}
	setups := p.Ledger.Money.Plus(sum.Times(-1))
	if setups.Total() > 0.005 {
		out = append(out, newCostLine("set-ups", "changes of material and thickness", setups, most))
	}
	return append(out, newCostLine("all", "the whole plan", p.Ledger.Money, p.Ledger.Money.Total()))
}

func newCostLine(id, material string, m cost.Money, whole float64) costLine {
	cells := costCells(m)
	return costLine{
		ID: id, Material: material, Bar: stackedBar(whole, cells...),
		Cells: append(each(cells, money), money(m.Total())),
	}
}

func money(v float64) string {
	if v < 0 && v > -0.005 {
		v = 0
	}
	return fmt.Sprintf("%.2f", v)
}
