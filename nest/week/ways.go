package week

import (
	"context"
	"fmt"
	"slices"

	"kerfold/nest"
	"kerfold/nest/shop"
)

// A layer lays a problem out: quickly, or by a search with some effort.
type layer func(ctx context.Context, p nest.Problem) (nest.Result, error)

// A plannedWay is one manner of cutting a group, not yet worked out.
type plannedWay struct {
	name string
	lay  func(ctx context.Context, lay layer) (*candidate, error)
	// again, where not nil, is the same way with other care for the sheets that it
	// fills for value; what else it lays out is the layer's to search.
	again func(fillCare) plannedWay
}

// A fillCare is how a way fills sheets for value: with so much effort for each, on
// a random stream.
type fillCare struct {
	effort float64
	seed   uint64
}

// quickFills is how ways fill sheets at first.
var quickFills = fillCare{effort: fillEffort}

// harder is the way with more care for what it fills.
func (w plannedWay) harder(f fillCare) plannedWay {
	if w.again == nil || f.effort <= fillEffort {
		return w
	}
	return w.again(f)
}

// fillEffort is the effort for each sheet that a way fills for value.
const fillEffort = 0.05

// DirectName names the way that lays the whole demand out once.
const DirectName = "each sheet by itself"

// direct lays the whole demand out once; equal sheets that come of it are
// merged, and may be stacked.
func (t *task) direct() plannedWay {
	return plannedWay{name: DirectName, lay: func(ctx context.Context, lay layer) (*candidate, error) {
		c := t.newCandidate(DirectName)
		if t.rolling() {
			return c, t.layRolling(ctx, lay, c)
		}
		return c, t.layInto(ctx, lay, c, t.full(), 1)
	}}
}

// layInto lays a demand out and adds the layouts, times times, to c.
func (t *task) layInto(ctx context.Context, lay layer, c *candidate, d demand, times int) error {
	p := t.pose(d)
	if !p.solvable() {
		return nil
	}
	r, err := lay(ctx, p.Problem)
	if err != nil {
		return err
	}
	c.add(&p, r, times)
	return nil
}

// repeated lays a k-th of the demand out, to be cut k times, and then what is
// left by itself. A k-th that is not whole is rounded down, or up when up is
// set; then there is surplus instead of a rest.
func (t *task) repeated(k int, up bool) plannedWay {
	name := fmt.Sprintf("layouts cut %d times, and the rest", k)
	if up {
		name = fmt.Sprintf("layouts cut %d times, rounded up", k)
	}
	return plannedWay{name: name, lay: func(ctx context.Context, lay layer) (*candidate, error) {
		c := t.newCandidate(name)
		if err := t.layInto(ctx, lay, c, t.fraction(k, up), k); err != nil {
			return nil, err
		}
		return c, t.layRest(ctx, lay, c)
	}}
}

func (t *task) layRest(ctx context.Context, lay layer, c *candidate) error {
	rest := c.rest(t.full())
	if rest.empty() {
		if c.status == nest.Infeasible {
			c.status = nest.Finished // what did not fit k times was not wanted k times
		}
		return nil
	}
	c.status = nest.Finished
	return t.layInto(ctx, lay, c, rest, 1)
}

// fraction is a k-th of the demand: whole kits of kit parts, and of each kind
// of sheet only as many as there are k of.
func (t *task) fraction(k int, up bool) demand {
	d := t.full()
	for i := range d.want {
		unit := kitUnit(&t.group.Parts[i])
		n := d.want[i] / unit
		if up {
			n += k - 1
		}
		d.want[i] = n / k * unit
	}
	for i := range d.sheets {
		d.sheets[i] /= k
	}
	return d
}

// kitUnit is how many copies of a part go together.
func kitUnit(o *shop.Order) int {
	if o.Kit == "" {
		return 1
	}
	return max(1, o.PerKit)
}

// filled fills one sheet as well as it can be from the whole demand, cuts that
// layout as often as the demand bears, and goes on with what is left.
func (t *task) filled() plannedWay {
	const name = "fill a sheet, repeat it"
	return plannedWay{name: name, lay: func(ctx context.Context, lay layer) (*candidate, error) {
		c := t.newCandidate(name)
		for range mostFills {
			done, err := t.fillOne(ctx, lay, c)
			if err != nil {
				return nil, err
			}
			if done {
				break
			}
		}
		return c, t.layRest(ctx, lay, c)
	}}
}

