package report

import (
	"fmt"

	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// A stockLine is a kind of sheet or a remnant before and after the plan.
type stockLine struct {
	ID, Material, Thickness, Size, Location string
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
			out = append(out, newStockLine(s))
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
			l.After, l.Kind = l.After+s.Count, "new remnant"
		}
	}
	return out
}

// newRemnants are the ids of the remnants the plan leaves: a sheet's id and the
// layout's.
func newRemnants(p *week.Plan) map[string]bool {
	ids := map[string]bool{}
	for i := range p.Groups {
		g := &p.Groups[i]
		for k := range g.Layouts {
			if l := &g.Layouts[k]; l.Remnant != nil {
				ids[g.Sheets[l.Sheet].ID+"/"+l.ID] = true
			}
		}
	}
	return ids
}

func newStockLine(s *shop.Stock) stockLine {
	x, y := s.Size()
	l := stockLine{
		ID: s.ID, Material: s.Material, Thickness: Length(s.ThicknessMM), Size: fmt.Sprintf("%s × %s", Length(x), Length(y)),
		Location: s.Location, Worth: money(s.Cost), Kind: "sheet",
	}
	if s.Remnant {
		l.Kind = "remnant"
	}
	return l
}
