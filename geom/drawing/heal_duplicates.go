package drawing

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
)

// dropDuplicates drops pieces drawn on top of an equal piece: each would be a
// second cut. Where a line is drawn twice because two contours share it, both
// need it: dropping it would leave an odd number of ends on both sides where
// there was an even one, and it stays.
func (h *healer) dropDuplicates() {
	before := make([]int, len(h.nodes))
	for i, n := range h.nodes {
		before[i] = n.degree
	}
	var dropped []int
	for _, group := range h.parallel() {
		dropped = append(dropped, h.dropWithin(group)...)
	}
	shared := func(n int) bool { return before[n]%2 == 0 && h.nodes[n].degree%2 == 1 && h.nodes[n].degree >= 3 }
	for _, i := range dropped {
		p := &h.pieces[i]
		if shared(p.node[0]) && shared(p.node[1]) {
			h.restore(i)
			continue
		}
		h.found(Finding{
			Kind: Duplicate, Level: Note, At: p.segments()[0].middle(), HasAt: true,
			Text: p.from.typ + " is drawn twice; one was dropped",
		}, p.from, p.layer)
	}
}

// parallel groups the pieces that join the same two nodes.
func (h *healer) parallel() [][]int {
	key := func(i int) [2]int {
		n := h.pieces[i].node
		return [2]int{min(n[0], n[1]), max(n[0], n[1])}
	}
	order := make([]int, len(h.pieces))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		ka, kb := key(a), key(b)
		return cmp.Or(cmp.Compare(ka[0], kb[0]), cmp.Compare(ka[1], kb[1]), cmp.Compare(a, b))
	})
	var groups [][]int
	for lo := 0; lo < len(order); {
		hi := lo + 1
		for hi < len(order) && key(order[hi]) == key(order[lo]) {
			hi++
		}
		if hi-lo > 1 {
			groups = append(groups, order[lo:hi])
		}
		lo = hi
	}
	return groups
}

// maxVariants bounds how many different pieces between the same two nodes are
// told apart.
const maxVariants = 64

// dropWithin drops the repeats in a group and returns them.
func (h *healer) dropWithin(group []int) (dropped []int) {
	var kept []int
	for _, i := range group {
		repeats := func(k int) bool { return h.equal(&h.pieces[k], &h.pieces[i]) }
		if slices.ContainsFunc(kept, repeats) {
			h.drop(i, Duplicate)
			dropped = append(dropped, i)
		} else if len(kept) < maxVariants {
			kept = append(kept, i)
		}
	}
	return dropped
}

// equal reports whether two pieces between the same nodes run together within
// the join tolerance, or exactly where they are not much longer than it.
func (h *healer) equal(a, b *piece) bool {
	sa, sb := a.segments(), b.segments()
	if len(sa) != len(sb) {
		return false
	}
	tol := min(h.together(), a.length()/4)
	if a.node[0] != b.node[0] || a.node[0] == a.node[1] && dist(sa[0].middle(), sb[0].middle()) > tol {
		sb = backwards(sb)
	}
	for i := range sa {
		if dist(sa[i].a, sb[i].a) > tol || dist(sa[i].b, sb[i].b) > tol || dist(sa[i].middle(), sb[i].middle()) > tol {
			return false
		}
	}
	return true
}

func backwards(segs []segment) []segment {
	out := make([]segment, len(segs))
	for i, s := range segs {
		out[len(segs)-1-i] = s.reversed()
	}
	return out
}

func (h *healer) dangling(n int) bool { return h.nodes[n].degree == 1 }

// dropDuplicateLoops drops loops that lie on an equal loop.
func (h *healer) dropDuplicateLoops() {
	x := newPointIndex(h.together(), len(h.loops))
	var kept []loop
	for _, l := range h.loops {
		b := boundOf(l.verts)
		twin := false
		x.near(b.Min, h.together(), func(i int) bool {
			twin = h.sameLoop(l, kept[i])
			return !twin
		})
		if !twin {
			kept = append(kept, l)
			x.add(b.Min)
			continue
		}
		h.found(Finding{
			Kind: Duplicate, Level: Note, At: l.verts[0].P, HasAt: true,
			Text: "a whole contour is drawn twice; one was dropped",
		}, l.from, l.layer)
	}
	h.loops = kept
}

// sameLoop reports whether two loops run together within the join tolerance.
func (h *healer) sameLoop(l, m loop) bool {
	b, c := boundOf(l.verts), boundOf(m.verts)
	if dist(b.Min, c.Min) > h.together() || dist(b.Max, c.Max) > h.together() {
		return false
	}
	h.budget -= len(l.verts) * len(m.verts) / 4
	return h.budget > 0 && h.runsAlong(l, m) && h.runsAlong(m, l)
}

// runsAlong reports whether every vertex and middle of l lies on m.
func (h *healer) runsAlong(l, m loop) bool {
	others := contourSegments(m.verts)
	on := func(p orb.Point) bool {
		return slices.ContainsFunc(others, func(s segment) bool { return s.distance(p) <= h.together() })
	}
	for _, s := range contourSegments(l.verts) {
		if !on(s.a) || !on(s.middle()) {
			return false
		}
	}
	return true
}
