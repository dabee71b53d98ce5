package week

import "math/rand/v2"

// thrift changes a queue to one that costs less, as long as no order gets later
// by it: the search of the sequencer, with money next after lateness.
func thrift(b *bench, q queue, p prices, shakes int, rng *rand.Rand) (queue, int) {
	priced := *b
	priced.prices = &p
	return resequence(&priced, q, shakes, rng)
}

// moneyGrain is the least saving worth a change; sums taken in another order
// differ by less.
const moneyGrain = 1e-6

// lineMoney is what a line costs on machine m, set-ups included.
func (b *bench) lineMoney(m int, line []int) float64 {
	sum, family, cut, held := 0.0, -1, 0.0, 0.0
	for _, c := range line {
		ch := &b.chores[c]
		sum += b.prices.chore[c][m]
		if ch.family != family {
			family, sum = ch.family, sum+b.prices.setup
		}
		held += ch.on[m].after(cut)
		cut = ch.on[m].tail
	}
	return sum + held*b.prices.held
}
