package week

import (
	"cmp"
	"context"
	"slices"
)

// Once trial calendars have shown which ways the week wants, they are searched
// again with what effort is left: the chosen way of each group, and those that
// came next.

const (
	refineShare  = 0.4 // of the effort
	refineEffort = 2   // least effort of the week at which that is worth while
	mostRefined  = 3   // ways of a group
)

// refines tells whether ways are searched again.
func (m *maker) refines() bool {
	return !m.o.Plain && m.prior == nil && (m.o.Effort >= refineEffort || m.o.Effort <= 0 && m.o.Clock != nil)
}

// firstRound is the share of the effort that is spent before calendars are tried.
func (m *maker) firstRound() float64 {
	if m.refines() {
		return 1 - refineShare
	}
	return 1
}

// refine searches the ways that calendars favoured, and chooses anew.
func (m *maker) refine(ctx context.Context) error {
	if !m.refines() {
		return nil
	}
	weights := m.weights()
	searching, cancel := m.within(ctx, searchShare)
	defer cancel()
	clock := newShareClock(m.stageClock(searching), weights, m.o.Workers)
	err := m.each(func(i int, t *task) error {
		gctx, cancel := clock.begin(searching, i)
		defer cancel()
		favoured := m.favoured(i)
		found := m.searchWays(gctx, i, favoured, refineStream, m.o.Effort*effortPerUnit*weights[i]*refineShare)
		for _, c := range found {
			if err := c.price(ctx, t, m.o.Remnants, routed); err != nil {
				return err
			}
		}
		m.found[i] = append(found, m.preferred(i)...)
		if m.chosen == nil {
			slices.SortStableFunc(m.found[i], closer)
		}
		return nil
	})
	if err != nil {
		return err
	}
	return m.deliberate(ctx)
}

// favoured lists the ways of a group worth searching again, the chosen one first.
func (m *maker) favoured(i int) []*candidate {
	all := m.preferred(i)
	rest := slices.Clone(all[1:])
	slices.SortStableFunc(rest, func(a, b *candidate) int {
		return cmp.Or(cmp.Compare(a.way.Short, b.way.Short), cmp.Compare(charged(a), charged(b)))
	})
	var out []*candidate
	seen := map[string]bool{MixName: true}
	for _, c := range append(all[:1:1], rest...) {
		if c.plan.lay != nil && !seen[c.way.Name] && len(out) < mostRefined && c.way.Short <= all[0].way.Short {
			seen[c.way.Name] = true
			out = append(out, c)
		}
	}
	return out
}
