package week

import (
	"math"

	"kerfold/cost"
)

// yieldRange is the range in which the yield of a full plan lies.
func yieldRange(c *candidate, t *task) cost.Interval {
	y := share(t.group.PartArea, t.group.SheetArea)
	return cost.Interval{Low: y * 0.95, Likely: y, High: math.Min(1, y*1.05), Level: cost.DefaultLevel}
}

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
