package report

import (
	"fmt"

	"kerfold/nest/week"
)

// A wayTable is the manners of cutting a group that were compared.
type wayTable struct {
	ID, Material string
	Lines        []wayLine
	Late         bool   // some way would make orders later than another
	Moved        bool   // some way would cost more on the calendar than another
	Bound        string // what no plan can beat
	Mix          string // what no choice among the layouts found can beat
}

// A wayLine is one of them against the chosen one.
type wayLine struct {
	Name            string
	Chosen          bool
	Layouts, Sheets int
	Surplus, Short  int
	Time, Money     string
	Late, Moved     string
	Difference      string
	Bar             []segment
}

// leastMoney is what is worth a word.
const leastMoney = 0.005

// wayTables lists the groups in which there was a choice.
func wayTables(p *week.Plan) []wayTable {
	var out []wayTable
	for i := range p.Groups {
		if g := &p.Groups[i]; len(g.Ways) > 1 {
			out = append(out, newWayTable(p, g))
		}
	}
	return out
}

func newWayTable(p *week.Plan, g *week.Group) wayTable {
	t := wayTable{ID: g.ID, Material: plateWords(p, g)}
	most, tried := 0.0, false
	for _, w := range g.Ways {
		most, tried = max(most, w.Money), tried || w.LateKnown
	}
	for i, w := range g.Ways {
		t.Late, t.Moved = t.Late || w.Late > 0, t.Moved || w.Moved >= leastMoney
		l := wayLine{
			Name: w.Name, Chosen: i == 0, Layouts: w.Layouts, Sheets: w.Sheets, Surplus: w.Surplus, Short: w.Short,
			Time: Duration(w.Seconds), Money: money(w.Money), Late: money(w.Late), Moved: money(w.Moved), Bar: stackedBar(most, w.Money), Difference: "chosen",
		}
		if i > 0 {
			l.Difference = fmt.Sprintf("%+.2f", w.Charged()-g.Ways[0].Charged())
		}
		if tried && !w.LateKnown {
			l.Late, l.Moved = "not tried", "not tried"
			if i > 0 {
				l.Difference = "-"
			}
		}
		t.Lines = append(t.Lines, l)
	}
	t.Bound, t.Mix = boundWords(&g.Bound, g.Ways[0].Money), mixWords(&g.Bound)
	return t
}

// boundWords says what no plan of the group can beat, and how far the chosen
// way lies above it.
func boundWords(b *week.Bound, chosen float64) string {
	switch {
	case b.Sheets == 0:
		return ""
	case b.Money <= 0:
		return fmt.Sprintf("No plan that places every part uses fewer than %s.", plural(b.Sheets, "sheet"))
	}
	return fmt.Sprintf("No plan that places every part uses fewer than %s or costs less than %s, whatever its layouts; the chosen way lies %s above.",
		plural(b.Sheets, "sheet"), money(b.Money), Percent(b.Gap(chosen)))
}

// leastSheets is how few sheets any plan of a group takes, - where that is not
// known.
func leastSheets(b *week.Bound) string {
	if b.Sheets == 0 {
		return "-"
	}
	return fmt.Sprint(b.Sheets)
}

// aboveBound is by what share the chosen way of a group costs more than any plan
// must, - where that is not known.
func aboveBound(g *week.Group) string {
	if len(g.Ways) == 0 || g.Bound.Money <= 0 {
		return "-"
	}
	return Percent(g.Bound.Gap(g.Ways[0].Money))
}

// groupBoundWords is boundWords in short, for the pages of a group's layouts.
func groupBoundWords(g *week.Group) string {
	if len(g.Ways) == 0 || g.Bound.Sheets == 0 {
		return ""
	}
	s := fmt.Sprintf("No plan of %s uses fewer than %s; this one cuts %d", g.ID, plural(g.Bound.Sheets, "sheet"), g.SheetsUsed())
	if g.Bound.Money > 0 {
		s += fmt.Sprintf(" and costs at most %s more than the cheapest could", Percent(g.Bound.Gap(g.Ways[0].Money)))
	}
	return s + "."
}

// mixWords says how good the integer plan is among the layouts that were found.
func mixWords(b *week.Bound) string {
	if b.Columns == 0 || b.MixParts <= 0 {
		return ""
	}
	s := fmt.Sprintf("A mix was chosen among %s found", plural(b.Columns, "layout"))
	if b.MixMoney <= b.MixWhole {
		s += "; no other choice of whole sheets among them costs less"
	} else {
		s += fmt.Sprintf("; no choice of whole sheets among them costs less by more than %s", Percent(b.MixMoney/b.MixWhole-1))
	}
	return s + fmt.Sprintf(", and with fractions of sheets none by more than %s. That says nothing of layouts nobody found.", Percent(b.MixGap()))
}
