package nest

import (
	"math"
	"math/rand/v2"
	"slices"
)

// A sepPool keeps the layouts at which attempts at one target got stuck, least
// loss first.
type sepPool struct{ list []sepStuckAt }

type sepStuckAt struct {
	plan sepPlan
	loss float64
}

// sepPoolSize bounds the pool; the worst drop out.
const sepPoolSize = 24

func (p *sepPool) empty() { p.list = p.list[:0] }

func (p *sepPool) add(plan *sepPlan, loss float64) {
	at, _ := slices.BinarySearchFunc(p.list, loss, func(s sepStuckAt, l float64) int {
		if s.loss <= l {
			return -1
		}
		return 1
	})
	if at >= sepPoolSize {
		return
	}
	p.list = slices.Insert(p.list, at, sepStuckAt{plan.clone(), loss})
	if len(p.list) > sepPoolSize {
		p.list = p.list[:sepPoolSize]
	}
}

// draw picks a layout, the better the likelier.
func (p *sepPool) draw(rng *rand.Rand) *sepPlan {
	share := min(math.Abs(rng.NormFloat64())*sepPoolBias, 1)
	return &p.list[min(int(share*float64(len(p.list))), len(p.list)-1)].plan
}

// sepPoolBias is the standard deviation of the half-normal draw, as a share of
// the pool.
const sepPoolBias = 0.25
