package week

import (
	"fmt"
	"math"

	"kerfold/cost"
)

// sumSlack is the share of a sum by which it may differ from its parts: they
// were added up in another order. Far above what thousands of float64 additions
// lose, far below a cent.
const sumSlack = 1e-9

// auditMoney holds the money of runs, layouts, groups and the plan against each
// other.
func auditMoney(p *Plan) []string {
	var faults []string
	groups := 0.0
	for i := range p.Groups {
		g := &p.Groups[i]
		layouts := 0.0
		for k := range g.Layouts {
			l := &g.Layouts[k]
			runs := 0.0
			for _, r := range l.Runs {
				runs += float64(r.Count) * r.Ledger.Money.Total()
			}
			faults = appendSum(faults, l.ID, "runs", l.Ledger.Money, runs)
			layouts += l.Ledger.Money.Total()
		}
		faults = appendSum(faults, g.ID, "layouts", g.Ledger.Money, layouts)
		groups += g.Ledger.Money.Total()
	}
	between := p.Between.Money.Total()
	if rest := p.Ledger.Money.Total() - groups; math.Abs(rest-between) > sumSlack*math.Max(1, groups) {
		faults = append(faults, fmt.Sprintf("the plan: it costs %.2f, its groups %.2f and what lies between the runs %.2f",
			p.Ledger.Money.Total(), groups, between))
	}
	return faults
}

func appendSum(faults []string, of, parts string, said cost.Money, sum float64) []string {
	total := said.Total()
	if math.Abs(total-sum) <= sumSlack*math.Max(1, math.Abs(sum)) {
		return faults
	}
	return append(faults, fmt.Sprintf("%s: it costs %.2f, its %s add up to %.2f", of, total, parts, sum))
}
