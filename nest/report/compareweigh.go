package report

import (
	"cmp"
	"math"
	"slices"

	"kerfold/nest/week"
)

// What matters to a planner comes first: orders that are late or short, then
// groups by how much money they change. What changes nothing anybody plans by is
// counted, and the largest of it named.

const (
	// minorShare is the share of a group's time and cost below which a change is
	// none that anybody plans by: estimates are many times less sure.
	minorShare = 0.005
	// fewMinor is how many minor changes are listed all the same.
	fewMinor = 3
)

// An OrderKind says how an order's change is to be taken.
type OrderKind string

const (
	OrderWorse   OrderKind = "worse"  // later than it was late, or with more missing
	OrderBetter  OrderKind = "better" // less late, or with less missing
	OrderOnlyInA OrderKind = "only in A"
	OrderOnlyInB OrderKind = "only in B"
	OrderMoved   OrderKind = "moved" // in time in both, cut on another day
)

// newOrderChange compares one order of two plans.
func newOrderChange(a, b *week.Plan, x, y week.OrderDate) OrderChange {
	c := OrderChange{Order: x.Order, A: fare(a, x), B: fare(b, y), Kind: OrderMoved}
	missing := (y.Wanted - y.Placed) - (x.Wanted - x.Placed)
	if worse := cmp.Or(cmp.Compare(missing, 0), cmp.Compare(y.LateDays, x.LateDays), cmp.Compare(y.LateSec, x.LateSec)); worse > 0 {
		c.Kind = OrderWorse
	} else if worse < 0 {
		c.Kind = OrderBetter
	}
	if in(a, x.Finish) && in(b, y.Finish) {
		c.Days = int(math.Round(b.Days[y.Finish].Sub(a.Days[x.Finish]).Hours() / 24))
	}
	return c
}

func in(p *week.Plan, day int) bool { return day >= 0 && day < len(p.Days) }

// orderKinds is the kinds by importance.
var orderKinds = []OrderKind{OrderWorse, OrderBetter, OrderOnlyInA, OrderOnlyInB, OrderMoved}

// byImportance sorts what became worse first, and among equals what moved most.
func byImportance(list []OrderChange) {
	slices.SortStableFunc(list, func(x, y OrderChange) int {
		return cmp.Or(cmp.Compare(slices.Index(orderKinds, x.Kind), slices.Index(orderKinds, y.Kind)), cmp.Compare(abs(y.Days), abs(x.Days)))
	})
}

func abs(n int) int { return max(n, -n) }

// minor tells whether a group changes by nothing that anybody plans by.
func (c *Comparison) minor(group int) bool {
	a, b := c.Groups[group].A, c.Groups[group].B
	if a == nil || b == nil || c.A.Currency != c.B.Currency {
		return false
	}
	return a.Sheets == b.Sheets && a.Depth == b.Depth &&
		math.Abs(b.Money-a.Money) <= minorShare*a.Money && math.Abs(b.Seconds-a.Seconds) <= minorShare*a.Seconds
}

// change is how much more money B spends on a group; that of a group only one
// plan has is the whole of it.
func (g *GroupChange) change() float64 {
	money := 0.0
	if g.B != nil {
		money += g.B.Money
	}
	if g.A != nil {
		money -= g.A.Money
	}
	return money
}

// groupsByWeight lists the groups that change, most money first, and the others.
func (c *Comparison) groupsByWeight() (notable, minor []int) {
	for i := range c.Groups {
		if c.minor(i) {
			minor = append(minor, i)
		} else {
			notable = append(notable, i)
		}
	}
	most := func(x, y int) int {
		return cmp.Compare(math.Abs(c.Groups[y].change()), math.Abs(c.Groups[x].change()))
	}
	slices.SortStableFunc(notable, most)
	slices.SortStableFunc(minor, most)
	return notable, minor
}

// changeOrder is the kinds of a layout's change by importance.
var changeOrder = []Change{OnlyInA, OnlyInB, CutOtherwise, Rearranged, SameLayout}

// layoutsByWeight lists the layouts that changed: those of groups that change, in
// those groups' order, and apart the others, which change nothing but where parts
// lie.
func (c *Comparison) layoutsByWeight() (notable, minor []LayoutChange) {
	groups, small := c.groupsByWeight()
	for _, i := range slices.Concat(groups, small) {
		var list []LayoutChange
		for _, l := range c.Layouts {
			if l.Group == i && l.Change != SameLayout {
				list = append(list, l)
			}
		}
		slices.SortStableFunc(list, func(x, y LayoutChange) int {
			return cmp.Compare(slices.Index(changeOrder, x.Change), slices.Index(changeOrder, y.Change))
		})
		for _, l := range list {
			if l.Change == Rearranged || c.minor(i) && l.Change != CutOtherwise {
				minor = append(minor, l)
			} else {
				notable = append(notable, l)
			}
		}
	}
	return notable, minor
}
