package report

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"kerfold/cost"
	"kerfold/nest"
	"kerfold/nest/week"
)

// CompareVersion is the version of the form a comparison has as JSON.
const CompareVersion = 1

// A Comparison is two plans side by side.
type Comparison struct {
	Version int         `json:"kerfold_compare"`
	A       PlanFigures `json:"a"`
	B       PlanFigures `json:"b"`
	// Groups are matched by material, thickness and edge grade.
	Groups []GroupChange `json:"groups"`
	// LateA and LateB are the orders that are late in each plan, with by how much.
	LateA []string `json:"late_a"`
	LateB []string `json:"late_b"`
	// Orders are those that fare otherwise in B than in A, what became worse first.
	Orders []OrderChange `json:"orders"`
	// Layouts are those of both plans; paired ones first in each group.
	Layouts []LayoutChange `json:"layouts"`
	// Units is what its text is written in: those of B.
	Units cost.UnitSystem `json:"-"`
}

// PlanFigures are a plan's totals. Times are seconds, money in Currency.
type PlanFigures struct {
	Job           string  `json:"job"`
	Seed          uint64  `json:"seed"`
	Effort        float64 `json:"effort"`
	Status        string  `json:"status"`
	Currency      string  `json:"currency"`
	Layouts       int     `json:"layouts"`
	Stacks        int     `json:"stacks"`
	Sheets        int     `json:"sheets"`
	Parts         int     `json:"parts"`
	Yield         float64 `json:"yield"`
	NetYield      float64 `json:"net_yield"` // kept remnants taken off the sheets
	Seconds       float64 `json:"seconds"`
	Setups        int     `json:"setups"`
	Money         float64 `json:"money"`
	SheetMoney    float64 `json:"sheet_money"`
	WorkMoney     float64 `json:"work_money"`
	RemnantCredit float64 `json:"remnant_credit"`
	LateOrders    int     `json:"late_orders"`
	LateDays      int     `json:"late_days"` // of all late orders together
	Missing       int     `json:"missing"`   // wanted copies that are not cut
	LastDay       string  `json:"last_day"`  // of the calendar
}

// GroupFigures are a group's totals, without set-ups.
type GroupFigures struct {
	Group   string  `json:"group"`
	Layouts int     `json:"layouts"`
	Sheets  int     `json:"sheets"`
	Depth   string  `json:"depth"`
	Yield   float64 `json:"yield"`
	Seconds float64 `json:"seconds"`
	Money   float64 `json:"money"`
}

// A GroupChange is one group in both plans; nil where a plan has none of it.
type GroupChange struct {
	Material    string        `json:"material"`
	ThicknessMM float64       `json:"thickness_mm"`
	Grade       string        `json:"grade"`
	A           *GroupFigures `json:"a"`
	B           *GroupFigures `json:"b"`
}

// An OrderChange is how an order fares; empty where a plan does not have it.
type OrderChange struct {
	Order string    `json:"order"`
	A     string    `json:"a"`
	B     string    `json:"b"`
	Kind  OrderKind `json:"kind"`
	Days  int       `json:"days"` // that its last copy is cut later in B
}

// A Change says what became of a layout.
type Change string

const (
	SameLayout   Change = "same"
	CutOtherwise Change = "cut otherwise" // equal layout, other repeats or stacks
	Rearranged   Change = "rearranged"    // the same parts, lying otherwise
	OnlyInA      Change = "only in A"
	OnlyInB      Change = "only in B"
)

// A LayoutChange is one layout; A and B are its ids in the plans.
type LayoutChange struct {
	Change Change `json:"change"`
	Group  int    `json:"group"` // index into Groups
	A      string `json:"a,omitempty"`
	B      string `json:"b,omitempty"`
	Sheet  string `json:"sheet"`
	CutA   string `json:"cut_a,omitempty"`
	CutB   string `json:"cut_b,omitempty"`
	Parts  int    `json:"parts"`
}

