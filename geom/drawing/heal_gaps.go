package drawing

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
)

// A gap is the space between two loose ends.
type gap struct {
	width float64
	a, b  int // nodes, or chain ends
}

// maxGapsPerEnd bounds how many partners one loose end is compared with.
const maxGapsPerEnd = 8

// joinGaps joins loose ends pairwise, the nearest first, up to the join
// tolerance. Only loose ends are joined, each once: merging every end within a
// distance pulls in ends that belong elsewhere.
func (h *healer) joinGaps() {
	var ends []int
	for n := range h.nodes {
		if h.dangling(n) {
			ends = append(ends, n)
		}
	}
	at := func(i int) orb.Point { return h.nodes[ends[i]].p }
	// A piece is joined to itself only where it is long against the gap: it is
	// no speck.
	fit := func(i, k int) bool {
		p := h.pieceAt(ends[i])
		return p != h.pieceAt(ends[k]) || p.length() > 20*h.tol
	}
	to := make(map[int]int) // node taken into another
	for _, g := range nearestPairs(len(ends), at, h.tol, fit) {
		h.joinGap(ends[g.a], ends[g.b], g.width, to)
	}
	for i := range h.pieces {
		for e, n := range h.pieces[i].node {
			if a, ok := to[n]; ok {
				h.pieces[i].node[e] = a
			}
		}
	}
	h.ends = nil
}

// joinGap makes one node of two that run together, noting so in to, and bridges
// a wider gap.
func (h *healer) joinGap(a, b int, width float64, to map[int]int) {
	p := h.pieceAt(a)
	f := Finding{
		Kind: GapClosed, Level: Note, At: midpoint(h.nodes[a].p, h.nodes[b].p), HasAt: true,
		Text: "a gap within the join tolerance of " + mm(h.tol) + " was closed",
	}
	if width <= h.together() {
		to[b] = a
		h.nodes[a] = node{f.At, 2}
		h.nodes[b].degree = 0
	} else {
		h.bridge(a, b)
		f.Level, f.Text = Suspect, "a gap of "+mm(width)+" was closed with a straight piece"
	}
	h.found(f, p.from, p.layer)
}

// bridge joins two nodes by a straight piece.
func (h *healer) bridge(a, b int) {
	p := h.pieceAt(a)
	h.pieces = append(h.pieces, piece{
		verts: []vertex{{P: h.nodes[a].p}, {P: h.nodes[b].p}}, from: p.from, layer: p.layer, node: [2]int{a, b},
	})
	h.nodes[a].degree++
	h.nodes[b].degree++
}

// pieceAt returns a piece that ends at a node.
func (h *healer) pieceAt(n int) *piece {
	if h.ends == nil {
		h.ends = make([]int, len(h.nodes))
		for i := range h.pieces {
			if h.pieces[i].out == "" {
				h.ends[h.pieces[i].node[0]], h.ends[h.pieces[i].node[1]] = i, i
			}
		}
	}
	return &h.pieces[h.ends[n]]
}

func midpoint(a, b orb.Point) orb.Point { return orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2} }

// nearestPairs pairs points that lie within d of each other, nearest pairs
// first, each point once, where fit says that the two may be. The result is in
// order of width.
func nearestPairs(n int, at func(int) orb.Point, d float64, fit func(i, k int) bool) []gap {
	if n < 2 {
		return nil
	}
	x := newPointIndex(d, n)
	var gaps []gap
	for i := range n {
		seen := 0
		x.near(at(i), d, func(k int) bool {
			if fit(i, k) {
				gaps = append(gaps, gap{dist(at(i), at(k)), k, i})
			}
			seen++
			return seen < maxGapsPerEnd
		})
		x.add(at(i))
	}
	slices.SortFunc(gaps, func(p, q gap) int {
		return cmp.Or(cmp.Compare(p.width, q.width), cmp.Compare(p.a, q.a), cmp.Compare(p.b, q.b))
	})
	taken := make([]bool, n)
	return slices.DeleteFunc(gaps, func(g gap) bool {
		if taken[g.a] || taken[g.b] {
			return true
		}
		taken[g.a], taken[g.b] = true, true
		return false
	})
}
