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
	roundEffort  = 8   // of the week for each round of searches
	mostRounds   = 4
	roundStreams = 10 // random streams of a round
)

// refines tells whether ways are searched again.
func (m *maker) refines() bool {
	return !m.o.Plain && m.prior == nil && (m.o.Effort >= refineEffort || m.timed())
}

// timed tells whether time alone limits the plan.
func (m *maker) timed() bool { return m.o.Effort <= 0 && m.o.Clock != nil }

// firstRound is the share of the effort that is spent before calendars are tried.
func (m *maker) firstRound() float64 {
	if m.refines() {
		return 1 - refineShare
	}
	return 1
}

// refine searches the ways that calendars favoured, and chooses anew, in as many
// rounds as the effort is worth: what one finds may have others favoured.
func (m *maker) refine(ctx context.Context) error {
	if !m.refines() {
		return nil
	}
	rounds := max(1, min(mostRounds, int(m.o.Effort/roundEffort)))
	if m.timed() {
		rounds = mostRounds
	}
	for k := 0; k < rounds && ctx.Err() == nil; k++ {
		if err := m.refineOnce(ctx, k, rounds); err != nil {
			return err
		}
		if err := m.deliberate(ctx); err != nil {
			return err
		}
	}
	return nil
}

// refineOnce is one of so many rounds of searches.
func (m *maker) refineOnce(ctx context.Context, round, rounds int) error {
	weights := m.weights()
	searching, cancel := m.within(ctx, searchShare/float64(rounds-round))
	defer cancel()
	clock := newShareClock(m.stageClock(searching), weights, m.o.Workers)
	return m.each(func(i int, t *task) error {
		gctx, cancel := clock.begin(searching, i)
		defer cancel()
		effort := m.effortIn(gctx, weights[i]*refineShare/float64(rounds))
		found := m.searchWays(gctx, i, m.favoured(i), refineStream+roundStreams*round, effort)
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
}

// effortIn is so large a share of the plan's effort, or, where time alone limits
// it, what fits into the time ctx allows: a unit of effort is about a second.
func (m *maker) effortIn(ctx context.Context, share float64) float64 {
	if end, limited := ctx.Deadline(); limited && m.timed() {
		return m.o.Clock.Until(end)
	}
	return m.o.Effort * effortPerUnit * share
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
