package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// cutOpen turns a polygon in normal form into counter-clockwise rings without
// holes: holes are joined to what lies around them by cuts, along both sides of
// which a ring then runs, and a region that hangs together by single points
// comes apart. A ring may touch itself; seen from any of its vertices, the
// region lies between the vertex's own two edges and nothing else does.
func cutOpen(p orb.Polygon) []orb.Ring {
	if len(p) == 1 {
		return p
	}
	g := newCutGraph(p)
	for _, h := range rightToLeft(p[1:]) {
		g.join(h)
	}
	return g.faces()
}

// rightToLeft sorts rings so that each one's rightmost vertex sees, looking
// right, only rings before it.
func rightToLeft(rings []orb.Ring) []orb.Ring {
	s := slices.Clone(rings)
	slices.SortStableFunc(s, func(a, b orb.Ring) int {
		return cmp.Compare(RingBounds(b).Max[0], RingBounds(a).Max[0])
	})
	return s
}

// A cutGraph holds a polygon's directed edges and the cuts, which run both ways.
type cutGraph struct {
	poly   orb.Polygon
	edges  [][2]orb.Point
	leave  map[orb.Point][]int // edges by first point; looked up, never ranged over
	joined map[orb.Point]bool  // points that hang together with the outer ring
	reach  []orb.Point         // the same points, in a fixed order
	at     map[orb.Point][]int // rings by point
	done   []bool              // rings that hang together with the outer ring
}

func newCutGraph(p orb.Polygon) *cutGraph {
	g := &cutGraph{
		poly: p, leave: map[orb.Point][]int{}, joined: map[orb.Point]bool{},
		at: map[orb.Point][]int{}, done: make([]bool, len(p)),
	}
	for k, r := range p {
		for i, a := range r {
			g.addEdge(a, r[(i+1)%len(r)])
			g.at[a] = append(g.at[a], k)
		}
	}
	g.reachRing(0)
	return g
}

func (g *cutGraph) addEdge(a, b orb.Point) {
	g.leave[a] = append(g.leave[a], len(g.edges))
	g.edges = append(g.edges, [2]orb.Point{a, b})
}

// reachRing marks a ring and the rings that touch it at vertices as joined.
func (g *cutGraph) reachRing(k int) {
	if g.done[k] {
		return
	}
	g.done[k] = true
	for _, p := range g.poly[k] {
		if !g.joined[p] {
			g.joined[p] = true
			g.reach = append(g.reach, p)
		}
		for _, other := range g.at[p] {
			g.reachRing(other)
		}
	}
}

// join cuts from the hole's rightmost vertex to the nearest joined vertex that
// sees it. A hole that sees none (bad input) stays apart.
func (g *cutGraph) join(h orb.Ring) {
	m := slices.MaxFunc(h, comparePoints)
	if g.joined[m] {
		return
	}
	best, least := orb.Point{}, math.Inf(1)
	for _, v := range g.reach {
		if d := distance(v, m); d < least && g.sees(v, m) {
			best, least = v, d
		}
	}
	if math.IsInf(least, 1) {
		return
	}
	g.addEdge(best, m)
	g.addEdge(m, best)
	g.reachRing(g.at[m][0])
}

// sees reports whether the segment vm runs inside the polygon and meets no edge
// or cut but at its own ends.
func (g *cutGraph) sees(v, m orb.Point) bool {
	for _, e := range g.edges {
		a, b := e[0], e[1]
		rel := RelateSegments(v, m, a, b)
		ownEnd := a == v || a == m || b == v || b == m
		if rel == Crossing || rel == Overlapping || rel == Touching && !ownEnd {
			return false
		}
	}
	return Locate(g.poly, middleOf(v, m)) == Inside
}

// faces follows the edges with the region on the left, at every vertex along
// the first edge clockwise from where it came.
func (g *cutGraph) faces() []orb.Ring {
	used := make([]bool, len(g.edges))
	var faces []orb.Ring
	for i := range g.edges {
		var r orb.Ring
		for e := i; e >= 0 && !used[e]; e = g.next(e) {
			used[e] = true
			r = append(r, g.edges[e][0])
		}
		if len(r) >= 3 {
			faces = append(faces, r)
		}
	}
	return faces
}

func (g *cutGraph) next(e int) int {
	from, x := g.edges[e][0], g.edges[e][1]
	best := -1
	for _, f := range g.leave[x] {
		if best < 0 || firstClockwise(x, from, g.edges[f][1], g.edges[best][1]) {
			best = f
		}
	}
	return best
}

// firstClockwise reports whether, turning clockwise around x from the direction
// of back, that of a comes strictly before that of b. The direction of back
// itself comes last.
func firstClockwise(x, back, a, b orb.Point) bool {
	if Orient(x, back, b) == 0 && sameDirection(x, back, b) {
		return !(Orient(x, back, a) == 0 && sameDirection(x, back, a))
	}
	if Orient(x, a, b) == 0 && sameDirection(x, a, b) {
		return false
	}
	return wedge{x: x, from: b, to: back}.holds(a)
}
