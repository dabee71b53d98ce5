package drawing

import (
	"math"
	"slices"
)

// withoutFlat drops the parts of a loop that run out and back along themselves.
func (h *healer) withoutFlat(l loop, parts []loop) []loop {
	return slices.DeleteFunc(parts, func(p loop) bool {
		if !h.flat(p) {
			return false
		}
		if p.verts.Length() > 4*h.together() {
			h.found(Finding{
				Kind: Spur, Level: Note, At: p.verts[0].P, HasAt: true,
				Text: "a contour runs out and back along itself; that part was dropped",
			}, l.from, l.layer)
		}
		return true
	})
}

// flat reports whether a loop encloses nothing: its area is that of a line, and
// it runs along itself everywhere, which tells it from a loop that crosses
// itself and encloses as much left as right.
func (h *healer) flat(l loop) bool {
	length := l.verts.Length()
	if math.Abs(l.verts.Area()) > 2*h.same()*length { // clear, even when snapped
		return false
	}
	if math.Abs(onGrid(l.verts).Area()) > h.same()*length {
		return false
	}
	segs := contourSegments(l.verts)
	h.budget -= len(segs) * len(segs) / 8
	if h.budget < 0 {
		return true
	}
	for i, s := range segs {
		m := s.middle()
		along := func(k int) bool { return k != i && segs[k].distance(m) <= h.together() }
		if s.length() > h.together() && !anyOf(len(segs), along) {
			return false
		}
	}
	return true
}

// anyOf reports whether f holds for a number below n.
func anyOf(n int, f func(int) bool) bool {
	for i := range n {
		if f(i) {
			return true
		}
	}
	return false
}

// dropFlat drops loops that enclose nothing.
func (h *healer) dropFlat() {
	n := len(h.loops)
	h.loops = slices.DeleteFunc(h.loops, func(l loop) bool {
		if !h.flat(l) {
			return false
		}
		h.found(Finding{
			Kind: Spur, Level: Suspect, At: l.verts[0].P, HasAt: true,
			Text: "a contour encloses nothing; it was dropped",
		}, l.from, l.layer)
		return true
	})
	h.stale = h.stale || len(h.loops) < n
}
