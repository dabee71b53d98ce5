package week

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
)

// paired lays out two sheets, one to be cut so many times and the other so many, that
// together carry the demand. Repeats of one layout carry a multiple of each number: eleven
// times so many are seldom what is wanted. Two different numbers of repeats
// make up almost any number, so nothing is cut that nobody wants, and no odd sheet is
// left to be cut by itself. What the two leave is laid out by itself.
func (t *task) paired(first, second int) plannedWay {
	name := fmt.Sprintf("two layouts, cut %d and %d times", first, second)
	return plannedWay{name: name, lay: func(ctx context.Context, lay layer) (*candidate, error) {
		c := t.newCandidate(name)
		a, b := t.inTwo(first, second)
		if err := t.layInto(ctx, lay, c, a, first); err != nil {
			return nil, err
		}
		if err := t.layInto(ctx, lay, c, b, second); err != nil {
			return nil, err
		}
		return c, t.layRest(ctx, lay, c)
	}}
}

// inTwo shares the demand out between two layouts, the parts with most area first:
// exactly where it can be, and so that both come to about the same area.
func (t *task) inTwo(first, second int) (a, b demand) {
	a, b = t.full(), t.full()
	order := make([]int, len(a.want))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(t.area[j], t.area[i]) })
	ahead := 0.0 // area of the first layout beyond the second's
	for _, i := range order {
		p := closestPair(a.want[i], a.want[i]+t.group.Parts[i].Extra, first, second, ahead/t.area[i])
		a.want[i], b.want[i] = p[0], p[1]
		ahead += float64(p[0]-p[1]) * t.area[i]
	}
	for k := range a.sheets { // either may be laid on any kind
		a.sheets[k] /= first + second
		b.sheets[k] = a.sheets[k]
	}
	return a, b
}

// closestPair finds how many copies two layouts carry, one cut first times and one
// second, so that want to most copies are cut, or as few more as can be; of those
// pairs the one that differs least when the first is ahead by so many copies.
func closestPair(want, most, first, second int, ahead float64) [2]int {
	best, over, off := [2]int{}, math.MaxInt, math.Inf(1)
	middle := want / (first + second)
	for n := max(0, middle-first); n <= middle+first; n++ {
		m := max(0, (want-n*second+first-1)/first)
		extra := max(0, m*first+n*second-most)
		differ := math.Abs(ahead + float64(m-n))
		if extra < over || extra == over && differ < off {
			best, over, off = [2]int{m, n}, extra, differ
		}
	}
	return best
}
