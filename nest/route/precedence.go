package route

import (
	"math"
	"slices"

	"kerfold/geom"
)

// A rule says that all contours of one set are cut before all of another.
type rule struct{ before, after []int }

// rules returns the precedences: of a piece the small holes before the others
// and all holes before the outline, and what lies in a hole before the hole.
func rules(ns []node) []rule {
	var out []rule
	for from := 0; from < len(ns); {
		to := from
		for to < len(ns) && ns[to].piece == ns[from].piece {
			to++
		}
		out = append(out, pieceRules(ns, from, to)...)
		from = to
	}
	inside := map[int][]int{}
	around := map[int]int{} // by piece, the piece whose hole it lies in
	for i := range ns {
		h := holeAround(ns, i)
		if h < 0 || encloses(around, ns[i].piece, ns[h].piece) {
			continue
		}
		inside[h] = append(inside[h], i)
		around[ns[i].piece] = ns[h].piece
	}
	for h := range ns {
		if len(inside[h]) > 0 {
			out = append(out, rule{inside[h], []int{h}})
		}
	}
	return out
}

// encloses reports whether piece p is around piece q, directly or not: parts that
// cannot be, as their holes reach out of them, may enclose each other in a ring,
// which must not hold them up for ever.
func encloses(around map[int]int, p, q int) bool {
	for {
		if p == q {
			return true
		}
		next, ok := around[q]
		if !ok {
			return false
		}
		q = next
	}
}

// pieceRules returns the rules among the nodes of one piece.
func pieceRules(ns []node, from, to int) []rule {
	var outer, small, large []int
	for i := from; i < to; i++ {
		switch {
		case ns[i].hole < 0:
			outer = append(outer, i)
		case ns[i].small:
			small = append(small, i)
		default:
			large = append(large, i)
		}
	}
	var out []rule
	if len(small) > 0 && len(large) > 0 {
		out = append(out, rule{small, large})
	}
	if len(outer) > 0 && len(small)+len(large) > 0 {
		out = append(out, rule{slices.Concat(small, large), outer})
	}
	return out
}

// holeAround returns the smallest hole of another piece in which the outer
// contour i lies, −1 for none.
func holeAround(ns []node, i int) int {
	if ns[i].hole >= 0 {
		return -1
	}
	best, size := -1, math.Inf(1)
	for h := range ns {
		if ns[h].hole < 0 || ns[h].piece == ns[i].piece {
			continue
		}
		if s := ns[h].size(); s < size && within(&ns[i], &ns[h]) {
			best, size = h, s
		}
	}
	return best
}

// within reports whether the contour of n lies in that of the hole h. They do
// not cross, so the first vertex that is not on the boundary tells; a plug that
// fits exactly lies within.
func within(n, h *node) bool {
	if n.box.Min[0] < h.box.Min[0]-flatTolerance || n.box.Max[0] > h.box.Max[0]+flatTolerance ||
		n.box.Min[1] < h.box.Min[1]-flatTolerance || n.box.Max[1] > h.box.Max[1]+flatTolerance {
		return false
	}
	inside := 0
	for _, p := range n.flat {
		switch geom.LocateInRing(h.flat, p) {
		case geom.Inside:
			inside++
		case geom.Outside:
			inside--
		}
	}
	return inside >= 0
}
