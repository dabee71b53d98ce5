package week

import (
	"context"
	"math"

	"kerfold/nest"
)

// Beside the searches that share out the effort there are stages with efforts
// of their own: sheets filled one by one, the order of cuts, ways routed to be
// compared. They are meant for a plan of easeEffort and more; where less is
// asked for they take less, down to what a complete plan needs.

// easeEffort is the plan's effort from which on no stage is eased.
const easeEffort = 4.0

// ease is the share of its own effort that a stage may take: in proportion to
// what was asked for, 1 where only time limits the plan.
func (o Options) ease() float64 {
	if o.Effort <= 0 {
		return 1
	}
	return math.Min(1, o.Effort/easeEffort)
}

// eased lowers the effort of a layer that fills sheets.
func (m *maker) eased(fill valueLayer) valueLayer {
	share := m.o.ease()
	return func(ctx context.Context, p nest.Problem, values []float64, o nest.Options) (nest.Result, error) {
		o.Effort *= share
		return fill(ctx, p, values, o)
	}
}