// Compare puts two plans side by side.
func Compare(a, b *week.Plan) Comparison {
	c := Comparison{Version: CompareVersion, A: figuresOf(a), B: figuresOf(b), LateA: lateOrders(a), LateB: lateOrders(b), Orders: orderChanges(a, b), Units: b.Units}
	for _, p := range pairGroups(a, b) {
		c.Groups = append(c.Groups, p.change())
		for _, l := range p.layouts() {
			l.Group = len(c.Groups) - 1
			c.Layouts = append(c.Layouts, l)
		}
	}
	return c
}

func figuresOf(p *week.Plan) PlanFigures {
	f := PlanFigures{
		Job: p.Job, Seed: p.Seed, Effort: p.Effort, Status: week.StatusWord(p.Status), Currency: p.Currency,
		Stacks: len(p.Calendar), Seconds: p.Seconds, Money: p.Ledger.Money.Total(), SheetMoney: p.Ledger.Money.Material,
		WorkMoney: p.Ledger.Money.Process(), RemnantCredit: p.RemnantCredit, LastDay: lastDay(p),
	}
	var sheets, parts, kept float64
	for i := range p.Groups {
		g := &p.Groups[i]
		f.Layouts += len(g.Layouts)
		f.Sheets += g.SheetsUsed()
		f.Parts += partsCut(g)
		sheets, parts, kept = sheets+g.SheetArea, parts+g.PartArea, kept+keptArea(g)
	}
	f.Yield, f.NetYield = ratio(parts, sheets), ratio(parts, sheets-kept)
	for _, m := range p.Machines {
		f.Setups += m.Setups
	}
	f.LateOrders, _ = troubled(p)
	for _, o := range p.Orders {
		f.LateDays += o.LateDays
		f.Missing += max(0, o.Wanted-o.Placed)
	}
	return f
}

func lastDay(p *week.Plan) string {
	last := -1
	for _, s := range p.Calendar {
		last = max(last, s.EndDay)
	}
	if last < 0 || last >= len(p.Days) {
		return ""
	}
	return encodeDay(p.Days[last])
}

func lateOrders(p *week.Plan) []string {
	out := []string{}
	for i := range p.Orders {
		if o := &p.Orders[i]; o.Tardy() {
			out = append(out, o.Order+", "+lateWords(o))
		}
	}
	return out
}

// orderChanges lists the orders that fare otherwise, by importance.
func orderChanges(a, b *week.Plan) []OrderChange {
	inB := map[string]week.OrderDate{}
	for _, o := range b.Orders {
		inB[o.Order] = o
	}
	out := []OrderChange{}
	inA := map[string]bool{}
	for _, o := range a.Orders {
		inA[o.Order] = true
		other, both := inB[o.Order]
		if !both {
			out = append(out, OrderChange{Order: o.Order, A: fare(a, o), Kind: OrderOnlyInA})
		} else if c := newOrderChange(a, b, o, other); c.A != c.B {
			out = append(out, c)
		}
	}
	for _, o := range b.Orders {
		if !inA[o.Order] {
			out = append(out, OrderChange{Order: o.Order, B: fare(b, o), Kind: OrderOnlyInB})
		}
	}
	byImportance(out)
	return out
}

// fare is an order's verdict and the day its last copy is cut.
func fare(p *week.Plan, o week.OrderDate) string {
	s := dateVerdict(o)
	if o.Finish >= 0 && o.Finish < len(p.Days) {
		s += ", cut " + dayOrDash(p.Days[o.Finish])
	}
	return s
}

// A groupPair is one kind of group in two plans.
type groupPair struct{ a, b *week.Group }

func (p groupPair) any() *week.Group { return cmp.Or(p.a, p.b) }

func groupKey(g *week.Group) string {
	return fmt.Sprintf("%s\x00%v\x00%s", g.Material, g.ThicknessMM, g.Grade)
}

// pairGroups lists A's groups in A's order, then those only B has.
func pairGroups(a, b *week.Plan) []groupPair {
	at := map[string]int{}
	var out []groupPair
	for i := range a.Groups {
		at[groupKey(&a.Groups[i])] = len(out)
		out = append(out, groupPair{a: &a.Groups[i]})
	}
	for i := range b.Groups {
		g := &b.Groups[i]
		if k, both := at[groupKey(g)]; both {
			out[k].b = g
		} else {
			out = append(out, groupPair{b: g})
		}
	}
	return out
}

