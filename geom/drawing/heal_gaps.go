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
const maxGapsPerEnd = 16

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
		a, b := ends[g.a], ends[g.b]
		to[b] = a
		h.nodes[a] = node{midpoint(h.nodes[a].p, h.nodes[b].p), 2}
		h.nodes[b].degree = 0
		h.found(Finding{
			Kind: GapClosed, Level: Note, At: h.nodes[a].p, HasAt: true,
			Text: "a gap within the join tolerance of " + mm(h.tol) + " was closed",
		}, nil, h.pieceAt(a).layer)
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

// closeChains closes chains whose own two ends lie close together and far from
// other loose ends.
func (h *healer) closeChains() {
	ends := newPointIndex(h.selfClose(), 2*len(h.open))
	for _, c := range h.open {
		ends.add(c.verts[0].P)
		ends.add(c.verts[len(c.verts)-1].P)
	}
	var still []piece
	for i := range h.open {
		c := &h.open[i]
		a, b := c.verts[0].P, c.verts[len(c.verts)-1].P
		width := dist(a, b)
		if width > h.selfClose() || c.length() < 20*width || !alone(ends, a, 2*i) {
			still = append(still, *c)
			continue
		}
		h.loops = append(h.loops, loop{closeUp(c.verts, h.tol), c.from, c.layer})
		h.found(Finding{
			Kind: GapClosed, Level: Suspect, At: midpoint(a, b), HasAt: true,
			Text: "a chain ends " + mm(width) + " from where it begins; it was closed",
		}, c.from, c.layer)
	}
	h.open = still
}

// alone reports whether the ends 2k and 2k+1 of a chain are the only ones near
// p.
func alone(ends *pointIndex, p orb.Point, first int) bool {
	only := true
	ends.near(p, ends.reach, func(i int) bool {
		only = i == first || i == first+1
		return only
	})
	return only
}

// closeUp makes a closed contour of a chain: ends within tol become one point,
// wider gaps a straight piece.
func closeUp(vs []vertex, tol float64) []vertex {
	a, b := vs[0].P, vs[len(vs)-1].P
	if dist(a, b) > tol {
		out := slices.Clone(vs)
		out[len(out)-1].Bulge = 0
		return out
	}
	out := slices.Clone(vs[:len(vs)-1])
	out[0].P = midpoint(a, b)
	return out
}
