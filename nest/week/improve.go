package week

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"kerfold/nest"
)

// effortPerUnit is how much search effort, in nest's units of about a second
// on one core, one unit of the plan's effort buys for the whole week.
const effortPerUnit = 4

// improve spends the effort, or the time, on the groups by what can still be
// won, and routes what is in the running. That is done even when ctx has ended.
func (m *maker) improve(ctx context.Context) error {
	weights := m.weights()
	searching, cancel := m.within(ctx, searchShare*m.firstRound())
	defer cancel()
	clock := newShareClock(m.stageClock(searching), weights, m.o.Workers)
	m.ways = make([][]Way, len(m.tasks))
	return m.each(func(i int, t *task) error {
		defer m.meter.groupDone(i)
		gctx, cancel := clock.begin(searching, i)
		defer cancel()
		effort := m.effortIn(gctx, weights[i]*m.firstRound())
		contenders, err := m.contenders(i, effort)
		if err != nil {
			return err
		}
		var found []*candidate
		if weights[i] > 0 {
			if found, err = m.searchAll(gctx, i, contenders, effort); err != nil {
				return err
			}
		}
		if err := t.bound(m.o.Remnants); err != nil {
			return err
		}
		if gctx.Err() != nil {
			contenders[0].status = worse(contenders[0].status, ended(gctx))
		}
		return m.compare(ctx, i, t, append(found, contenders...))
	})
}

// searchShare is the share of a limited time after which the searches end; the
// rest is for routing what is in the running, lateness, cures and the last care.
const searchShare = 0.75

// compare routes the better of each way in the running, and ranks them. The
// other is kept behind them, in case the check refuses all. When ctx has ended only
// the best is routed.
func (m *maker) compare(ctx context.Context, i int, t *task, running []*candidate) error {
	for _, c := range m.found[i] {
		m.ways[i] = append(m.ways[i], c.way)
	}
	slices.SortStableFunc(running, better)
	var first, second []*candidate
	seen := map[string]bool{}
	for _, c := range running {
		if seen[c.way.Name] {
			second = append(second, c)
			continue
		}
		seen[c.way.Name] = true
		if t.rolling() && len(running) == 1 || len(first) > 0 && ctx.Err() != nil {
			first = append(first, c) // nothing to compare, or no time; it is routed at the end, if it is cut
			continue
		}
		if err := c.price(ctx, t, m.o.Remnants, routed); err != nil {
			return err
		}
		first = append(first, c)
	}
	slices.SortStableFunc(first, better)
	first, err := m.alsoRoute(ctx, i, t, first, seen)
	if err != nil {
		return err
	}
	running = append(first, second...)
	for _, c := range m.found[i] { // a calendar may bring forward what costs more by itself
		if !slices.Contains(running, c) {
			running = append(running, c)
		}
	}
	m.found[i] = running
	return nil
}

// mostRouted bounds how many ways of a group are routed beside those searched.
const mostRouted = 8

// alsoRoute routes the ways that nobody searched but that look cheaper, roughly
// priced, than the best with its cuts routed: leads and rapid moves only add.
func (m *maker) alsoRoute(ctx context.Context, i int, t *task, first []*candidate, seen map[string]bool) ([]*candidate, error) {
	routedToo := 0
	for _, c := range m.found[i] {
		if seen[c.way.Name] || routedToo == mostRouted || ctx.Err() != nil || len(first) > 0 && better(first[0], c) < 0 {
			continue
		}
		seen[c.way.Name] = true
		routedToo++
		if err := c.price(ctx, t, m.o.Remnants, routed); err != nil {
			return nil, err
		}
		first = append(first, c)
		slices.SortStableFunc(first, better)
	}
	return first, nil
}

// mixShare is the share of a group's effort for choosing among layouts.
const mixShare = 0.4

// searchAll searches the contenders, and then mixes the layouts of all ways.
func (m *maker) searchAll(ctx context.Context, i int, contenders []*candidate, effort float64) ([]*candidate, error) {
	if m.o.Plain || !m.tasks[i].mixable(m.found[i]) {
		return m.search(ctx, i, contenders, effort), nil
	}
	sctx, cancel := m.within(ctx, 1-mixShare)
	found := m.search(sctx, i, contenders, effort*(1-mixShare))
	cancel()
	met := append(slices.Clone(m.found[i]), found...)
	slices.SortStableFunc(met, better)
	c, err := m.mixWay(ctx, i, met, effort*mixShare)
	if errors.Is(err, errStalled) || errors.Is(err, errSingular) {
		// A choice that numbers spoil is one way less, no reason to have no plan.
		g := &m.tasks[i].group
		g.Warnings = append(g.Warnings, fmt.Sprintf("layouts were not mixed by number (%v): the best of the other ways is used", err))
		return found, nil
	}
	if c != nil {
		found = append(found, c)
	}
	return found, err
}

