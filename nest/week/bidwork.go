package week

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"kerfold/cost"
	"kerfold/nest/shop"
)

// A bidBase is how a group's bid was worked out, for what would change it.
type bidBase struct {
	found  []*candidate // all ways met, roughly priced, best first
	best   *candidate   // routed; nil where nothing can be cut
	dated  bool         // the best is that for being in time, not the cheapest
	rivals []*candidate // of the best, routed, for the jury; nil where not known
	heard  bool         // the jury has them
	rough  Way          // of the best, before it was routed
	routed Way
	quick  Way        // the best before anything was searched
	stock  []int      // sheets of each kind there are; the rest is bought
	jobs   []stackJob // of the best
}

// layGroups works out the ways of every group: quick layouts in every one worth
// trying, a search where one may save, the cheapest routed.
func (b *bidder) layGroups(ctx context.Context) error {
	if err := b.each(func(i int, t *task) error { return b.base(ctx, i, t) }); err != nil {
		return err
	}
	chosen := b.promising()
	effort := math.Min(mostBidEffort, bidEffort/math.Max(1, float64(len(chosen))))
	return b.each(func(i int, t *task) error {
		if slices.Contains(chosen, i) {
			if err := b.searched(ctx, i, t, effort); err != nil {
				return err
			}
		}
		if err := b.oneLess(ctx, i, t); err != nil {
			return err
		}
		return b.routeBest(ctx, i, t)
	})
}

// base lays one group out quickly.
func (b *bidder) base(ctx context.Context, i int, t *task) error {
	g, base := &b.out[i], &b.bases[i]
	describe(g, t)
	if why := unable(t); why != "" {
		g.Refusal, g.Warnings = why, slices.Clone(t.group.Warnings)
		return nil
	}
	for _, s := range t.group.Sheets {
		base.stock = append(base.stock, stockOf(s, b.opts.Buy))
	}
	var err error
	if base.found, err = b.lay(ctx, t, b.quick(t), b.opts.Buy, nil); err != nil {
		return err
	}
	base.quick = base.found[0].way
	return nil
}

// routeBest routes the cheapest way of a group.
func (b *bidder) routeBest(ctx context.Context, i int, t *task) error {
	base := &b.bases[i]
	if base.found == nil {
		return nil
	}
	best := base.found[0]
	if len(best.laid) == 0 {
		b.out[i].Refusal, b.out[i].Short = "no part fits on a sheet: give a larger one", best.way.Short
		return nil
	}
	routed := *best
	routed.rough, base.best = best, &routed
	return routed.price(ctx, t, b.o.Remnants, routedCare)
}

// settle judges and prices what was chosen for a group.
func (b *bidder) settle(i int, t *task) error {
	g, base := &b.out[i], &b.bases[i]
	if base.best == nil {
		return nil
	}
	base.rough, base.routed = base.best.rough.way, base.best.way
	t.adopt(base.best)
	if r := Judge(&t.group); !r.OK() {
		return errors.New("no layout passes the check (" + firstFault(r) + "): this is a fault of the program, please report it")
	}
	return b.fill(g, base, t, base.best)
}

// routedCare is how closely a bid's cuts are worked out.
const routedCare = routed

func stockOf(s shop.Stock, buy bool) int {
	if buy {
		return 0
	}
	return s.Count
}

func describe(g *BidGroup, t *task) {
	*g = BidGroup{
		ID: t.group.ID, Material: t.group.Material, ThicknessMM: t.group.ThicknessMM, Grade: t.group.Grade,
		SpacingMM: t.group.SpacingMM, MarginMM: t.group.MarginMM,
	}
	for k := range t.group.Parts {
		o := &t.group.Parts[k]
		g.Orders, g.Parts = append(g.Orders, o.ID), g.Parts+o.Quantity
	}
}

// unable is why nothing of the group can be cut, or empty.
func unable(t *task) string {
	if len(t.machines) == 0 || len(t.group.Sheets) == 0 {
		return joinOr(t.group.Warnings, "there is neither machine nor sheet")
	}
	return ""
}

