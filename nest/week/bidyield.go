package week

import (
	"math"

	"kerfold/cost"
)

// A sheetUse says how full the sheets of a candidate are, as shares.
type sheetUse struct {
	yield   float64 // of all sheets
	fullest float64 // the highest yield of one
	spared  float64 // the yield if the emptiest sheet were not needed; +Inf for a single sheet
}

// useOf is the use of the best candidate, the fullest sheet being that of any.
func useOf(found []*candidate, t *task) sheetUse {
	u := density(found[0], t)
	for _, c := range found {
		u.fullest = math.Max(u.fullest, density(c, t).fullest)
	}
	return u
}

func density(c *candidate, t *task) sheetUse {
	parts, sheets, least, weakest := 0.0, 0.0, math.Inf(1), 0.0
	var u sheetUse
	for i := range c.laid {
		l := &c.laid[i]
		area := 0.0
		for _, p := range l.placements {
			area += t.area[p.Part]
		}
		n := float64(l.repeats)
		parts, sheets = parts+n*area, sheets+n*t.round[l.sheet]
		u.fullest = math.Max(u.fullest, area/t.round[l.sheet])
		if area < least {
			least, weakest = area, t.round[l.sheet]
		}
	}
	u.yield, u.spared = share(parts, sheets), math.Inf(1)
	if sheets > weakest {
		u.spared = parts / (sheets - weakest)
	}
	return u
}

// nearly is how much denser than its fullest sheet a full plan may pack all.
const nearly = 1.1

// yieldRange is the range in which the yield of a full plan lies: much the same,
// or that with a sheet less where the fullest sheet is nearly as dense as that
// takes. It was held against full plans of invented jobs, see bidcover_test.go.
func yieldRange(u sheetUse) cost.Interval {
	y := cost.Interval{Low: u.yield * (1 - yieldSlack), Likely: u.yield, High: math.Min(1, u.yield*(1+yieldSlack)), Level: cost.DefaultLevel}
	if u.spared <= u.fullest*nearly {
		y.High = math.Min(1, math.Max(y.High, u.spared))
	}
	return y
}

// yieldSlack is what sheets of other sizes and surplus parts change.
const yieldSlack = 0.04

// widen adds to a group's money and time what a full plan may change.
func (g *BidGroup) widen() {
	if g.Yield.Low > 0 {
		spread := math.Log(g.Yield.High/g.Yield.Low) / (2 * z90)
		g.Money = g.Money.Plus(cause("layout "+g.ID, spread*g.Ledger.Money.Material))
	}
	g.Money = g.Money.Plus(cause("path "+g.ID, pathSpread*g.Ledger.Money.Process()))
	g.Seconds = g.Seconds.Plus(cause("path "+g.ID, pathSpread*g.Seconds.Likely))
}

const (
	z90        = 1.6449 // of a normal distribution, 90 % within
	pathSpread = 0.02
)

// cause is an uncertainty by itself.
func cause(key string, delta float64) cost.Estimate {
	return cost.Estimate{Parts: []cost.Contribution{{Key: key, Delta: delta}}}
}

// sumYields is the range of the yield of all groups together, whose departures
// are taken as independent.
func sumYields(groups []BidGroup) cost.Interval {
	var parts, sheets, less, more float64
	for i := range groups {
		g := &groups[i]
		if g.Yield.Low <= 0 {
			continue
		}
		parts, sheets = parts+g.PartArea, sheets+g.SheetArea
		less += math.Pow(g.PartArea/g.Yield.High-g.SheetArea, 2)
		more += math.Pow(g.PartArea/g.Yield.Low-g.SheetArea, 2)
	}
	if sheets == 0 {
		return cost.Interval{Level: cost.DefaultLevel}
	}
	return cost.Interval{
		Low: parts / (sheets + math.Sqrt(more)), Likely: parts / sheets,
		High: math.Min(1, parts/math.Max(sheets-math.Sqrt(less), parts)), Level: cost.DefaultLevel,
	}
}
