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

// A loopIndex finds the segments of one loop that meet a box.
type loopIndex struct {
	segs  []segment
	boxes []orb.Bound
	box   orb.Bound
	tree  *boxTree // nil for the few segments of most loops
}

// fewSegments is how many segments are looked through one by one.
const fewSegments = 12

func newLoopIndex(l loop, reach float64) *loopIndex {
	x := &loopIndex{segs: contourSegments(l.verts), box: emptyBound()}
	x.boxes = make([]orb.Bound, len(x.segs))
	for i, s := range x.segs {
		x.boxes[i] = widen(s.bound(), reach/2)
		x.box = grow(x.box, x.boxes[i])
	}
	if len(x.segs) > fewSegments {
		x.tree = newBoxTree(x.boxes)
	}
	return x
}

// meet calls f with every segment whose box meets b, until f returns false.
func (x *loopIndex) meet(b orb.Bound, f func(i int) bool) {
	if x.tree != nil {
		x.tree.meet(b, f)
		return
	}
	for i, o := range x.boxes {
		if boxesMeet(b, o) && !f(i) {
			return
		}
	}
}

// contacts finds every contact within and between loops.
func (h *healer) contacts(loops []loop) (out []contact) {
	if len(loops) == 0 {
		return nil
	}
	xs := make([]*loopIndex, len(loops))
	boxes := make([]orb.Bound, len(loops))
	for i, l := range loops {
		xs[i] = newLoopIndex(l, h.same())
		boxes[i] = xs[i].box
	}
	tree := newBoxTree(boxes)
	h.contactsLeft = maxContacts(len(loops))
	for i, x := range xs {
		h.contactsLeft += len(x.segs)
		out = h.within(out, xs[i], i)
		tree.meet(boxes[i], func(k int) bool {
			h.budget--
			if k > i {
				out = h.among(out, xs[i], xs[k], i, k)
			}
			return h.budget > 0
		})
	}
	return out
}

// maxContacts bounds how many contacts are kept, besides one for each segment.
// Contours of a clean drawing have none.
func maxContacts(loops int) int { return 20_000 + loops }

// within appends the contacts of a loop with itself.
func (h *healer) within(out []contact, x *loopIndex, loop int) []contact {
	for a, s := range x.segs {
		x.meet(x.boxes[a], func(b int) bool {
			h.budget--
			if b > a {
				out = h.contact(out, s, x.segs[b], [2]int{loop, a}, [2]int{loop, b}, len(x.segs))
			}
			return h.budget > 0
		})
	}
	return out
}

// among appends the contacts of two loops. Only segments in the box that both
// have in common can meet.
func (h *healer) among(out []contact, x, y *loopIndex, i, k int) []contact {
	common := orb.Bound{
		Min: orb.Point{max(x.box.Min[0], y.box.Min[0]), max(x.box.Min[1], y.box.Min[1])},
		Max: orb.Point{min(x.box.Max[0], y.box.Max[0]), min(x.box.Max[1], y.box.Max[1])},
	}
	x.meet(common, func(a int) bool {
		y.meet(x.boxes[a], func(b int) bool {
			h.budget--
			out = h.contact(out, x.segs[a], y.segs[b], [2]int{i, a}, [2]int{k, b}, 0)
			return h.budget > 0
		})
		h.budget--
		return h.budget > 0
	})
	return out
}

// contact appends the contacts of two segments, given as loop and place in the
// loop; n is the number of segments of the loop where it is the same.
func (h *healer) contact(out []contact, s, t segment, a, b [2]int, n int) []contact {
	next, prev := false, false
	if a[0] == b[0] {
		next, prev = b[1] == a[1]+1, a[1] == 0 && b[1] == n-1
	}
	back := (next || prev) && folded(s, t, next)
	if (next || prev) && n > 2 && !s.isArc() && !t.isArc() && !back {
		return out
	}
	found := meet(s, t, h.same())
	for _, x := range found.list() {
		if next && h.joint(s, t, x, s.b, back) || prev && h.joint(s, t, x, s.a, back) {
			continue
		}
		if h.contactsLeft--; h.contactsLeft < 0 {
			h.budget = 0
			return out
		}
		out = append(out, contact{[2]int{a[0], b[0]}, [2]int{a[1], b[1]}, x, h.crosses(s, t, x)})
	}
	return out
}

// folded reports whether of two segments that follow one another the second
// turns straight back.
func folded(s, t segment, next bool) bool {
	if !next {
		s, t = t, s
	}
	d, e := s.direction(1), t.direction(0)
	return dot(d, e) < 0 && math.Abs(d[0]*e[1]-d[1]*e[0]) < crossingAngle
}

// jointReach is how far from their joint, in mm, two neighbours may still run
// together because they join tangentially. Beyond, a hit is a contact.
const jointReach = 1

// joint reports whether a hit between neighbours is their common end, or so
// near that nothing lies between: pieces that join tangentially run together
// for a while. Not so where one folds back onto the other.
func (h *healer) joint(s, t segment, x hit, end orb.Point, back bool) bool {
	d := dist(x.p, end)
	if d <= h.same() {
		return true
	}
	if back || d > jointReach {
		return false
	}
	between, _ := s.split((x.u + s.fraction(end)) / 2)
	return t.distance(between.b) <= h.same()
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
