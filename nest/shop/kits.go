package shop

import "fmt"

// Kits is the number of kits an order is for; 0 where it belongs to none.
func (o *Order) Kits() int {
	if o.PerKit == 0 {
		return 0
	}
	return o.Quantity / o.PerKit
}

// validateKits: members of a kit share a group and make the same number of kits.
func (l *loader) validateKits() {
	first := map[string]*Order{}
	for i := range l.job.Orders {
		o := &l.job.Orders[i]
		if o.Kit == "" {
			continue
		}
		if first[o.Kit] == nil {
			first[o.Kit] = o
			continue
		}
		l.sameKit(first[o.Kit], o)
	}
}

func (l *loader) sameKit(a, b *Order) {
	at := l.orderAt[b.ID]
	if a.Group() != b.Group() {
		l.log.fault(at, b.name(), fmt.Sprintf("kit %s holds %s %s mm (%s) and %s %s mm (%s), which cannot share a sheet", a.Kit,
			a.Material, short(a.ThicknessMM), a.Grade, b.Material, short(b.ThicknessMM), b.Grade),
			"give its orders one material, thickness and grade, or make it two kits")
	}
	if a.Kits() != b.Kits() {
		l.log.fault(at, b.name(), fmt.Sprintf("this order makes %d of kit %s, and %s makes %d", b.Kits(), b.Kit, a.name(), a.Kits()),
			"make the quantities agree; per_kit says how many of a part one kit holds")
	}
}