// lay lays a group out in every way worth trying and ranks them. Sheets are
// bought where those there are do not suffice, or none counts as in stock. only,
// where not nil, names the ways to try beside the first; the one that hurries the
// first orders costs more, and is tried where it is named.
func (b *bidder) lay(ctx context.Context, t *task, lay layer, buy bool, only []string) ([]*candidate, error) {
	if buy {
		t.buy(nil)
	}
	first, err := b.firstWay(ctx, t, lay)
	for tries := 0; err == nil && first.way.Short > 0 && tries < mostBuys && t.buy(first); tries++ {
		first, err = b.firstWay(ctx, t, lay)
	}
	if err != nil {
		return nil, err
	}
	found := []*candidate{first}
	for _, w := range t.bidWays(first.way.Sheets, b.engine.fill) {
		if ctx.Err() != nil {
			break
		}
		if only == nil && w.name == UrgentName || only != nil && !slices.Contains(only, w.name) {
			continue
		}
		c, err := b.work(ctx, t, w, lay, rough)
		if err != nil {
			return nil, err
		}
		if ctx.Err() == nil && !c.sameAs(first) {
			found = append(found, c)
		}
	}
	slices.SortStableFunc(found, better)
	return found, nil
}

// mostBuys is how often sheets are added before parts are given up.
const mostBuys = 4

// firstWay is the direct one, or that in parcels for a great number of parts.
// It is worked out even when ctx has ended, so that there is always a bid.
func (b *bidder) firstWay(ctx context.Context, t *task, lay layer) (*candidate, error) {
	w := t.direct()
	if t.full().count() > mostLaid {
		w = t.parcels()
	}
	return b.work(context.WithoutCancel(ctx), t, w, lay, rough)
}

// mostLaid is how many parts a bid lays out one by one. Greater demands are
// laid out in parcels, each cut many times.
const mostLaid = 4000

// bidEffort is the search of all of a bid's groups together, half a second or so, and
// mostBidEffort that of one.
const (
	bidEffort     = 0.4
	mostBidEffort = 0.2
)

// mostSearched is how many parts are searched for, all groups together: with more,
// even the least search takes longer than somebody at the telephone waits. Groups of at
// most cheaplySearched are searched besides: it takes next to no time.
const (
	mostSearched    = 450
	cheaplySearched = 120
)

// promising lists the groups worth a short search: those of few parts, where other
// sheets may do as well, and those which less sheet may do for than the quick layout
// takes, as the range of yields says; of these the smaller first, as long as they are
// not too many parts in all.
func (b *bidder) promising() []int {
	var out, large []int
	count := func(i int) int { return b.tasks[i].full().count() }
	for i, t := range b.tasks {
		found := b.bases[i].found
		switch {
		case found == nil:
		case count(i) <= cheaplySearched:
			out = append(out, i)
		default:
			if u := useOf(found, t); u.spared <= u.fullest*nearly {
				large = append(large, i)
			}
		}
	}
	slices.SortStableFunc(large, func(i, j int) int { return count(i) - count(j) })
	parts := 0
	for _, i := range large {
		if parts += count(i); parts > mostSearched {
			break
		}
		out = append(out, i)
	}
	return out
}

// oneLess fills a sheet to be cut alike once less often than the best way cuts
// sheets, where the range of yields promises as much.
func (b *bidder) oneLess(ctx context.Context, i int, t *task) error {
	base := &b.bases[i]
	if base.found == nil || len(base.found[0].laid) == 0 || t.full().count() > mostLaid {
		return nil
	}
	best, kinds := base.found[0], t.repeatableKinds()
	k, u := best.way.Sheets-1, useOf(base.found, t)
	if k < 2 || k > t.mostWanted() || len(kinds) == 0 || t.group.Sheets[kinds[0]].Count < k || t.hasKits() || u.spared > u.fullest*nearly {
		return nil
	}
	c, err := b.work(ctx, t, t.foldFill(k, kinds[0], b.engine.fill, quickFills), b.quick(t), rough)
	if err != nil || ctx.Err() != nil || c.yield(t) <= best.yield(t) {
		return err
	}
	base.found = append(base.found, c)
	slices.SortStableFunc(base.found, better)
	return nil
}

