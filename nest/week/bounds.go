package week

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/shop"
)

// What no plan of a group can beat is worked out from areas and from floors of
// the cost model, not from any layout: it holds for layouts nobody found, too.
//
// Which sheets are needed at least, and how much of them the parts cover, is
// nest's to say ([nest.LowerBound]); it is asked with parts as small and sheets as
// large as flattening may leave them.

// A need is what a group's parts and sheets come to, areas in mm².
type need struct {
	sheets int       // fewest
	grown  []float64 // by part of the group: what a copy takes, half the spacing included
	usable []float64 // by sheet of the group: what it offers
	cover  nest.Coverage
}

// needOf measures a group's wanted parts.
func needOf(g *Group) (need, error) {
	n := need{grown: make([]float64, len(g.Parts)), usable: make([]float64, len(g.Sheets))}
	p := boundPosing(g)
	if !p.solvable() {
		return n, nil
	}
	b, c, err := nest.LowerBound(p.Problem)
	if err != nil {
		return n, err
	}
	n.sheets, n.cover = b.Sheets, c
	for i, a := range c.Parts {
		n.grown[p.part[i]] = a
	}
	for i, a := range c.Sheets {
		n.usable[p.sheet[i]] = a
	}
	return n, nil
}

// boundPosing is the group's wanted parts flattened inwards, on its sheets
// flattened outwards.
func boundPosing(g *Group) posing {
	p := posing{Problem: nest.Problem{Spacing: g.SpacingMM, Margin: g.MarginMM}}
	for i := range g.Parts {
		o := &g.Parts[i]
		outline := orb.Polygon{o.Shape.Outer.Flatten(geom.ChordTolerance, geom.Inward)}
		for _, h := range o.Shape.Holes {
			outline = append(outline, h.Flatten(geom.ChordTolerance, geom.Outward))
		}
		if outline = geom.NormalPolygon(outline); o.Filler || o.Quantity == 0 || len(outline) == 0 {
			continue
		}
		p.Parts = append(p.Parts, nest.Part{
			ID: o.ID, Outline: outline, Quantity: o.Quantity, Angles: o.Angles, FreeAngle: o.FreeAngle, Mirror: o.Mirror, Grain: o.GrainDeg,
		})
		p.part = append(p.part, i)
	}
	for i := range g.Sheets {
		s := &g.Sheets[i]
		outline := orb.Polygon{s.Outline.Flatten(geom.ChordTolerance, geom.Outward)}
		for _, b := range s.Blocked {
			outline = append(outline, b.Flatten(geom.ChordTolerance, geom.Inward))
		}
		if outline = geom.NormalPolygon(outline); s.Count == 0 || len(outline) == 0 {
			continue
		}
		p.Sheets = append(p.Sheets, nest.Sheet{ID: s.ID, Outline: outline, Count: s.Count, Cost: s.Cost, Grain: s.GrainDeg})
		p.sheet = append(p.sheet, i)
	}
	return p
}

// bound notes what no plan of the group can beat.
func (t *task) bound(rule RemnantRule) (err error) {
	g := &t.group
	n, err := needOf(g)
	if err != nil {
		return err
	}
	g.Bound.Sheets = n.sheets
	have := 0
	for i := range g.Sheets {
		have += g.Sheets[i].Count
	}
	if g.Bound.Sheets <= have {
		g.Bound.Money, err = t.leastMoney(n, g.Bound.Sheets, rule)
	}
	return err
}

// leastMoney is what every plan that places all wanted parts costs at least, in
// the terms of Way.Money: the largest of several bounds, for what remnants bring at
// most can be told in more than one way.
func (t *task) leastMoney(n need, sheets int, rule RemnantRule) (float64, error) {
	rates, err := t.rates()
	if err != nil || len(rates) == 0 || len(t.group.Sheets) == 0 {
		return 0, err
	}
	m := moneyBound{t: t, need: n, sheets: sheets, floors: t.sheetFloors(rates), price: rule.ValueShare * t.sheetPrice()}
	least := 0.0
	for _, r := range []remnantBound{t.remnantsByArea(rule), t.remnantsByRoom(n, rule)} {
		if !m.bears(r) {
			continue
		}
		whole, err := m.whole(r)
		if err != nil {
			return 0, err
		}
		least = math.Max(least, math.Max(m.shared(r), whole))
	}
	return least + t.layoutMoney(), nil
}

// A sheetFloor is what a sheet of a kind costs at least, on one machine at one
// depth, beside the cutting of its parts.
type sheetFloor struct {
	sheet  int
	tariff *depthTariff
	money  float64
}

func (t *task) sheetFloors(rates tariff) []sheetFloor {
	var out []sheetFloor
	for s := range t.group.Sheets {
		for k := range rates {
			if !shop.TakesSheet(&t.job.Machines[rates[k].machine], &t.group.Sheets[s]) {
				continue
			}
			for d := range rates[k].depths[:min(len(rates[k].depths), max(1, t.group.Sheets[s].Count))] {
				dt := &rates[k].depths[d]
				out = append(out, sheetFloor{s, dt, dt.runFloor(t.group.Sheets[s].Cost)})
			}
		}
	}
	return out
}
