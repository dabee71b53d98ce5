package drawing

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
)

// crossings finds the loops that cross another one, and reports where.
func (h *healer) crossings() (bad map[int]bool) {
	h.stage(func() { bad = h.findCrossings() })
	return bad
}

func (h *healer) findCrossings() map[int]bool {
	if h.stale {
		h.between = slices.DeleteFunc(h.contacts(h.loops), func(c contact) bool { return c.loop[0] == c.loop[1] })
	}
	bad := map[int]bool{}
	for _, group := range groupContacts(h.between) {
		a, b := group[0].loop[0], group[0].loop[1]
		if !h.crossEachOther(group) {
			continue
		}
		bad[a], bad[b] = true, true
		for _, c := range group {
			h.found(Finding{
				Kind: Crossing, Level: Problem, At: c.at.p, HasAt: true,
				Text: "two contours cross here; mend them in the drawing, or leave the layer of one out",
			}, h.loops[b].from, h.loops[b].layer)
		}
	}
	return bad
}

// crossEachOther reports whether one loop runs both inside and outside the
// other, between the places where they meet.
func (h *healer) crossEachOther(group []contact) bool {
	a, b := h.loops[group[0].loop[0]], h.loops[group[0].loop[1]]
	in, out := false, false
	other := contourSegments(b.verts)
	for _, p := range between(a, group) {
		h.budget -= len(other)
		if h.budget < 0 {
			return false
		}
		clear := !slices.ContainsFunc(other, func(s segment) bool { return s.distance(p) <= h.together() })
		if clear {
			inside := contains(b.verts, p)
			in, out = in || inside, out || !inside
		}
	}
	return in && out
}

// between returns points of a loop that lie between the places where it meets
// another: the middles of its segments as cut there, and its vertices.
func between(l loop, group []contact) []orb.Point {
	cuts := make(map[int][]float64)
	for _, c := range group {
		cuts[c.seg[0]] = append(cuts[c.seg[0]], c.at.u)
	}
	var out []orb.Point
	for i, s := range contourSegments(l.verts) {
		fs := append(cuts[i], 0, 1)
		slices.SortFunc(fs, cmp.Compare[float64])
		out = append(out, s.a)
		for k := 1; k < len(fs); k++ {
			f := min(1, max(0, (fs[k-1]+fs[k])/2))
			first, _ := s.split(f)
			out = append(out, first.b)
		}
	}
	return out
}
