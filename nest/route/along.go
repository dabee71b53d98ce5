package route

import "math"

// An along chooses the starts of a tour whose order is fixed: the cheapest way
// through a layered graph whose layers are the positions.
type along struct {
	t *tour
	// crossed, where not nil, is how often a move from the contour before
	// position i to that at i passes over free parts.
	crossed func(i int, from, to *start) int
}

// crossingCost is what passing over a free part is worth, in mm of rapid move:
// lifting and lowering the head takes about a second (common practice).
const crossingCost = 100

// choose sets the tour's starts.
func (a along) choose() {
	t := a.t
	if len(t.order) == 0 {
		return
	}
	home := start{end: t.home}
	costs := []float64{0}
	from := []start{home}
	back := make([][]int, len(t.order))
	for i, n := range t.order {
		layer := t.ns[n].starts
		next := make([]float64, len(layer))
		back[i] = make([]int, len(layer))
		for s := range layer {
			next[s] = math.Inf(1)
			for f := range from {
				if c := costs[f] + a.move(i, &from[f], &layer[s]); c < next[s] {
					next[s], back[i][s] = c, f
				}
			}
		}
		costs, from = next, layer
	}
	best := 0
	for s := range costs {
		if costs[s] < costs[best] {
			best = s
		}
	}
	for i := len(t.order) - 1; i >= 0; i-- {
		t.set(i, best)
		best = back[i][best]
	}
}

func (a along) move(i int, from, to *start) float64 {
	c := dist(from.end, to.pierce) + to.effort
	if a.crossed != nil {
		c += crossingCost * float64(a.crossed(i, from, to))
	}
	return c
}
