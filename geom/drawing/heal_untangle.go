package drawing

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// KerfFloor is a length in mm below the width of any waterjet's cut (0.5 to
// 1.2 mm, common practice). A loop that fits into it leaves no trace in the
// part.
const KerfFloor = 0.5

// splitAtVertices takes loops apart that come back to one of their own
// vertices: laps drawn many times over, holes tied to their outline by a line,
// figures of eight. It costs one look at each vertex, where looking for
// contacts would compare each lap with every other.
func (h *healer) splitAtVertices() {
	var out []loop
	for _, l := range h.loops {
		if len(l.verts) < 4 { // too few for two loops that enclose something
			out = append(out, l)
			continue
		}
		parts := h.simpleLoops(l, nil)
		if len(parts) > 1 {
			parts = h.withoutFlat(l, parts)
			if len(parts) > 1 {
				h.touches(l, parts[1].verts[0].P)
			}
		}
		out = append(out, parts...)
	}
	h.loops = out
}

func (h *healer) touches(l loop, at orb.Point) {
	h.found(Finding{
		Kind: Touching, Level: Note, At: at, HasAt: true,
		Text: "a contour touches itself; it was taken as several that meet there",
	}, l.from, l.layer)
}

// untangle splits loops where they touch or cross themselves. What runs out
// and back along itself is dropped; a crossing that only cuts off a loop
// smaller than a kerf is trimmed; any other crossing makes the contour refused.
func (h *healer) untangle() {
	cs := h.contacts(h.loops)
	h.between = slices.Clone(cs)
	h.between = slices.DeleteFunc(h.between, func(c contact) bool { return c.loop[0] == c.loop[1] })
	own := slices.DeleteFunc(cs, func(c contact) bool { return c.loop[0] != c.loop[1] })
	if len(own) == 0 {
		return
	}
	var fresh []loop
	split := map[int]bool{}
	for _, group := range groupContacts(own) {
		i := group[0].loop[0]
		split[i] = true
		fresh = append(fresh, h.untangleLoop(h.loops[i], group)...)
	}
	kept := make([]loop, 0, len(h.loops))
	for i, l := range h.loops {
		if !split[i] {
			kept = append(kept, l)
		}
	}
	h.loops = append(kept, fresh...)
	h.between = nil // numbers of loops have changed
	h.stale = true
}

// untangleLoop returns the simple loops that a loop with contacts consists of,
// none where it is refused.
func (h *healer) untangleLoop(l loop, own []contact) []loop {
	parts := h.simpleLoops(l, own)
	whole := h.withoutFlat(l, parts)
	if !slices.ContainsFunc(own, func(c contact) bool { return c.crossing }) {
		if len(whole) > 1 {
			h.touches(l, own[0].at.p)
		}
		return whole
	}
	return h.trimOrRefuse(l, whole, own)
}

// trimOrRefuse drops loops smaller than a kerf; where one is left it is the
// contour.
func (h *healer) trimOrRefuse(l loop, parts []loop, own []contact) []loop {
	slices.SortStableFunc(parts, func(p, q loop) int {
		return cmp.Compare(math.Abs(q.verts.Area()), math.Abs(p.verts.Area()))
	})
	big := 0
	for _, p := range parts {
		b := boundOf(p.verts)
		if dist(b.Min, b.Max) > KerfFloor {
			big++
		}
	}
	if big == 1 {
		for _, p := range parts[1:] {
			h.found(Finding{
				Kind: LoopTrimmed, Level: Suspect, At: p.verts[0].P, HasAt: true,
				Text: "a contour crosses itself and makes a loop smaller than a kerf; the loop was cut off",
			}, l.from, l.layer)
		}
		return parts[:1]
	}
	if len(parts) <= 1 {
		return parts
	}
	h.refused = append(h.refused, l)
	for _, c := range own {
		if c.crossing {
			h.found(Finding{
				Kind: SelfCrossing, Level: Problem, At: c.at.p, HasAt: true,
				Text: "a contour crosses itself here, so that inside and outside are not told; mend it in the drawing",
			}, l.from, l.layer)
		}
	}
	return nil
}

// simpleLoops cuts a loop at its contacts and takes it apart wherever it comes
// back to a point.
func (h *healer) simpleLoops(l loop, own []contact) []loop {
	segs := cutAt(l, own)
	x := newPointIndex(2*h.same(), len(segs))
	ids := make([]int, len(segs))
	for i, s := range segs {
		ids[i] = x.cluster(s.a, 2*h.same())
	}
	var out []loop
	var stack []int // numbers of segments
	on := map[int]int{}
	for i := range segs {
		on[ids[i]] = len(stack)
		stack = append(stack, i)
		at, back := on[ids[(i+1)%len(ids)]]
		if !back {
			continue
		}
		for _, k := range stack[at:] {
			delete(on, ids[k])
		}
		out = append(out, loop{loopOf(segs, stack[at:], ids, x.pts), l.from, l.layer})
		stack = stack[:at]
	}
	return out
}

// loopOf makes a contour of segments, their ends moved to the common points.
func loopOf(segs []segment, which, ids []int, pts []orb.Point) geom.Contour {
	out := make(geom.Contour, 0, len(which))
	for _, k := range which {
		if ids[k] != ids[(k+1)%len(ids)] || len(which) == 1 {
			out = append(out, vertex{P: pts[ids[k]], Bulge: segs[k].bulge})
		}
	}
	return out
}

// cutAt returns a loop's segments, cut at the contacts.
func cutAt(l loop, own []contact) []segment {
	cuts := make([][]float64, len(l.verts))
	for _, c := range own {
		cuts[c.seg[0]] = append(cuts[c.seg[0]], c.at.u)
		cuts[c.seg[1]] = append(cuts[c.seg[1]], c.at.v)
	}
	var out []segment
	for i, s := range contourSegments(l.verts) {
		slices.Sort(cuts[i])
		done := 0.0
		for _, f := range cuts[i] {
			if f <= done || f >= 1 {
				continue
			}
			var first segment
			first, s = s.split((f - done) / (1 - done))
			out = append(out, first)
			done = f
		}
		out = append(out, s)
	}
	return out
}