// searched lays a group out with some effort.
func (b *bidder) searched(ctx context.Context, i int, t *task, effort float64) error {
	c, err := b.work(ctx, t, t.direct(), b.searcher(ctx, i, 0, effort), rough)
	if err != nil {
		return err
	}
	base := &b.bases[i]
	base.found = append(base.found, c)
	slices.SortStableFunc(base.found, better)
	return nil
}

func (d demand) count() int {
	n := 0
	for _, w := range d.want {
		n += w
	}
	return n
}

// bidWays are the ways to try beside the first.
func (t *task) bidWays(sheets int, fill valueLayer) []plannedWay {
	if t.full().count() <= mostLaid {
		return t.ways(sheets, fill)
	}
	if t.hasKits() {
		return nil
	}
	return []plannedWay{t.filled()}
}

// parcels lays out as large a fraction of the demand as is quickly laid out, as
// often as the demand bears, and goes on with what is left.
func (t *task) parcels() plannedWay {
	const name = "in equal parcels"
	return plannedWay{name: name, lay: func(ctx context.Context, lay layer) (*candidate, error) {
		c := t.newCandidate(name)
		for range mostParcels {
			d := c.rest(t.full())
			if d.empty() {
				break
			}
			k := (d.count() + mostLaid - 1) / mostLaid
			part := t.part(d, k)
			before := len(c.laid)
			if err := t.layInto(ctx, lay, c, part, k); err != nil {
				return nil, err
			}
			if len(c.laid) == before {
				break
			}
		}
		return c, nil
	}}
}

// mostParcels is enough: each round leaves a small share of what it found.
const mostParcels = 12

// part is a k-th of a demand, whole kits of kit parts; where that is nothing,
// one of each.
func (t *task) part(d demand, k int) demand {
	out := d.clone()
	for i, n := range d.want {
		unit := kitUnit(&t.group.Parts[i])
		out.want[i] = n / unit / k * unit
	}
	for i := range out.sheets {
		out.sheets[i] /= k
	}
	return out
}

// buy adds whole sheets: what the parts without a place in c need, or all the
// group's parts where c is nil. It reports whether there is a kind to buy.
func (t *task) buy(c *candidate) bool {
	kind := t.mainSheet()
	if kind < 0 {
		return false
	}
	area := 0.0
	for i := range t.group.Parts {
		n := t.group.Parts[i].Quantity
		if c != nil {
			n = max(0, n-c.placed[i])
		}
		area += float64(n) * boxArea(&t.group.Parts[i])
	}
	if area == 0 {
		return false
	}
	t.group.Sheets[kind].Count += 1 + int(math.Ceil(bought*area/t.round[kind]))
	return true
}

// bought is generous: sheets that stay in stock cost nothing.
const bought = 1.6

func boxArea(o *shop.Order) float64 {
	b := o.Shape.Bounds()
	return (b.Max[0] - b.Min[0]) * (b.Max[1] - b.Min[1])
}

// mainSheet is the largest whole sheet of the group, or -1.
func (t *task) mainSheet() int {
	best := -1
	for i := range t.group.Sheets {
		if !t.group.Sheets[i].Remnant && (best < 0 || t.round[i] > t.round[best]) {
			best = i
		}
	}
	return best
}

