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
	n.sheets = b.Sheets
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

// total is the grown area of all wanted parts.
func (n *need) total(g *Group) float64 {
	total := 0.0
	for i := range g.Parts {
		if !g.Parts[i].Filler {
			total += float64(g.Parts[i].Quantity) * n.grown[i]
		}
	}
	return total
}

// leastMoney is what every plan that places all wanted parts costs at least, in
// the terms of Way.Money: the larger of two bounds. One shares every sheet's
// money among its parts by area, at the machine and depth that suit each best;
// the other takes whole sheets and the least cutting apart.
func (t *task) leastMoney(n need, sheets int, rule RemnantRule) (float64, error) {
	rates, err := t.rates()
	if err != nil || len(rates) == 0 || len(t.group.Sheets) == 0 {
		return 0, err
	}
	floors := t.sheetFloors(rates)
	shared, cutting := 0.0, 0.0
	for i := range t.group.Parts {
		o := &t.group.Parts[i]
		if o.Filler { // worth more than its cutting, at most by a remnant's share
			worth := float64(o.Quantity) * rule.ValueShare * t.sheetPrice() * t.area[i]
			shared, cutting = shared-worth, cutting-worth
			continue
		}
		each, alone := math.Inf(1), math.Inf(1)
		for _, f := range floors {
			if n.usable[f.sheet] <= 0 {
				continue
			}
			c := f.tariff.copyFloor(i)
			alone = math.Min(alone, c)
			kept := rule.ValueShare * t.group.Sheets[f.sheet].Cost
			each = math.Min(each, c+math.Max(0, f.money-kept)*n.grown[i]/n.usable[f.sheet]+kept*t.area[i]/t.round[f.sheet])
		}
		if math.IsInf(each, 1) {
			continue // nothing can be cut
		}
		shared += float64(o.Quantity) * each
		cutting += float64(o.Quantity) * alone
	}
	whole, err := t.leastSheetMoney(n, sheets, floors, rule)
	return math.Max(0, math.Max(shared, cutting+whole)) + t.layoutMoney(), err
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

// leastSheetMoney is the least that whole sheets cost which offer the area and
// the number needed, remnants credited as if all that is free were kept.
func (t *task) leastSheetMoney(n need, sheets int, floors []sheetFloor, rule RemnantRule) (float64, error) {
	b := sheetBound{room: n.usable, need: n.total(&t.group), least: sheets}
	for s := range t.group.Sheets {
		money := math.Inf(1)
		for _, f := range floors {
			if f.sheet == s {
				money = math.Min(money, f.money)
			}
		}
		if math.IsInf(money, 1) {
			money = 0
		}
		kept := rule.ValueShare * t.group.Sheets[s].Cost
		b.fixed, b.fill = append(b.fixed, math.Max(0, money-kept)), append(b.fill, kept)
		b.full, b.count = append(b.full, t.round[s]), append(b.count, t.group.Sheets[s].Count)
	}
	for i := range t.group.Parts {
		if o := &t.group.Parts[i]; !o.Filler {
			b.area += float64(o.Quantity) * t.area[i]
		}
	}
	return b.solve()
}
