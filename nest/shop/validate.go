package shop

import (
	"fmt"
	"slices"
	"time"
)

// validate holds the parts of a job against each other. What earlier faults
// explain is not complained of again.
func (l *loader) validate() {
	l.validateDates()
	if l.badOrders == 0 {
		l.validateKits()
	}
	if len(l.job.Orders) == 0 {
		return
	}
	fit := l.groups()
	if l.badStock == 0 {
		l.validateStock(fit)
	}
	if len(l.job.Machines) == len(l.machineAt) && len(l.job.Machines) > 0 {
		l.validateMachines(fit)
	}
	if l.badStock == 0 {
		l.validateFits(fit)
	}
}

// A groupFit is a group with its orders and the sheets it could be cut from, as
// indices into the job's orders and stock.
type groupFit struct {
	key    Group
	orders []int
	stock  []int
}

// groups lists the groups in the order they are first wanted.
func (l *loader) groups() []*groupFit {
	var out []*groupFit
	byKey := map[Group]*groupFit{}
	for i := range l.job.Orders {
		key := l.job.Orders[i].Group()
		g := byKey[key]
		if g == nil {
			g = &groupFit{key: key, stock: l.job.stockFor(key)}
			byKey[key] = g
			out = append(out, g)
		}
		g.orders = append(g.orders, i)
	}
	return out
}

// stockFor lists the stock a group could be cut from.
func (j *Job) stockFor(g Group) []int {
	var out []int
	for i := range j.Stock {
		s := &j.Stock[i]
		if s.Material == g.Material && s.ThicknessMM == g.ThicknessMM && s.Count > 0 {
			out = append(out, i)
		}
	}
	return out
}

// name is how messages call an order.
func (o *Order) name() string {
	if o.Part != "" && o.Part != o.ID {
		return fmt.Sprintf("order %s (%s)", o.ID, o.Part)
	}
	return "order " + o.ID
}

func (l *loader) validateDates() {
	days := l.job.Days
	if len(days) == 0 {
		return
	}
	for i := range l.job.Orders {
		o := &l.job.Orders[i]
		at := l.orderAt[o.ID]
		switch {
		case o.Due.IsZero():
		case o.Due.Before(days[0]):
			l.log.warn(at, o.name(), fmt.Sprintf("due %s, before the first working day %s", dayText(o.Due), dayText(days[0])), "it will be late whatever is planned")
		case o.Due.Before(days[len(days)-1]) && !slices.ContainsFunc(days, o.Due.Equal):
			l.log.warn(at, o.name(), fmt.Sprintf("due %s, which is not a working day", dayText(o.Due)), "it must be done the working day before")
		case o.Due.Sub(days[0]) > 5*366*24*time.Hour:
			l.log.warn(at, o.name(), fmt.Sprintf("due %s, years ahead", dayText(o.Due)), "look at the year")
		}
	}
}

// validateStock reports groups without a sheet, and warns of those whose parts
// have more area than all their sheets.
func (l *loader) validateStock(groups []*groupFit) {
	for _, g := range groups {
		if len(g.stock) == 0 {
			l.noStock(g)
			continue
		}
		l.areas(g)
	}
}

func (l *loader) noStock(g *groupFit) {
	o := &l.job.Orders[g.orders[0]]
	more := ""
	if n := len(g.orders) - 1; n > 0 {
		more = fmt.Sprintf(" (and %s)", plural(n, "more order"))
	}
	mend := fmt.Sprintf("add under stock: material: %s, thickness_mm: %s, width_mm, height_mm, count, cost", g.key.Material, short(g.key.ThicknessMM))
	if near, ok := l.nearThickness(g.key); ok {
		mend += fmt.Sprintf("; there is %s mm", short(near))
	}
	l.log.fault(l.orderAt[o.ID], o.name()+more, fmt.Sprintf("no stock of %s %s mm", g.key.Material, short(g.key.ThicknessMM)), mend)
}

// nearThickness is the thickness in stock nearest to the one wanted.
func (l *loader) nearThickness(g Group) (near float64, ok bool) {
	for i := range l.job.Stock {
		s := &l.job.Stock[i]
		if s.Material == g.Material && s.Count > 0 && (!ok || abs(s.ThicknessMM-g.ThicknessMM) < abs(near-g.ThicknessMM)) {
			near, ok = s.ThicknessMM, true
		}
	}
	return near, ok
}

func abs(x float64) float64 { return max(x, -x) }

func (l *loader) areas(g *groupFit) {
	want, have := 0.0, 0.0
	for _, i := range g.orders {
		if o := &l.job.Orders[i]; !o.Filler {
			want += o.Shape.Area() * float64(o.Quantity)
		}
	}
	for _, i := range g.stock {
		s := &l.job.Stock[i]
		have += s.AreaMM2() * float64(s.Count)
	}
	if want > have {
		o := &l.job.Orders[g.orders[0]]
		l.log.warn(l.orderAt[o.ID], fmt.Sprintf("orders in %s %s mm, %s", g.key.Material, short(g.key.ThicknessMM), g.key.Grade),
			fmt.Sprintf("the parts have %.2f m² and the sheets %.2f m²", want/1e6, have/1e6), "add sheets, or some parts will find no place")
	}
}
