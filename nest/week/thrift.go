package week

import "slices"

// thrift moves chores to where they cost less, as long as no order gets later
// by it. It goes through the chores once, in the order of the queue, and tries
// every place; what counts is the work's money and that of the set-ups.
// money[c][m] is what chore c costs on machine m.
func thrift(b *bench, q queue, money [][]float64, setupMoney float64) queue {
	j := newJudge(b)
	before := j.weigh(q)
	spent := queueMoney(b, q, money, setupMoney)
	for c := range b.chores {
		for m := range q {
			if !b.chores[c].can(m) {
				continue
			}
			for at := 0; at <= len(q[m]); at++ {
				tried := replaced(q, c, m, at)
				if s := queueMoney(b, tried, money, setupMoney); s < spent-moneyGrain && j.weigh(tried).compareLate(before) <= 0 {
					q, spent = tried, s
				}
			}
		}
	}
	return q
}

// moneyGrain is the least saving worth a change; sums taken in another order
// differ by less.
const moneyGrain = 1e-6

// replaced is the queue with chore c taken out and put at a place on machine m.
func replaced(q queue, c, m, at int) queue {
	out := cloneQueue(q)
	for k := range out {
		if i := slices.Index(out[k], c); i >= 0 {
			out[k] = slices.Delete(out[k], i, i+1)
		}
	}
	out[m] = slices.Insert(out[m], min(at, len(out[m])), c)
	return out
}

// queueMoney sums what the chores cost where they are, and the set-ups.
func queueMoney(b *bench, q queue, money [][]float64, setupMoney float64) float64 {
	sum := 0.0
	for m, line := range q {
		family := -1
		for _, c := range line {
			sum += money[c][m]
			if f := b.chores[c].family; f != family {
				family, sum = f, sum+setupMoney
			}
		}
	}
	return sum
}
