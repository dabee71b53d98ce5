package drawing

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A contact is a place where two segments of loops touch or cross.
type contact struct {
	loop, seg [2]int
	at        hit
	crossing  bool // they cross at an angle, inside both
}

// crossingAngle is the sine of the angle between two pieces, in radians, from
// which they cross rather than touch. Arcs that are meant to touch and run into
// each other by the join tolerance meet at larger angles, but then leave again
// at once, and what they enclose is too thin to count.
const crossingAngle = 1e-3

// contacts finds every contact within and between loops.
func (h *healer) contacts(loops []loop) []contact {
	var segs []segment
	var owner [][2]int // loop and place in the loop
	for i, l := range loops {
		for k, s := range contourSegments(l.verts) {
			segs, owner = append(segs, s), append(owner, [2]int{i, k})
		}
	}
	if len(segs) == 0 {
		return nil
	}
	boxes := make([]orb.Bound, len(segs))
	for i, s := range segs {
		boxes[i] = s.bound()
	}
	tree := newBoxTree(boxes)
	var out []contact
	for i, s := range segs {
		tree.meet(widen(boxes[i], h.same()), func(k int) bool {
			if k > i {
				h.budget--
				out = h.contact(out, s, segs[k], owner[i], owner[k], len(loops[owner[i][0]].verts))
			}
			return h.budget > 0
		})
	}
	if h.budget <= 0 {
		h.tangled()
	}
	return out
}

func (h *healer) tangled() {
	h.log.add(Finding{
		Kind: TooMuch, Level: Problem,
		Text: "so many pieces lie on top of each other that not all crossings could be looked for; check the drawing for layers drawn over one another",
	})
}

// contact appends the contacts of two segments; n is the number of segments of
// the first one's loop.
func (h *healer) contact(out []contact, s, t segment, a, b [2]int, n int) []contact {
	next, prev := false, false
	if a[0] == b[0] {
		next, prev = b[1] == a[1]+1, a[1] == 0 && b[1] == n-1
	}
	if (next || prev) && n > 2 && !s.isArc() && !t.isArc() && !folded(s, t, next) {
		return out
	}
	found := meet(s, t, h.same())
	for _, x := range found.list() {
		if next && h.joint(s, t, x, s.b) || prev && h.joint(s, t, x, s.a) {
			continue
		}
		out = append(out, contact{[2]int{a[0], b[0]}, [2]int{a[1], b[1]}, x, h.crosses(s, t, x)})
	}
	return out
}

// folded reports whether two lines that follow one another turn straight back.
func folded(s, t segment, next bool) bool {
	if !next {
		s, t = t, s
	}
	d, e := s.direction(1), t.direction(0)
	return dot(d, e) < 0 && math.Abs(d[0]*e[1]-d[1]*e[0]) < crossingAngle
}

// joint reports whether a hit between neighbours is their common end, or so
// near that nothing lies between: pieces that join tangentially run together
// for a while.
func (h *healer) joint(s, t segment, x hit, end orb.Point) bool {
	if dist(x.p, end) <= h.same() {
		return true
	}
	half := segment{a: end, b: x.p}.middle()
	p, _ := s.split((x.u + s.fraction(end)) / 2)
	return dist(x.p, end) < 1 && t.distance(p.b) <= h.same() && dist(half, p.b) < dist(x.p, end)
}

// crosses reports whether the segments cross at a hit inside both.
func (h *healer) crosses(s, t segment, x hit) bool {
	inside := func(s segment) bool { return dist(x.p, s.a) > h.same() && dist(x.p, s.b) > h.same() }
	d, e := s.direction(x.u), t.direction(x.v)
	return inside(s) && inside(t) && math.Abs(d[0]*e[1]-d[1]*e[0]) > crossingAngle
}

// groupContacts sorts contacts by the pair of loops they belong to.
func groupContacts(cs []contact) [][]contact {
	slices.SortStableFunc(cs, func(p, q contact) int {
		return cmp.Or(cmp.Compare(p.loop[0], q.loop[0]), cmp.Compare(p.loop[1], q.loop[1]))
	})
	var out [][]contact
	for lo := 0; lo < len(cs); {
		hi := lo + 1
		for hi < len(cs) && cs[hi].loop == cs[lo].loop {
			hi++
		}
		out = append(out, cs[lo:hi])
		lo = hi
	}
	return out
}