// mostFills bounds the different layouts of a filled way; the rest is laid out
// by itself.
const mostFills = 8

// fillOne fills a sheet of the kind there are most of; done when that layout
// could be cut only once, so that nothing is won by it.
func (t *task) fillOne(ctx context.Context, lay layer, c *candidate) (done bool, err error) {
	rest := c.rest(t.full())
	kind := mostOf(rest.sheets)
	if rest.empty() || kind < 0 {
		return true, nil
	}
	one := demand{rest.want, make([]int, len(rest.sheets))}
	one.sheets[kind] = 1
	p := t.pose(one)
	r, err := lay(ctx, p.Problem)
	if err != nil {
		return true, err
	}
	got := p.back(r.Layouts, 1)
	if len(got) == 0 {
		return true, nil
	}
	got[0].repeats = min(rest.sheets[kind], timesWithin(got[0].counts(len(rest.want)), rest.want))
	if got[0].repeats < 2 {
		return true, nil
	}
	c.take(got[0])
	c.stats = r.Stats
	return false, nil
}

func mostOf(counts []int) int {
	best := -1
	for i, n := range counts {
		if n > 0 && (best < 0 || n > counts[best]) {
			best = i
		}
	}
	return best
}

// timesWithin is how often counts fits into want.
func timesWithin(counts, want []int) int {
	times := -1
	for i, n := range counts {
		if n > 0 && (times < 0 || want[i]/n < times) {
			times = want[i] / n
		}
	}
	return max(times, 0)
}

// ways lists what is worth trying beside the direct one, given how many sheets
// that one takes.
func (t *task) ways(sheets int, fill valueLayer) []plannedWay {
	if sheets < 2 || t.rolling() {
		return nil
	}
	var out []plannedWay
	if len(t.dueDates()) > 1 {
		out = append(out, t.urgent(fill))
	}
	for _, k := range t.folds(sheets) {
		down := t.fraction(k, false)
		up := t.fraction(k, true)
		if !down.empty() {
			out = append(out, t.repeated(k, false))
		}
		if !slices.Equal(down.want, up.want) && t.surplusBearable(k, up) {
			out = append(out, t.repeated(k, true))
		}
	}
	if !t.hasKits() {
		out = append(out, t.filled())
		if k := (sheets + 1) / 2; sheets >= leastPaired && sheets <= t.mostWanted() {
			out = append(out, t.paired(k, sheets-k))
		}
	}
	return out
}

// leastPaired is how many sheets are worth sharing out between two layouts: of fewer,
// one would be cut alone.
const leastPaired = 5

// mostFolds bounds how many repeats are tried per group.
const mostFolds = 8

// folds lists the repeats worth trying: every depth a stack may have, the
// number of sheets and its half and third, and whole numbers of full stacks.
func (t *task) folds(sheets int) []int {
	var ks []int
	add := func(k int) {
		if k >= 2 && k <= sheets && k <= t.mostWanted() && !slices.Contains(ks, k) && len(ks) < mostFolds {
			ks = append(ks, k)
		}
	}
	deep := min(t.depth, 8)
	add(sheets)
	add(deep)
	add(sheets / deep * deep)
	add((sheets + 1) / 2)
	for k := 2; k <= deep; k++ {
		add(k)
	}
	add((sheets + 2) / 3)
	slices.Sort(ks)
	return ks
}

func (t *task) mostWanted() int {
	n := 0
	for i := range t.group.Parts {
		n = max(n, t.group.Parts[i].Quantity)
	}
	return n
}

func (t *task) hasKits() bool {
	return slices.ContainsFunc(t.group.Parts, func(o shop.Order) bool { return o.Kit != "" })
}

// bearable is the share of the wanted area that surplus parts may take before
// a way is not even tried; what it costs is then weighed exactly.
const bearable = 0.15

func (t *task) surplusBearable(k int, up demand) bool {
	wanted, surplus := 0.0, 0.0
	for i := range t.group.Parts {
		o := &t.group.Parts[i]
		wanted += float64(o.Quantity) * t.area[i]
		surplus += float64(max(0, k*up.want[i]-o.Quantity-o.Extra)) * t.area[i]
	}
	return surplus <= bearable*wanted
}