func (p groupPair) change() GroupChange {
	g := p.any()
	return GroupChange{Material: g.Material, ThicknessMM: g.ThicknessMM, Grade: g.Grade.String(), A: groupFigures(p.a), B: groupFigures(p.b)}
}

func groupFigures(g *week.Group) *GroupFigures {
	if g == nil {
		return nil
	}
	return &GroupFigures{
		Group: g.ID, Layouts: len(g.Layouts), Sheets: g.SheetsUsed(), Depth: depthWords(g), Yield: g.Yield(),
		Seconds: g.Seconds, Money: g.Ledger.Money.Total(),
	}
}

// layouts pairs equal layouts, whatever their ids, then those that hold the same
// parts, and lists the rest.
func (p groupPair) layouts() []LayoutChange {
	a, b := layoutsOf(p.a), layoutsOf(p.b)
	var out []LayoutChange
	for _, key := range []func(*week.Group, *week.Layout) string{poseKey, partsKey} {
		var pairs [][2]*week.Layout
		pairs, a, b = p.pair(a, b, key)
		for _, two := range pairs {
			out = append(out, p.both(two[0], two[1]))
		}
	}
	for _, l := range a {
		out = append(out, LayoutChange{Change: OnlyInA, A: l.ID, CutA: cutWords(l), Sheet: p.a.Sheets[l.Sheet].ID, Parts: len(l.Placements)})
	}
	for _, l := range b {
		out = append(out, LayoutChange{Change: OnlyInB, B: l.ID, CutB: cutWords(l), Sheet: p.b.Sheets[l.Sheet].ID, Parts: len(l.Placements)})
	}
	return out
}

func layoutsOf(g *week.Group) []*week.Layout {
	var out []*week.Layout
	if g != nil {
		for i := range g.Layouts {
			out = append(out, &g.Layouts[i])
		}
	}
	return out
}

// pair takes layouts of equal keys out of two lists, in the first one's order.
func (p groupPair) pair(a, b []*week.Layout, key func(*week.Group, *week.Layout) string) (pairs [][2]*week.Layout, restA, restB []*week.Layout) {
	restB = slices.Clone(b)
	for _, la := range a {
		k := key(p.a, la)
		i := slices.IndexFunc(restB, func(lb *week.Layout) bool { return key(p.b, lb) == k })
		if i < 0 {
			restA = append(restA, la)
			continue
		}
		pairs = append(pairs, [2]*week.Layout{la, restB[i]})
		restB = slices.Delete(restB, i, i+1)
	}
	return pairs, restA, restB
}

// poseKey is what a layout holds: the sheet, and every part's order and pose.
func poseKey(g *week.Group, l *week.Layout) string {
	return layoutKey(g, l, func(pl nest.Placement) string { return fmt.Sprintf("%q %v", g.Parts[pl.Part].ID, pl.Pose) })
}

// partsKey is poseKey without the poses.
func partsKey(g *week.Group, l *week.Layout) string {
	return layoutKey(g, l, func(pl nest.Placement) string { return strconv.Quote(g.Parts[pl.Part].ID) })
}

func layoutKey(g *week.Group, l *week.Layout, line func(nest.Placement) string) string {
	lines := each(l.Placements, line)
	slices.Sort(lines)
	return g.Sheets[l.Sheet].ID + "\n" + strings.Join(lines, "\n")
}

func (p groupPair) both(a, b *week.Layout) LayoutChange {
	c := LayoutChange{
		Change: SameLayout, A: a.ID, B: b.ID, Sheet: p.a.Sheets[a.Sheet].ID, Parts: len(a.Placements),
		CutA: cutWords(a), CutB: cutWords(b),
	}
	switch {
	case poseKey(p.a, a) != poseKey(p.b, b):
		c.Change = Rearranged
	case a.Repeats != b.Repeats || c.CutA != c.CutB:
		c.Change = CutOtherwise
	}
	return c
}
