package week

import (
	"context"
	"math"
	"slices"

	"kerfold/nest"
)

// MixName names the way that chooses among all layouts found how often each is
// cut.
const MixName = "a mix of layouts"

// A mixer makes the integer plan of one group: a pool of layouts, columns for
// it, what rounding down leaves laid out by itself, and the integer step.
type mixer struct {
	t      *task
	o      Options
	engine engine
	pool   *pool
	lay    layer // for what rounding down leaves
	effort float64
	seed   uint64
	answer mixAnswer
}

// Shares and counts of a mix's work. An effort of 1 is about a second.
const (
	mixLattices  = 0.3 // of the effort goes to lattices of one part
	mixPricing   = 0.5 // to fills
	mixRounds    = 4   // rounds of pricing at no effort
	mixPerEffort = 8   // and more with the root of the effort
	mixNodes     = 40  // nodes of the integer step at no effort
	mixNodesPer  = 200 // and more for each unit of effort
	mixMostNodes = 4000
	mixFailures  = 2 // rounds in a row that find nothing end the pricing
)

// mixWay works the integer plan of a group out of the layouts of its other
// ways. It returns nil where there is nothing to mix.
func (m *maker) mixWay(ctx context.Context, i int, found []*candidate, effort float64) (*candidate, error) {
	t := m.tasks[i]
	if !t.mixable(found) || ctx.Err() != nil || m.tooLittle(t, effort) {
		return nil, nil
	}
	x := &mixer{
		t: t, o: m.o, engine: m.engine, pool: &pool{t: t, rule: m.o.Remnants}, effort: effort,
		seed: streamSeed(m.o.Seed, uint64(streamMixes+i)), lay: m.searcher(ctx, i, mixStream, effort*(1-mixPricing-mixLattices)),
	}
	if err := x.gather(found); err != nil {
		return nil, err
	}
	if err := x.generate(ctx); err != nil {
		return nil, err
	}
	if err := x.finish(found); err != nil {
		return nil, err
	}
	for _, c := range found {
		if slices.Equal(x.pool.repeats(c), x.answer.repeats) {
			return nil, nil // the mix is that way
		}
	}
	return x.candidate(ctx)
}

// mixable tells whether choosing among layouts can win anything: there must be
// more than one sheet, and not so many kinds of part that none fills one twice.
func (t *task) mixable(found []*candidate) bool {
	return !t.rolling() && len(found) > 0 && found[0].way.Sheets > 1 && len(t.machines) > 0
}

// gather takes the layouts of the other ways into the pool.
func (x *mixer) gather(found []*candidate) error {
	for _, c := range found {
		for _, l := range c.laid {
			if _, err := x.pool.add(l); err != nil {
				return err
			}
		}
	}
	return nil
}

// generate makes columns until none pays, or the work is done, and then lays
// out what the master's solution leaves when it is rounded down.
func (x *mixer) generate(ctx context.Context) error {
	pr, err := newPricer(x.pool, x.engine, x.seed)
	if err != nil {
		return err
	}
	if err := pr.alone(ctx, x.effort*mixLattices); err != nil {
		return err
	}
	rounds := mixRounds + int(mixPerEffort*math.Sqrt(x.effort))
	failures := 0
	for n := 0; n < rounds && failures < mixFailures && ctx.Err() == nil; n++ {
		r, err := x.relax()
		if err != nil {
			return err
		}
		pays, err := pr.round(ctx, r.prices, x.effort*mixPricing/float64(rounds))
		if err != nil {
			return err
		}
		failures++
		if pays {
			failures = 0
		}
	}
	return x.layFractions(ctx)
}

// relax solves the master over the pool as it is.
func (x *mixer) relax() (programResult, error) {
	m := x.pool.mix(x.o.MostLayouts)
	s := &mixSearch{m: m, best: m.empty(), slopes: make([]map[[2]int]float64, len(m.columns))}
	n := &mixNode{low: make([]int, len(m.columns)), high: make([]int, len(m.columns))}
	for j := range m.columns {
		n.high[j] = min(m.columns[j].most(), m.sheets[m.columns[j].sheet])
	}
	r, _, err := s.relax(n)
	return r, err
}

// layFractions rounds the master's solution down and lays out what is left by
// itself; those layouts go into the pool.
func (x *mixer) layFractions(ctx context.Context) error {
	r, err := x.relax()
	if err != nil || ctx.Err() != nil {
		return err
	}
	c := x.t.newCandidate(MixName)
	for j := range x.pool.columns {
		if n := int(r.x[j] + wholeSlack); n > 0 {
			l := x.pool.layouts[j]
			l.repeats = n
			c.take(l)
		}
	}
	rest := c.rest(x.t.full())
	if rest.empty() {
		return nil
	}
	p := x.t.pose(rest)
	if !p.solvable() {
		return nil
	}
	got, err := x.lay(ctx, p.Problem)
	if err != nil {
		return err
	}
	for _, l := range p.back(got.Layouts, 1) {
		if _, err := x.pool.add(l); err != nil {
			return err
		}
	}
	return nil
}