// fill writes what a routed candidate takes into the group.
func (b *bidder) fill(g *BidGroup, base *bidBase, t *task, c *candidate) error {
	g.Way, g.Short, g.Surplus = c.way.Name, c.way.Short, c.way.Surplus
	g.SheetArea, g.PartArea, g.RemnantCredit = t.group.SheetArea, t.group.PartArea, t.group.RemnantCredit
	g.Sheets = t.sheetsOf(c, base.stock)
	var all cost.RunEstimate
	jobs, err := t.stackJobs(c)
	if err != nil {
		return err
	}
	base.jobs = jobs
	for _, j := range jobs {
		m := j.cheapest()
		if m < 0 {
			return fmt.Errorf("no machine cuts a stack of %d", j.depth)
		}
		g.Ledger, all = g.Ledger.Plus(j.work[m].ledger), all.Plus(j.work[m].estimate)
		g.addRun(t, c, &j, m)
	}
	g.Yield = yieldRange(useOf(base.found, t))
	g.Money, g.Seconds = all.Money, all.OccupiedSec
	g.widen()
	g.MoneyRange, g.SecondsRange = g.Money.Interval(cost.DefaultLevel), g.Seconds.Interval(cost.DefaultLevel)
	g.Lines = t.bidLines(c, g.Ledger)
	g.Warnings = b.bidWarnings(g, t)
	return nil
}

// cheapest is the machine on which a stack costs least, or -1.
func (j *stackJob) cheapest() int {
	best := -1
	for m := range j.work {
		if j.work[m].ok && (best < 0 || j.work[m].ledger.Money.Total() < j.work[best].ledger.Money.Total()) {
			best = m
		}
	}
	return best
}

func (g *BidGroup) addRun(t *task, c *candidate, j *stackJob, m int) {
	sheet := &t.group.Sheets[c.laid[j.layout].sheet]
	if n := len(g.Runs); n > 0 {
		if last := &g.Runs[n-1]; last.Sheet == sheet.ID && last.Machine == m && last.Depth == j.depth && last.PerRun == j.work[m].occupied {
			last.Count++
			return
		}
	}
	g.Runs = append(g.Runs, BidRun{
		Sheet: sheet.ID, Machine: m, Depth: j.depth, Count: 1, PerRun: j.work[m].occupied,
		Setup: t.setup(m, j.depth), Work: c.works[j.layout], Price: sheet.Cost,
	})
}

func (t *task) sheetsOf(c *candidate, stock []int) []BidSheets {
	var out []BidSheets
	for i, n := range c.used {
		if n > 0 {
			s := &t.group.Sheets[i]
			x, y := s.Size()
			out = append(out, BidSheets{ID: s.ID, XMM: x, YMM: y, Count: n, ToBuy: max(0, n-stock[i]), Price: s.Cost, Remain: s.Remnant})
		}
	}
	return out
}

// bidLines shares the group's money among its orders: sheets by area, the rest
// by length of cut.
func (t *task) bidLines(c *candidate, l cost.Ledger) []BidLine {
	var claims []cost.Claim
	for i := range t.group.Parts {
		o := &t.group.Parts[i]
		claims = append(claims, cost.Claim{Order: o.ID, Part: o.Part, Quantity: c.placed[i], CutWeight: outlineLength(o), MaterialWeight: t.area[i]})
	}
	var out []BidLine
	for i, e := range cost.Split(t.group.ID, "", l, claims) {
		out = append(out, BidLine{
			Order: e.Order, Part: e.Part, Quantity: min(e.Quantity, t.group.Parts[i].Quantity),
			Money: e.Ledger.Money.Total(), SheetMoney: e.Ledger.Money.Material,
		})
	}
	return out
}

func outlineLength(o *shop.Order) float64 {
	sum := o.Shape.Outer.Length()
	for _, h := range o.Shape.Holes {
		sum += h.Length()
	}
	return sum
}

func (b *bidder) bidWarnings(g *BidGroup, t *task) []string {
	out := slices.Clone(t.group.Warnings)
	if g.Short > 0 {
		out = append(out, fmt.Sprintf("%d parts fit on no sheet: give a larger one", g.Short))
	}
	for _, s := range g.Sheets {
		if s.ToBuy > 0 && !b.opts.Buy {
			out = append(out, fmt.Sprintf("%d more of sheet %s are needed than are in stock", s.ToBuy, s.ID))
		}
		if s.Price == 0 {
			out = append(out, fmt.Sprintf("sheet %s has no price: the money is for work alone", s.ID))
		}
	}
	if g.Surplus > 0 {
		out = append(out, fmt.Sprintf("%d more parts than wanted are cut, because the repeated layout is cheaper", g.Surplus))
	}
	return out
}