// leastEffort is the least effort worth a search, leastWindow that for each window
// of a group of many kinds, whose tables alone take a second (measured on 5,000
// orders).
const (
	leastEffort = 0.01
	leastWindow = 0.5
)

// tooLittle tells whether what readies a search would take longer than the
// search.
func (m *maker) tooLittle(t *task, effort float64) bool {
	least := leastEffort
	if t.rolling() {
		least = leastWindow * float64(t.windows())
	}
	return m.o.Clock == nil && effort < least
}

// search searches the ways of the contenders in earnest.
func (m *maker) search(ctx context.Context, i int, contenders []*candidate, effort float64) []*candidate {
	return m.searchWays(ctx, i, contenders, 0, effort)
}

// searchWays is search with the random streams of ways from a number on.
func (m *maker) searchWays(ctx context.Context, i int, contenders []*candidate, stream int, effort float64) []*candidate {
	t := m.tasks[i]
	var found []*candidate
	if m.tooLittle(t, effort) {
		return nil
	}
	for k, c := range contenders {
		if ctx.Err() != nil {
			break
		}
		wctx, cancel := m.within(ctx, 1.0/float64(len(contenders)-k))
		each := effort * contenderShare(k, len(contenders)) / float64(t.windows())
		better, err := m.work(wctx, t, c.plan.harder(fillCare{each / 2, m.fillSeed(i, stream+k)}), m.searcher(wctx, i, stream+k, each), rough)
		cancel()
		if err != nil {
			t.group.Warnings = append(t.group.Warnings, fmt.Sprintf("the search failed (%v): a quick layout is used", err))
			continue
		}
		found = append(found, better)
	}
	return found
}

// fillSeed is the seed of the sheets that a way fills for value.
func (m *maker) fillSeed(task, way int) uint64 {
	return streamSeed(m.o.Seed, uint64(streamFills+1000*task+way))
}

// searcher is the layer that searches in earnest, or, where the effort is too
// little for that, lays out quickly.
func (m *maker) searcher(ctx context.Context, task, way int, effort float64) layer {
	o := nest.Options{
		Seed:    streamSeed(m.o.Seed, uint64(streamWays+1000*task+way)),
		Effort:  effort,
		Workers: m.o.Workers,
		Memo:    &m.tasks[task].memo,
		Spent:   m.spent(ctx),
	}
	if m.timed() {
		o.Effort = math.MaxInt32 // the context ends it
	}
	o.Progress = func(p nest.Progress) { m.meter.searching(task, p) }
	if m.o.Clock == nil && effort < leastEffort {
		return m.quick(m.tasks[task])
	}
	return func(ctx context.Context, p nest.Problem) (nest.Result, error) { return m.engine.search(ctx, p, o) }
}

// spent tells a search what share of the time ctx allows has passed; nil where
// time is not limited.
func (m *maker) spent(ctx context.Context) func() float64 {
	end, limited := ctx.Deadline()
	if m.o.Clock == nil || !limited {
		return nil
	}
	total := m.o.Clock.Until(end)
	return func() float64 { return 1 - m.o.Clock.Until(end)/math.Max(total, math.SmallestNonzeroFloat64) }
}

// weights shares the effort: by the money that a perfect nest would still save
// over the best quick one, with a base for every group that has anything to
// search. A nest that fills nine tenths of the sheets is as good as they get.
func (m *maker) weights() []float64 {
	out := make([]float64, len(m.tasks))
	total := 0.0
	for i, t := range m.tasks {
		out[i] = t.benefit(m.preferred(i)[0])
		total += out[i]
	}
	for i := range out {
		out[i] /= math.Max(total, math.SmallestNonzeroFloat64)
	}
	return out
}

const (
	perfectYield = 0.9
	benefitBase  = 0.05 // of the group's sheet money
)

func (t *task) benefit(c *candidate) float64 {
	parts, sheets, money := 0.0, 0.0, 0.0
	for i, n := range c.placed {
		parts += float64(n) * t.area[i]
	}
	for i, n := range c.used {
		sheets += float64(n) * t.round[i]
		money += float64(n) * t.group.Sheets[i].Cost
	}
	if sheets <= 0 {
		return 0
	}
	if money <= 0 {
		money = sheets * freeSheetPrice
	}
	saving := math.Max(0, 1-parts/(perfectYield*sheets))
	return money * (saving + benefitBase)
}

// freeSheetPrice weighs groups whose sheets cost nothing, money per mm².
const freeSheetPrice = 1e-5

// ended says why a context ended.
func ended(ctx context.Context) nest.Status {
	if errors.Is(ctx.Err(), context.DeadlineExceeded) {
		return nest.Limit
	}
	return nest.Cancelled
}