// finish takes the integer step, beginning from the ways there are.
func (x *mixer) finish(found []*candidate) error {
	m := x.pool.mix(x.o.MostLayouts)
	var starts [][]int
	for _, c := range found {
		starts = append(starts, x.pool.repeats(c))
	}
	size := 1 + float64((len(m.want)+len(m.sheets))*len(m.columns))/mixSize
	nodes := min(mixMostNodes, int((mixNodes+mixNodesPer*x.effort)/size)+1)
	var err error
	if x.answer, err = m.solve(starts, nodes, x.seed); err != nil {
		return err
	}
	b := &x.t.group.Bound
	b.Columns, b.MixMoney, b.MixWhole, b.MixParts = len(m.columns), x.answer.money, x.answer.bound, x.answer.relaxed
	return nil
}

// mixSize is the rows times columns of a master whose nodes take about a
// millisecond.
const mixSize = 4000

// repeats is a candidate in terms of the pool's columns.
func (p *pool) repeats(c *candidate) []int {
	out := make([]int, len(p.columns))
	for i := range c.laid {
		counts := c.laid[i].counts(len(p.t.group.Parts))
		for j := range p.columns {
			if p.columns[j].sheet == c.laid[i].sheet && p.columns[j].carries(counts) {
				out[j] += c.laid[i].repeats
				break
			}
		}
	}
	return out
}

func (c *column) carries(counts []int) bool {
	return slices.Equal(c.counts, copiesOf(counts))
}

func copiesOf(counts []int) []copies {
	var out []copies
	for i, n := range counts {
		if n > 0 {
			out = append(out, copies{i, n})
		}
	}
	return out
}

// candidate makes the answer a way to cut the group.
func (x *mixer) candidate(ctx context.Context) (*candidate, error) {
	t := x.t
	c := t.newCandidate(MixName)
	for j, n := range x.answer.repeats {
		if n > 0 {
			l := x.pool.layouts[j]
			l.repeats = n
			c.take(l)
		}
	}
	c.note(t)
	if err := c.price(ctx, t, x.o.Remnants, rough); err != nil {
		return nil, err
	}
	return x.trimmed(ctx, c)
}

// note says of a mixed candidate whether all is placed.
func (c *candidate) note(t *task) {
	c.status = nest.Finished
	for i := range t.group.Parts {
		if o := &t.group.Parts[i]; c.placed[i] < o.Quantity && !o.Filler {
			c.status = nest.Infeasible
		}
	}
}

// trimmed leaves copies nobody wants off one repeat of a layout, where that
// costs less than cutting them.
func (x *mixer) trimmed(ctx context.Context, c *candidate) (*candidate, error) {
	t := x.t
	for range mostTrims {
		if c.way.Surplus == 0 || x.o.MostLayouts > 0 && len(c.laid) >= x.o.MostLayouts {
			return c, nil
		}
		better := c.trim(t)
		if better == nil {
			return c, nil
		}
		better.note(t)
		if err := better.price(ctx, t, x.o.Remnants, rough); err != nil {
			return nil, err
		}
		if better.way.Money >= c.way.Money-moneyGrain {
			return c, nil
		}
		c = better
	}
	return c, nil
}

// mostTrims bounds how many repeats are trimmed.
const mostTrims = 4

// trim is the candidate with the copies beyond what is welcome left off one
// repeat of the layout that carries most of them; nil where none can be. Kits
// stay whole.
func (c *candidate) trim(t *task) *candidate {
	over := make([]int, len(c.placed))
	for i := range over {
		if o := &t.group.Parts[i]; o.Kit == "" {
			over[i] = max(0, c.placed[i]-o.Quantity-o.Extra)
		}
	}
	best, most := -1, 0.0
	for k := range c.laid {
		area := 0.0
		for i, n := range c.laid[k].counts(len(over)) {
			area += float64(min(n, over[i])) * t.area[i]
		}
		if area > most {
			best, most = k, area
		}
	}
	if best < 0 {
		return nil
	}
	out := t.newCandidate(c.way.Name)
	for k, l := range c.laid {
		if k == best {
			l.repeats--
		}
		if l.repeats > 0 {
			out.take(l)
		}
	}
	cut := laid{sheet: c.laid[best].sheet, repeats: 1}
	for _, p := range slices.Backward(c.laid[best].placements) {
		if over[p.Part] > 0 {
			over[p.Part]--
			continue
		}
		cut.placements = append(cut.placements, p)
	}
	slices.SortFunc(cut.placements, comparePlacements)
	if len(cut.placements) > 0 {
		out.take(cut)
	}
	return out
}
