package week

import "slices"

// A split is how repeats of a layout become stacks on one machine. Stacks of
// one layout may differ by more than a remainder: ten sheets in stacks of at
// most four are best cut as 4, 3 and 3 where a stack of four costs more than a
// third above one of three. Every split is compared, by dynamic programming
// over the number of sheets.
type split struct {
	money []float64 // by number of sheets, the cheapest way
	last  []int     // depth of one stack of it
}

// newSplit works out the cheapest splits of up to most sheets.
func (r *runPrice) newSplit(most int) split {
	s := split{money: make([]float64, most+1), last: make([]int, most+1)}
	for n := 1; n <= most; n++ {
		for d := min(n, len(r.money)-1); d >= 1; d-- {
			// Of equals the deeper stack first: fewer runs to set up.
			if m := s.money[n-d] + r.money[d]; s.last[n] == 0 || m < s.money[n]-moneyGrain {
				s.money[n], s.last[n] = m, d
			}
		}
	}
	return s
}

// stacks lists the depths that n sheets are cut in, deepest first.
func (s *split) stacks(n int) []int {
	var out []int
	for ; n > 0; n -= s.last[n] {
		out = append(out, s.last[n])
	}
	slices.SortFunc(out, func(a, b int) int { return b - a })
	return out
}

// pickFrom picks the machine and the split that cut so many repeats for least
// money, the first listed of equals.
func pickFrom(prices []runPrice, repeats int) pick {
	var best pick
	for i := range prices {
		s := prices[i].newSplit(repeats)
		if best.stacks != nil && s.money[repeats] >= best.money {
			continue
		}
		best = pick{machine: prices[i].machine, stacks: s.stacks(repeats), money: s.money[repeats]}
		best.depth, best.seconds = best.stacks[0], 0
		for _, d := range best.stacks {
			best.seconds += prices[i].seconds[d]
		}
	}
	return best
}
