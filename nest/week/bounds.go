package week

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/shop"
)

// What no plan of a group can beat is worked out from areas and from floors of
// the cost model, not from any layout: it holds for layouts nobody found, too.
//
// Two parts lie at least the spacing apart and at least the margin from the
// edge. So parts grown by half the spacing do not overlap, and lie in the sheet
// shrunk by the margin and grown by half the spacing; their areas must fit.
// A part's hole counts as part of it when no part of the group could lie in
// it. Parts larger than what their neighbours leave of a sheet count as in
// one-dimensional packing (Martello and Toth 1990, "Lower bounds and reduction
// procedures for the bin packing problem", the bound L2). Shapes count for
// nothing, so a bound is often beyond reach.

// A need is what a group's parts and sheets come to in such areas, mm².
type need struct {
	grown  []float64 // of one copy of each part
	usable []float64 // of one sheet of each kind
}

// needOf measures a group.
func needOf(g *Group) need {
	var n need
	for i := range g.Parts {
		n.grown = append(n.grown, grownArea(g, i))
	}
	for i := range g.Sheets {
		n.usable = append(n.usable, usableArea(&g.Sheets[i], g.SpacingMM, g.MarginMM))
	}
	return n
}

// grownArea is the area of a part grown by half the spacing, rounded down: the
// part flattened inwards, less what the rounding of joins may add.
func grownArea(g *Group, part int) float64 {
	s := &g.Parts[part].Shape
	p := orb.Polygon{s.Outer.Flatten(geom.ChordTolerance, geom.Inward)}
	for _, h := range s.Holes {
		if r := h.Flatten(geom.ChordTolerance, geom.Outward); holdsAny(g, r) {
			p = append(p, r)
		}
	}
	p = geom.NormalPolygon(p)
	if g.SpacingMM <= 0 {
		return geom.PolygonArea(p)
	}
	area := 0.0
	for _, q := range geom.Offset(p, g.SpacingMM/2, geom.ChordTolerance) {
		area += geom.PolygonArea(q)
		for _, r := range q {
			area -= offsetSlack * geom.RingLength(r)
		}
	}
	return math.Max(area, geom.PolygonArea(p))
}

// offsetSlack is how far, in mm, a grown outline may lie beyond the true one.
const offsetSlack = geom.ChordTolerance + 8*geom.Grid

// holdsAny tells whether some wanted part of the group could lie in a hole: it
// must be no longer than the hole and have no larger area.
func holdsAny(g *Group, hole orb.Ring) bool {
	area, length := math.Abs(geom.RingArea(hole)), spread(hole)
	for i := range g.Parts {
		o := g.Parts[i].Shape.Outer
		if o.Area() <= area && spread(o.Flatten(geom.ChordTolerance, geom.Inward)) <= length {
			return true
		}
	}
	return false
}

// spread is the largest distance between two corners.
func spread(r orb.Ring) float64 {
	hull := geom.ConvexHull(r)
	most := 0.0
	for i := range hull {
		for j := range hull[:i] {
			most = math.Max(most, math.Hypot(hull[i][0]-hull[j][0], hull[i][1]-hull[j][1]))
		}
	}
	return most
}

// usableArea is the area that grown parts may cover on a sheet, rounded up.
func usableArea(s *shop.Stock, spacing, margin float64) float64 {
	p := orb.Polygon{s.Outline.Flatten(geom.ChordTolerance, geom.Outward)}
	for _, b := range s.Blocked {
		p = append(p, b.Flatten(geom.ChordTolerance, geom.Inward))
	}
	pieces := []orb.Polygon{geom.NormalPolygon(p)}
	if d := margin - offsetSlack; d > 0 {
		pieces = geom.Offset(pieces[0], -d, geom.ChordTolerance)
	}
	area := 0.0
	for _, q := range pieces {
		if spacing > 0 {
			for _, r := range geom.Offset(q, spacing/2, geom.ChordTolerance) {
				area += geom.PolygonArea(r)
			}
			continue
		}
		area += geom.PolygonArea(q)
	}
	return area * (1 + sumSlack)
}

// leastSheets is how many sheets at least every plan cuts that places all
// wanted parts; more than there are when none can.
func (n *need) leastSheets(g *Group) int {
	var sheets []float64
	for i := range g.Sheets {
		for range g.Sheets[i].Count {
			sheets = append(sheets, n.usable[i])
		}
	}
	total := n.total(g)
	if total <= 0 || len(sheets) == 0 {
		return 0
	}
	slices.SortFunc(sheets, func(a, b float64) int { return int(math.Copysign(1, b-a)) })
	count, room := 0, 0.0
	for room < total && count < len(sheets) {
		room += sheets[count]
		count++
	}
	if room < total {
		count += int(math.Ceil((total - room) / sheets[0]))
	}
	return max(count, n.leastBins(g, sheets[0]))
}

// bound notes what no plan of the group can beat.
func (t *task) bound(rule RemnantRule) (err error) {
	g := &t.group
	n := needOf(g)
	g.Bound.Sheets = n.leastSheets(g)
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

// leastBins is the bound L2 for bins of the largest sheet's room.
func (n *need) leastBins(g *Group, room float64) int {
	best := 0
	for k := range g.Parts {
		small := n.grown[k]
		if g.Parts[k].Filler || small > room/2 {
			small = 0
		}
		large, middle, middleArea, rest := 0, 0, 0.0, 0.0
		for i := range g.Parts {
			o, a := &g.Parts[i], n.grown[i]
			switch {
			case o.Filler:
			case a > room-small:
				large += o.Quantity
			case a > room/2:
				middle += o.Quantity
				middleArea += float64(o.Quantity) * a
			case a >= small:
				rest += float64(o.Quantity) * a
			}
		}
		over := rest - (float64(middle)*room - middleArea)
		best = max(best, large+middle+max(0, int(math.Ceil(over/room-sumSlack))))
	}
	return best
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
			c := f.tariff.copyFloor(i)
			alone = math.Min(alone, c)
			kept := rule.ValueShare * t.group.Sheets[f.sheet].Cost
			each = math.Min(each, c+math.Max(0, f.money-kept)*n.grown[i]/n.usable[f.sheet]+kept*t.area[i]/t.round[f.sheet])
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
