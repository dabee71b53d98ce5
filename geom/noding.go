package geom

import (
	"slices"

	"github.com/paulmach/orb"
)

// A flow is a directed segment with the winding numbers it adds on its left.
// It is kept from its lesser end (by x, then y) to its greater one; a weight is
// negative where the segment was drawn the other way.
type flow struct {
	a, b orb.Point
	w    [2]int32
}

// newFlow returns the flow of a segment drawn from p to q.
func newFlow(p, q orb.Point, layer int) flow {
	f := flow{a: p, b: q}
	f.w[layer] = 1
	if comparePoints(p, q) > 0 {
		f.a, f.b = q, p
		f.w[layer] = -1
	}
	return f
}

// A stretch of the arrangement joins two of its vertices, the lesser first, and
// sums the weights of all flows along it.
type stretch struct {
	from, to int32
	w        [2]int32
	below    [2]int32 // winding numbers on its lower (right) side, by the sweep
}

// above is a layer's winding number on the upper (left) side.
func (s *stretch) above(layer int) int32 { return s.below[layer] + s.w[layer] }

// A noder turns segments with ends on the grid that may cross, touch and
// overlap into stretches that meet only at their ends, by snap rounding: every
// end and every crossing makes its grid pixel hot, and every segment is bent to
// pass through the centre of each hot pixel it meets. No vertex ever comes to
// lie on the wrong side of a segment, and nothing moves by more than half a
// pixel on either axis (Guibas & Marimont 1998, Rounding arrangements
// dynamically; Hobby 1999, Practical segment intersection with finite precision
// output). It keeps its buffers for the next use.
type noder struct {
	flows     []flow
	verts     []orb.Point
	buckets   buckets
	hits      []int32
	pieces    []stretch
	stretches []stretch
	filed     []stretch // the pieces by first vertex
	cursor    []int32
	first     []int32 // stretches from vertex v: stretches[first[v]:first[v+1]]

	// tally makes the second layer count the flows of the first along a
	// stretch, whichever way they run.
	tally bool
}

// reset forgets the flows and sets the meaning of the second layer.
func (n *noder) reset(tally bool) { n.flows, n.tally = n.flows[:0], tally }

// add takes in a segment drawn from p to q in the given layer.
func (n *noder) add(p, q orb.Point, layer int) {
	if p != q {
		n.flows = append(n.flows, newFlow(p, q, layer))
	}
}

// run computes the stretches from the flows.
func (n *noder) run() {
	n.collectVertices()
	n.buckets.fill(n.verts)
	n.pieces = n.pieces[:0]
	for i := range n.flows {
		n.split(&n.flows[i])
	}
	n.merge()
}

// collectVertices lists the hot pixels: all ends and crossings, sorted.
func (n *noder) collectVertices() {
	slices.SortFunc(n.flows, compareFlows)
	n.verts = n.verts[:0]
	for i := range n.flows {
		f := &n.flows[i]
		n.verts = append(n.verts, f.a, f.b)
		n.crossings(f, n.flows[i+1:])
	}
	slices.SortFunc(n.verts, comparePoints)
	n.verts = slices.Compact(n.verts)
}

func compareFlows(f, g flow) int {
	switch {
	case f.a[0] < g.a[0]:
		return -1
	case f.a[0] > g.a[0]:
		return 1
	}
	return 0
}

// crossings adds the crossings of f with the flows that start within its
// stretch of x.
func (n *noder) crossings(f *flow, rest []flow) {
	lo, hi := min(f.a[1], f.b[1]), max(f.a[1], f.b[1])
	for j := range rest {
		g := &rest[j]
		if g.a[0] > f.b[0] {
			return
		}
		if max(g.a[1], g.b[1]) < lo || min(g.a[1], g.b[1]) > hi {
			continue
		}
		if gridOrient(f.a, f.b, g.a)*gridOrient(f.a, f.b, g.b) < 0 &&
			gridOrient(g.a, g.b, f.a)*gridOrient(g.a, g.b, f.b) < 0 {
			n.verts = append(n.verts, crossingPoint(f.a, f.b, g.a, g.b))
		}
	}
}

// gridOrient is [Orient] for points whose differences are exact, as those of
// grid points are.
func gridOrient(a, b, c orb.Point) int {
	return crossSign(b[0]-a[0], b[1]-a[1], c[0]-a[0], c[1]-a[1])
}

// split cuts a flow at every hot pixel it meets.
func (n *noder) split(f *flow) {
	n.hits = n.buckets.near(n.hits[:0], f)
	kept := n.hits[:0]
	for _, v := range n.hits {
		if f.meetsPixel(n.verts[v]) {
			kept = append(kept, v)
		}
	}
	f.sortAlong(kept, n.verts)
	for i := 1; i < len(kept); i++ {
		n.addPiece(kept[i-1], kept[i], f.w)
	}
}

