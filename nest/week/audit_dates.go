package week

import (
	"fmt"
	"math"
)

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
		case o.Late != w.Late || o.LateDays != w.LateDays || math.Abs(o.LateSec-w.LateSec) > tallyGrain:
			faults = append(faults, fmt.Sprintf("order %s: it says %s, the calendar makes it %s", o.Order, lateness(o), lateness(w)))
		}
	}
	return faults
}

// lateness says how late an order is, in days and in hours of work.
func lateness(o OrderDate) string {
	work := fmt.Sprintf("%.1f working hours", o.LateSec/3600)
	switch {
	case !o.Tardy() && o.Late:
		return "not complete"
	case !o.Tardy():
		return "in time"
	case o.LateDays == 0:
		return work + " late"
	case o.LateDays == 1:
		return "1 day late (" + work + ")"
	}
	return fmt.Sprintf("%d days late (%s)", o.LateDays, work)
}
