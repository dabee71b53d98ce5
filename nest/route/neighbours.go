package route

import (
	"cmp"
	"math"
	"slices"
)

// nearCount is how many neighbours of a contour the improvement looks at.
const nearCount = 10

type neighbour struct {
	node int
	d    float64
}

// neighbours returns for every node those whose starts come nearest to its own,
// nearest first.
func neighbours(ns []node) [][]neighbour {
	order := make([]int, len(ns))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(ns[a].reach.Min[0], ns[b].reach.Min[0]) })
	widest := 0.0
	for i := range ns {
		widest = math.Max(widest, ns[i].reach.Max[0]-ns[i].reach.Min[0])
	}
	out := make([][]neighbour, len(ns))
	for k, i := range order {
		out[i] = nearest(ns, order, k, widest)
	}
	return out
}

// nearest searches outwards from position k of the order by left ends.
func nearest(ns []node, order []int, k int, widest float64) []neighbour {
	var best []neighbour
	limit := math.Inf(1)
	me := &ns[order[k]]
	offer := func(i int) {
		if reachGap(me, &ns[i]) >= limit {
			return
		}
		if d := startGap(me, &ns[i]); d < limit {
			best = insertNearest(best, neighbour{i, d})
			if len(best) == nearCount {
				limit = best[nearCount-1].d
			}
		}
	}
	for j := k + 1; j < len(order) && ns[order[j]].reach.Min[0]-me.reach.Max[0] < limit; j++ {
		offer(order[j])
	}
	for j := k - 1; j >= 0 && me.reach.Min[0]-ns[order[j]].reach.Min[0]-widest < limit; j-- {
		offer(order[j])
	}
	return best
}

func insertNearest(best []neighbour, n neighbour) []neighbour {
	if len(best) < nearCount {
		best = append(best, n)
	} else {
		best[nearCount-1] = n
	}
	for i := len(best) - 1; i > 0 && best[i].d < best[i-1].d; i-- {
		best[i], best[i-1] = best[i-1], best[i]
	}
	return best
}

// reachGap is a lower bound of the distance between starts of two contours.
func reachGap(a, b *node) float64 {
	dx := math.Max(a.reach.Min[0]-b.reach.Max[0], b.reach.Min[0]-a.reach.Max[0])
	dy := math.Max(a.reach.Min[1]-b.reach.Max[1], b.reach.Min[1]-a.reach.Max[1])
	return math.Max(0, math.Max(dx, dy))
}

// startGap is the least distance between starts of two contours.
func startGap(a, b *node) float64 {
	best := math.Inf(1)
	for i := range a.starts {
		for k := range b.starts {
			best = math.Min(best, dist(a.starts[i].pierce, b.starts[k].pierce))
		}
	}
	return best
}
