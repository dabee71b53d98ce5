package week

import "fmt"

// auditBound holds what a group says no plan can beat against the plan and the
// ways it compared, and works the number of sheets out again. The money of the
// bound comes of rates, which a plan does not hold; only that nothing lies below
// it can be told.
func auditBound(g *Group) []string {
	var faults []string
	b := &g.Bound
	switch n, err := needOf(g); {
	case err != nil:
		faults = append(faults, fmt.Sprintf("%s: what it needs at least cannot be worked out: %v", g.ID, err))
	case b.Sheets != 0 && b.Sheets != n.sheets:
		faults = append(faults, fmt.Sprintf("%s: it says that no plan uses fewer than %d sheets, its parts say %d", g.ID, b.Sheets, n.sheets))
	}
	for i, w := range g.Ways {
		if w.Short > 0 {
			continue
		}
		if w.Sheets < b.Sheets {
			faults = append(faults, fmt.Sprintf("%s: %q uses %d sheets, fewer than the %d it says are needed", g.ID, w.Name, w.Sheets, b.Sheets))
		}
		if w.Money < b.Money*(1-sumSlack) {
			faults = append(faults, fmt.Sprintf("%s: %q costs %.2f, less than the %.2f it says is possible", g.ID, w.Name, w.Money, b.Money))
		}
		if i == 0 && w.Sheets != g.SheetsUsed() {
			faults = append(faults, fmt.Sprintf("%s: its chosen way uses %d sheets, its layouts %d", g.ID, w.Sheets, g.SheetsUsed()))
		}
	}
	if slack := 1 + sumSlack; b.MixParts > b.MixWhole*slack || b.MixWhole > b.MixMoney*slack {
		faults = append(faults, fmt.Sprintf("%s: its mix costs %.2f, its bounds %.2f and %.2f lie above it", g.ID, b.MixMoney, b.MixParts, b.MixWhole))
	}
	return faults
}
