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

// mostContenders is how many ways of a group are searched in earnest: the
// direct one always, and the best of the others.
const mostContenders = 2

// improve spends the effort, or the time, on the groups by what can still be won.
func (m *maker) improve(ctx context.Context) error {
	weights := m.weights()
	clock := newShareClock(m.o.Clock, weights, m.o.Workers)
	return m.each(func(i int, t *task) error {
		defer m.meter.groupDone(i)
		if weights[i] <= 0 {
			return nil
		}
		gctx, cancel := clock.begin(ctx, i)
		defer cancel()
		m.improveTask(gctx, i, t, m.o.Effort*effortPerUnit*weights[i])
		if c := m.found[i][0]; ctx.Err() != nil {
			c.status = worse(c.status, ended(ctx))
		}
		return nil
	})
}

func (m *maker) improveTask(ctx context.Context, i int, t *task, effort float64) {
	contenders := m.contenders(i)
	for k, c := range contenders {
		if ctx.Err() != nil {
			break
		}
		share := 1.0 / float64(len(contenders)-k)
		wctx, cancel := m.within(ctx, share)
		lay := m.searcher(i, k, effort/float64(len(contenders)))
		found, err := m.work(wctx, t, c.plan, lay)
		cancel()
		if err != nil {
			t.group.Warnings = append(t.group.Warnings, fmt.Sprintf("the search failed (%v): a quick layout is used", err))
			continue
		}
		m.found[i] = append(m.found[i], found)
	}
	slices.SortStableFunc(m.found[i], better)
}

// contenders picks the ways to search: the direct one and the best others. What
// leaves more parts without a place than the best is no contender.
func (m *maker) contenders(i int) []*candidate {
	var out []*candidate
	for _, c := range m.found[i] {
		if c.way.Name == DirectName {
			out = append(out, c)
		}
	}
	for _, c := range m.found[i] {
		if c.way.Name != DirectName && len(out) < mostContenders && c.way.Short <= m.found[i][0].way.Short {
			out = append(out, c)
		}
	}
	return out
}

// searcher is the layer that searches in earnest.
func (m *maker) searcher(task, way int, effort float64) layer {
	o := nest.Options{
		Seed:    streamSeed(m.o.Seed, uint64(streamWays+1000*task+way)),
		Effort:  effort,
		Workers: m.o.Workers,
	}
	if m.o.Clock != nil && m.o.Effort <= 0 {
		o.Effort = math.MaxInt32 // the context ends it
	}
	o.Progress = func(p nest.Progress) { m.meter.searching(task, way, p) }
	return func(ctx context.Context, p nest.Problem) (nest.Result, error) { return m.engine.search(ctx, p, o) }
}

// weights shares the effort: by the money that a perfect nest would still save
// over the best quick one, with a base for every group that has anything to
// search. A nest that fills nine tenths of the sheets is as good as they get.
func (m *maker) weights() []float64 {
	out := make([]float64, len(m.tasks))
	total := 0.0
	for i, t := range m.tasks {
		out[i] = t.benefit(m.found[i][0])
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