// addPiece records a stretch between two vertices, turned to its lesser end:
// steps between pixels may run against the flow's own order.
func (n *noder) addPiece(u, v int32, w [2]int32) {
	if u > v {
		u, v = v, u
		w = [2]int32{-w[0], -w[1]}
	}
	if n.tally {
		w[1] = max(w[0], -w[0])
	}
	n.pieces = append(n.pieces, stretch{from: u, to: v, w: w})
}

// sortAlong orders hot pixels as the flow meets them. Vertices are numbered by
// x, then y; a falling flow meets those of one x from above.
func (f *flow) sortAlong(hits []int32, verts []orb.Point) {
	slices.Sort(hits)
	if f.b[1] >= f.a[1] {
		return
	}
	for i := 0; i < len(hits); {
		j := i + 1
		for j < len(hits) && verts[hits[j]][0] == verts[hits[i]][0] {
			j++
		}
		slices.Reverse(hits[i:j])
		i = j
	}
}

// meetsPixel reports whether the flow meets the half-open pixel around the grid
// point c: its left and lower sides belong to it. A line meets the pixel's
// inside when c's cross product is less than the most any of its points can
// differ from it; when equal, the line touches one corner, and only the lower
// left one counts.
func (f *flow) meetsPixel(c orb.Point) bool {
	dx, dy := f.b[0]-f.a[0], f.b[1]-f.a[1]
	lo, hi := min(f.a[1], f.b[1]), max(f.a[1], f.b[1])
	if c[0] < f.a[0] || c[0] > f.b[0] || c[1] < lo || c[1] > hi {
		return false
	}
	x, y := c[0]-f.a[0], c[1]-f.a[1]
	left, right := float64(dx*y), float64(dy*x)
	cross := left - right
	reach := Grid / 2 * (dx + max(dy, -dy))
	slack := 4 * epsilon * (max(left, -left) + max(right, -right))
	switch {
	case max(cross, -cross)+slack < reach:
		return true
	case max(cross, -cross)-slack > reach:
		return false
	}
	return pixelExact(dx, dy, x, y)
}

// pixelExact decides meetsPixel exactly. The corners of the pixel differ from
// its centre by half a grid step, so their cross products have exact factors.
func pixelExact(dx, dy, x, y float64) bool {
	const h = Grid / 2
	ll := crossSign(dx, dy, x-h, y-h)
	if ll == 0 {
		return true
	}
	lr, ul, ur := crossSign(dx, dy, x+h, y-h), crossSign(dx, dy, x-h, y+h), crossSign(dx, dy, x+h, y+h)
	return lr == -ll || ul == -ll || ur == -ll
}

// merge files the pieces by their lesser vertex and sums the weights of equal
// ones.
func (n *noder) merge() {
	n.first = zeroed(n.first, len(n.verts)+1)
	for i := range n.pieces {
		n.first[n.pieces[i].from+1]++
	}
	for v := range n.verts {
		n.first[v+1] += n.first[v]
	}
	if cap(n.filed) < len(n.pieces) {
		n.filed = make([]stretch, 2*len(n.pieces))
	}
	n.filed = n.filed[:len(n.pieces)]
	n.cursor = append(n.cursor[:0], n.first...)
	for _, p := range n.pieces {
		n.filed[n.cursor[p.from]] = p
		n.cursor[p.from]++
	}
	n.stretches = n.stretches[:0]
	for v := range n.verts {
		fan := n.filed[n.first[v]:n.first[v+1]]
		n.first[v] = int32(len(n.stretches))
		n.mergeFan(fan)
	}
	n.first[len(n.verts)] = int32(len(n.stretches))
}

// mergeFan adds the pieces from one vertex to the stretches.
func (n *noder) mergeFan(fan []stretch) {
	sortByEnd(fan)
	for i, p := range fan {
		if i > 0 && p.to == fan[i-1].to {
			s := &n.stretches[len(n.stretches)-1]
			s.w[0] += p.w[0]
			s.w[1] += p.w[1]
			continue
		}
		n.stretches = append(n.stretches, p)
	}
}

// sortByEnd sorts the pieces from one vertex, mostly a few, by their other end.
func sortByEnd(fan []stretch) {
	if len(fan) > 16 {
		slices.SortFunc(fan, func(s, t stretch) int { return int(s.to) - int(t.to) })
		return
	}
	for i := 1; i < len(fan); i++ {
		for j := i; j > 0 && fan[j].to < fan[j-1].to; j-- {
			fan[j], fan[j-1] = fan[j-1], fan[j]
		}
	}
}
