package drawing

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// dropOverlaps drops single lines and arcs that lie on a longer piece and
// whose ends lead nowhere, and joins two that overlap in part into one.
func (h *healer) dropOverlaps() {
	loose := h.looseSingles()
	if len(loose) == 0 {
		return
	}
	u := h.underlay()
	for _, i := range loose {
		p := &h.pieces[i]
		if p.out == "" && h.odd(p.node[0]) && h.odd(p.node[1]) && h.isCovered(u, i) {
			h.drop(i, Overlap)
			h.found(Finding{
				Kind: Overlap, Level: Note, At: p.segments()[0].middle(), HasAt: true,
				Text: p.from.typ + " lies on top of other pieces; dropped",
			}, p.from, p.layer)
		}
	}
	h.joinOverlapping()
}

// An underlay finds the segments near a place.
type underlay struct {
	segs  []segment
	owner []int // the piece of each segment, -1 for a loop's
	tree  *boxTree
	found []segment // reused
}

func (h *healer) underlay() *underlay {
	u := &underlay{}
	u.segs, u.owner = h.allSegments()
	boxes := make([]orb.Bound, len(u.segs))
	for i, s := range u.segs {
		boxes[i] = s.bound()
	}
	u.tree = newBoxTree(boxes)
	return u
}

// near lists up to limit segments in use, not of piece i, whose boxes meet b
// and that fit.
func (h *healer) near(u *underlay, i int, b orb.Bound, limit int, fit func(segment) bool) []segment {
	u.found = u.found[:0]
	u.tree.meet(b, func(k int) bool {
		h.budget--
		if o := u.owner[k]; o != i && (o < 0 || h.pieces[o].out == "") && fit(u.segs[k]) {
			u.found = append(u.found, u.segs[k])
		}
		return h.budget > 0 && len(u.found) < limit
	})
	return u.found
}

// isCovered reports whether others lie under the whole of a single piece.
// Mostly nothing lies even under its middle, which is quickly seen.
func (h *healer) isCovered(u *underlay, i int) bool {
	s := h.pieces[i].segments()[0]
	m := s.middle()
	onMiddle := func(t segment) bool { return t.distance(m) <= h.together() }
	if len(h.near(u, i, around(m, h.together()), 1, onMiddle)) == 0 {
		return false
	}
	under := h.near(u, i, widen(s.bound(), h.together()), maxUnder, func(segment) bool { return true })
	return covered(s, under, h.together())
}

// maxUnder bounds how many pieces are looked at for lying under another.
const maxUnder = 256

func (h *healer) odd(n int) bool { return h.nodes[n].degree%2 == 1 }

// looseSingles lists the single lines and arcs with an odd number of pieces at
// both ends, shortest first.
func (h *healer) looseSingles() []int {
	var out []int
	length := map[int]float64{}
	for i := range h.pieces {
		p := &h.pieces[i]
		if p.out == "" && p.single() && h.odd(p.node[0]) && h.odd(p.node[1]) {
			out = append(out, i)
			length[i] = p.length()
		}
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(length[a], length[b]) })
	return out
}

// allSegments lists the segments of pieces in use and of loops; owner is the
// piece, or -1 for a loop.
func (h *healer) allSegments() (segs []segment, owner []int) {
	for i := range h.pieces {
		if h.pieces[i].out == "" {
			for _, s := range h.pieces[i].segments() {
				segs, owner = append(segs, s), append(owner, i)
			}
		}
	}
	for _, l := range h.loops {
		for _, s := range contourSegments(l.verts) {
			segs, owner = append(segs, s), append(owner, -1)
		}
	}
	return segs, owner
}

// covered reports whether a piece runs along others for its whole length.
func covered(s segment, under []segment, tol float64) bool {
	if s.length() <= tol {
		return false
	}
	const samples = 16
	for k := range samples + 1 {
		f := float64(k) / samples
		first, _ := s.split(f)
		p, d := first.b, s.direction(f)
		runs := func(t segment) bool {
			if t.distance(p) > tol {
				return false
			}
			e := t.direction(min(1, max(0, t.fraction(p))))
			return math.Abs(d[0]*e[1]-d[1]*e[0]) < parallelSine
		}
		if !slices.ContainsFunc(under, runs) {
			return false
		}
	}
	return true
}

// parallelSine is the sine of the angle up to which two pieces within the join
// tolerance run along each other: a twentieth of a radian, so that pieces that
// only cross there are told apart.
const parallelSine = 0.05

// joinOverlapping makes one line of two that overlap in part: the end of each
// that lies on the other must be loose.
func (h *healer) joinOverlapping() {
	var loose []int // pieces with at least one loose end
	var boxes []orb.Bound
	for i := range h.pieces {
		p := &h.pieces[i]
		if p.out == "" && p.single() && (h.dangling(p.node[0]) || h.dangling(p.node[1])) {
			loose = append(loose, i)
			boxes = append(boxes, p.segments()[0].bound())
		}
	}
	if len(loose) < 2 {
		return
	}
	tree := newBoxTree(boxes)
	for k, i := range loose {
		p := &h.pieces[i]
		for e, n := range p.node {
			if !h.dangling(n) {
				continue
			}
			end := p.verts[e*(len(p.verts)-1)].P
			tree.meet(around(end, h.together()), func(m int) bool {
				h.budget--
				if m != k && p.out == "" && h.pieces[loose[m]].out == "" {
					h.joinPair(i, loose[m])
				}
				return h.budget > 0
			})
		}
	}
}

// joinPair moves the loose end of a that lies on b to b's far end and drops b,
// where they overlap that way.
func (h *healer) joinPair(a, b int) {
	p, q := &h.pieces[a], &h.pieces[b]
	s, t := p.segments()[0], q.segments()[0]
	if s.isArc() || t.isArc() { // arcs that overlap in part are rare; left as they are
		return
	}
	pa, qa := 0, 0 // the ends that lie on the other
	if t.distance(s.b) < t.distance(s.a) {
		pa = 1
	}
	if s.distance(t.b) < s.distance(t.a) {
		qa = 1
	}
	ends := [2][2]orb.Point{{s.a, s.b}, {t.a, t.b}}
	u, v := ends[0][pa], ends[1][qa]
	far := ends[1][1-qa]
	if !h.dangling(p.node[pa]) || !h.dangling(q.node[qa]) || dist(u, v) <= h.together() ||
		t.distance(u) > h.together() || s.distance(v) > h.together() || !straight(ends[0][1-pa], u, far, h.together()) {
		return
	}
	h.drop(b, Overlap)
	h.nodes[p.node[pa]].degree--
	p.node[pa] = q.node[1-qa]
	h.nodes[p.node[pa]].degree++
	p.verts = []geom.Vertex{{P: ends[0][1-pa]}, {P: far}}
	if pa == 0 {
		slices.Reverse(p.verts)
	}
	h.found(Finding{
		Kind: Overlap, Level: Note, At: u, HasAt: true,
		Text: "two lines overlap in part; joined to one",
	}, q.from, q.layer)
}

// straight reports whether m lies within tol of the line from a to b, between
// them.
func straight(a, m, b orb.Point, tol float64) bool {
	return segment{a: a, b: b}.distance(m) <= tol && math.Abs(dist(a, m)+dist(m, b)-dist(a, b)) <= tol
}
