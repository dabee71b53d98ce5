package week

import (
	"cmp"
	"context"
	"math"
	"strings"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/route"
)

// A candidate is one way to cut a group, worked out as far as its price.
type candidate struct {
	way      Way
	plan     plannedWay
	laid     []laid
	placed   []int // copies of each part, all repeats
	used     []int // sheets of each kind
	status   nest.Status
	stats    nest.Stats
	warnings []string

	care  care       // of the last price
	rough *candidate // a bid's, that this one is with its cuts routed
	// Set by price, one per laid.
	routes   []route.Route
	works    []cost.Work
	picks    []pick
	remnants []geom.Contour
	credits  []float64 // worth of one sheet's remnant

	trial []stackJob // for trial calendars, once asked for
}

func (t *task) newCandidate(name string) *candidate {
	return &candidate{
		way:    Way{Name: name},
		placed: make([]int, len(t.group.Parts)), used: make([]int, len(t.group.Sheets)),
	}
}

// add takes over the layouts of a result, each cut times times.
func (c *candidate) add(p *posing, r nest.Result, times int) {
	for _, l := range p.back(r.Layouts, times) {
		c.take(l)
	}
	c.status = worse(c.status, r.Status)
	c.stats = r.Stats
	c.warnings = append(c.warnings, r.Warnings...)
}

func (c *candidate) take(l laid) {
	c.laid = addLaid(c.laid, l)
	for i, n := range l.counts(len(c.placed)) {
		c.placed[i] += n * l.repeats
	}
	c.used[l.sheet] += l.repeats
}

// rest is what is still wanted, and the sheets not yet used.
func (c *candidate) rest(d demand) demand {
	r := d.clone()
	for i := range r.want {
		r.want[i] = max(0, r.want[i]-c.placed[i])
	}
	for i := range r.sheets {
		r.sheets[i] = max(0, r.sheets[i]-c.used[i])
	}
	return r
}

// worse returns the status that says more: an early end over a full search,
// parts without a place over that.
func worse(a, b nest.Status) nest.Status {
	rank := map[nest.Status]int{nest.Finished: 0, nest.Infeasible: 1, nest.Limit: 2, nest.Cancelled: 3}
	if rank[b] > rank[a] {
		return b
	}
	return a
}

// count fills in what the way says of quantities.
func (c *candidate) count(t *task) {
	c.way.Layouts, c.way.Sheets, c.way.Short, c.way.Surplus = len(c.laid), 0, 0, 0
	for _, l := range c.laid {
		c.way.Sheets += l.repeats
	}
	for i := range t.group.Parts {
		o := &t.group.Parts[i]
		c.way.Surplus += max(0, c.placed[i]-o.Quantity-o.Extra)
		if !o.Filler {
			c.way.Short += max(0, o.Quantity-c.placed[i])
		}
	}
}

// A care says how closely the cutting of a candidate is worked out.
type care int

const (
	rough  care = iota // contours one after the other as the parts lie, no leads
	routed             // leads and a good order, as good as comparing needs
	hasty              // the same, leads for the stack's height
	final              // the best order, leads for the stack's height
)

// routeEffort is the work on the order of cuts.
var routeEffort = [...]float64{routed: 0.02, hasty: 0.02, final: 1}

// leastFinal is the work on the order that is cut, however little was asked for:
// on a small sheet it takes no time, and all of it is machine time saved.
const leastFinal = 0.1

// price works out how every layout is cut, picks its stack, and sums the money
// the choice between candidates minimises: what is spent, less what the
// remnants are worth, plus the sheet money of surplus parts nobody ordered,
// which could have been remnant or scrap sold, plus what each different layout
// costs to program and check, less what fillers are worth.
func (c *candidate) price(ctx context.Context, t *task, rule RemnantRule, with care) error {
	c.count(t)
	c.byUrgency(t)
	c.care = with
	c.routes, c.works, c.picks, c.remnants, c.credits, c.trial = nil, nil, nil, nil, nil, nil
	c.way.Money, c.way.Seconds = 0, 0
	for i := range c.laid {
		if err := c.priceLayout(ctx, t, &c.laid[i], rule, with); err != nil {
			return err
		}
		c.way.Money += c.picks[i].money - c.credits[i]*float64(c.laid[i].repeats)
		c.way.Seconds += c.picks[i].seconds
	}
	c.way.Money += c.surplusMoney(t) + float64(len(c.laid))*t.layoutMoney()
	worth, err := t.fillerWorth(rule)
	for i, w := range worth {
		c.way.Money -= float64(min(c.placed[i], t.group.Parts[i].Quantity)) * w
	}
	return err
}

func (c *candidate) priceLayout(ctx context.Context, t *task, l *laid, rule RemnantRule, with care) error {
	remnant := t.remnant(l, rule)
	r, w, p, err := t.cutting(ctx, l, remnant, rule.Sever, with)
	if err != nil {
		return err
	}
	credit := t.credit(l.sheet, remnant, rule)
	if len(r.Severing) > 0 {
		left, err := t.unsevered(l, r)
		if err != nil {
			return err
		}
		if extra := p.money - left.pick.money; extra > credit*float64(l.repeats) {
			left.note(remnant, extra/float64(l.repeats), credit)
			r, w, p, remnant, credit = left.route, left.work, left.pick, nil, 0
		}
	}
	c.routes, c.works, c.picks = append(c.routes, r), append(c.works, w), append(c.picks, p)
	c.remnants, c.credits = append(c.remnants, remnant), append(c.credits, credit)
	return nil
}

// cutting works out how a layout is cut and at which stack. With care, leads
// are made for the height of the stack that a single sheet's leads suggest, and
// the stack is picked again.
func (t *task) cutting(ctx context.Context, l *laid, remnant geom.Contour, sever bool, with care) (r route.Route, w cost.Work, p pick, err error) {
	if with == rough {
		prices, err := t.roughRuns(l)
		return r, w, pickFrom(prices, l.repeats), err
	}
	p = pick{machine: t.machines[0], depth: 1}
	effort := routeEffort[with]
	if with == final {
		effort = math.Max(leastFinal, effort*t.routing)
	}
	for again := true; again; {
		if r, err = t.routed(ctx, l, remnant, sever, p.machine, p.depth, effort); err != nil {
			return r, w, p, err
		}
		w = headWork(&r, len(l.placements))
		at := p.depth
		prices, err := t.routedRuns(l, w)
		if err != nil {
			return r, w, p, err
		}
		p = pickFrom(prices, l.repeats)
		again = with >= hasty && at == 1 && p.depth > 1
	}
	return r, w, p, nil
}

// surplusMoney is the sheet money under parts beyond quantity and over-run.
func (c *candidate) surplusMoney(t *task) float64 {
	area, money := 0.0, 0.0
	for i, n := range c.used {
		area += float64(n) * t.round[i]
		money += float64(n) * t.group.Sheets[i].Cost
	}
	if area <= 0 {
		return 0
	}
	surplus := 0.0
	for i := range t.group.Parts {
		o := &t.group.Parts[i]
		surplus += float64(max(0, c.placed[i]-o.Quantity-o.Extra)) * t.area[i]
	}
	return surplus * money / area
}

// better orders candidates: all parts placed first, then money with
// what lateness costs, then fewer
// layouts to program and check, then name, so that the order is total.
func better(a, b *candidate) int {
	return cmp.Or(cmp.Compare(a.way.Short, b.way.Short), cmp.Compare(charged(a), charged(b)),
		cmp.Compare(a.way.Layouts, b.way.Layouts), strings.Compare(a.way.Name, b.way.Name))
}
