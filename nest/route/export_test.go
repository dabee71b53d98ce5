package route

import (
	"math"

	"github.com/paulmach/orb"
)

// RapidByNearest is the rapid distance of the plainest order that keeps the
// precedences: always the nearest contour that may be cut next, each begun at
// the start with the best lead; with choose, at whichever of its starts is
// nearest.
func RapidByNearest(in Input, o Options, choose bool) float64 {
	ns, _ := nodes(in, o)
	scoutStarts(in, o, ns)
	t := newTour(ns, rules(ns), o.Start)
	t.greedy(manner{choose: choose})
	return t.length()
}

// RapidBound is a lower bound of the rapid distance of any order with any of
// the starts, precedences left aside: the Held–Karp bound (Held M., Karp R.M.
// 1970, The traveling-salesman problem and minimum spanning trees, Operations
// Research 18(6)) for paths from home. A move is no shorter than the least
// distance between an end of one contour and a pierce of the other, either way.
// A path is a spanning tree, so the cheapest spanning tree bounds it. With
// weights on the nodes, added to each edge that ends there, a path grows by the
// weight of home, twice those of all others, less that of the last node; the
// weights that draw the tree's degrees to those of a path give the best bound.
func RapidBound(in Input, o Options) float64 {
	ns, _ := nodes(in, o)
	scoutStarts(in, o, ns)
	d := leastMoves(ns, o)
	n := len(d)
	w := make([]float64, n)
	best := 0.0
	step := treeLength(d, w, nil) / float64(n)
	for range 200 {
		degree := make([]int, n)
		sum, low := w[0], math.Inf(1)
		for _, x := range w[1:] {
			sum += 2 * x
			low = math.Min(low, x)
		}
		best = math.Max(best, treeLength(d, w, degree)-sum+low)
		for i := range w {
			w[i] += step * float64(degree[i]-min(2, i+1))
		}
		step *= 0.98
	}
	return best
}

// leastMoves returns the least move between any two nodes; node 0 is home.
func leastMoves(ns []node, o Options) [][]float64 {
	n := len(ns) + 1
	d := make([][]float64, n)
	for i := range d {
		d[i] = make([]float64, n)
	}
	for i := range ns {
		for k := range ns[i].starts {
			d[0][i+1] = least(d[0][i+1], dist(o.Start, ns[i].starts[k].pierce), k == 0)
		}
		d[i+1][0] = d[0][i+1]
		for j := range i {
			g := math.Inf(1)
			for _, s := range ns[i].starts {
				for _, t := range ns[j].starts {
					g = math.Min(g, math.Min(dist(s.end, t.pierce), dist(t.end, s.pierce)))
				}
			}
			d[i+1][j+1], d[j+1][i+1] = g, g
		}
	}
	return d
}

func least(a, b float64, first bool) float64 {
	if first {
		return b
	}
	return math.Min(a, b)
}

// treeLength is the length of the cheapest spanning tree (Prim) when every edge
// costs its ends' weights more; it counts degrees.
func treeLength(d [][]float64, w []float64, degree []int) float64 {
	n := len(d)
	cost, from, in := make([]float64, n), make([]int, n), make([]bool, n)
	for i := range cost {
		cost[i] = math.Inf(1)
	}
	cost[0] = 0
	sum := 0.0
	for range n {
		u := -1
		for i := range cost {
			if !in[i] && (u < 0 || cost[i] < cost[u]) {
				u = i
			}
		}
		in[u] = true
		sum += cost[u]
		if degree != nil && u != 0 { // all but the first have come by an edge
			degree[u]++
			degree[from[u]]++
		}
		for v := range cost {
			if c := d[u][v] + w[u] + w[v]; !in[v] && c < cost[v] {
				cost[v], from[v] = c, u
			}
		}
	}
	return sum
}

// WayRound is the way the head takes from a to b past pieces that are all free,
// nil where there is no short one.
func WayRound(in Input, o Options, a, b orb.Point) []orb.Point {
	ns, _ := nodes(in, o)
	scoutStarts(in, o, ns)
	t := newTour(ns, rules(ns), o.Start)
	t.greedy(manner{choose: true})
	f := newFreed(t)
	hit := append([]int(nil), f.crossedBefore(len(ns), a, b)...)
	if len(hit) == 0 {
		return []orb.Point{a, b}
	}
	return f.round(len(ns), a, b, hit)
}
