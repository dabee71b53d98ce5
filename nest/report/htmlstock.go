package report

import (
	"fmt"
	"time"

	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// A stockLine is a kind of sheet or a remnant before and after the plan.
type stockLine struct {
	ID, Material, Thickness, Size, Location string
	Age                                     string // days on the rack when the week begins
	Origin                                  string // of a remnant: sheet, layout, job
	Before, Cut, After                      int
	Worth                                   string // of one
	Kind                                    string // "sheet", "remnant", "new remnant"
}

// stockLines puts the stock before the plan beside that after it. What there
// was is what is left and what was cut; only new remnants were not there.
func stockLines(p *week.Plan) []stockLine {
	var out []stockLine
	at := map[string]int{}
	line := func(s *shop.Stock) *stockLine {
		i, known := at[s.ID]
		if !known {
			i = len(out)
			at[s.ID] = i
			out = append(out, newStockLine(p, s))
		}
		return &out[i]
	}
	born := newRemnants(p)
	for i := range p.Stock {
		if s := &p.Stock[i]; !born[s.ID] {
			line(s).After += s.Count
		}
	}
	for i := range p.Groups {
		g := &p.Groups[i]
		for k := range g.Layouts {
			line(&g.Sheets[g.Layouts[k].Sheet]).Cut += g.Layouts[k].Repeats
		}
	}
	for i := range out {
		out[i].Before = out[i].After + out[i].Cut
	}
	for i := range p.Stock {
		if s := &p.Stock[i]; born[s.ID] {
			l := line(s)
			l.After, l.Kind, l.Age = l.After+s.Count, "new remnant", "new"
		}
	}
	return out
}

// newRemnants are the ids of the remnants the plan leaves.
func newRemnants(p *week.Plan) map[string]bool {
	ids := map[string]bool{}
	for i := range p.Groups {
		g := &p.Groups[i]
		for k := range g.Layouts {
			if l := &g.Layouts[k]; l.Remnant != nil {
				ids[l.RemnantID] = true
			}
		}
	}
	return ids
}

func newStockLine(p *week.Plan, s *shop.Stock) stockLine {
	x, y := s.Size()
	m := measureOf(p)
	l := stockLine{
		ID: s.ID, Material: s.Material, Thickness: m.bare(s.ThicknessMM), Size: m.sides(x, y),
		Location: s.Location, Worth: money(s.Cost), Kind: "sheet",
		Age: age(s.Since, firstDay(p)), Origin: s.Origin,
	}
	if s.Remnant {
		l.Kind = "remnant"
	}
	return l
}

func firstDay(p *week.Plan) time.Time {
	if len(p.Days) == 0 {
		return time.Time{}
	}
	return p.Days[0]
}

// age is how many days something has lain on the rack; a dash where that is not
// known, "new" where it comes onto it later.
func age(since, now time.Time) string {
	switch days := int(now.Sub(since).Hours() / 24); {
	case since.IsZero() || now.IsZero():
		return "–"
	case days < 0:
		return "new"
	default:
		return fmt.Sprint(days)
	}
}

// remnantRule says in a sentence which leftovers are kept.
func remnantRule(p *week.Plan) string {
	r := p.Remnants
	if r == (week.RemnantRule{}) {
		return ""
	}
	return fmt.Sprintf("A leftover is kept as a remnant where %s of what its area cost is more than %s for handling and storage, and no side is shorter than %s (%s).",
		Percent(r.ValueShare), Amount(r.UpkeepMoney, p.Currency), measure{units: p.Units}.length(r.MinSideMM), r.Source)
}
