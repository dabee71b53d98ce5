package week

import "fmt"

// auditDates follows the calendar anew and compares when orders are finished and
// which are late.
func auditDates(p *Plan) []string {
	again := orderDates(p)
	if len(again) != len(p.Orders) {
		return []string{fmt.Sprintf("the plan dates %d orders, its groups hold %d", len(p.Orders), len(again))}
	}
	var faults []string
	for i, o := range p.Orders {
		w := again[i]
		switch {
		case o.Order != w.Order || o.Group != w.Group:
			faults = append(faults, fmt.Sprintf("order %s: %s stands in its place in the groups", o.Order, w.Order))
		case o.Finish != w.Finish || o.FinishSec != w.FinishSec:
			faults = append(faults, fmt.Sprintf("order %s: the calendar finishes it at another time than it says", o.Order))
		case o.Late != w.Late || o.LateDays != w.LateDays:
			faults = append(faults, fmt.Sprintf("order %s: it says %s, the calendar makes it %s", o.Order, lateness(o), lateness(w)))
		}
	}
	return faults
}

// lateness says how late an order is.
func lateness(o OrderDate) string {
	switch {
	case !o.Late:
		return "in time"
	case o.LateDays == 1:
		return "1 day late"
	}
	return fmt.Sprintf("%d days late", o.LateDays)
}
