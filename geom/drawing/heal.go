package drawing

import (
	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A piece is an open chain on its way into a contour.
type piece struct {
	verts []geom.Vertex // the last bulge is unused
	from  *origin
	layer int
	node  [2]int // where it begins and ends
	out   Kind   // why it was dropped; "" while it is in use
}

func (p *piece) segments() []segment { return pathSegments(p.verts) }

func (p *piece) length() float64 { return geom.Path(p.verts).Length() }

// middle is the point half way along the piece.
func (p *piece) middle() orb.Point {
	left := p.length() / 2
	segs := p.segments()
	for _, s := range segs {
		if l := s.length(); left <= l && l > 0 {
			first, _ := s.split(left / l)
			return first.b
		}
		left -= s.length()
	}
	return p.verts[0].P
}

// single reports whether the piece is one line or arc.
func (p *piece) single() bool { return len(p.verts) == 2 }

// A loop is a closed contour.
type loop struct {
	verts geom.Contour
	from  *origin
	layer int
}

// A healer turns strokes into loops and open chains.
type healer struct {
	log          *log
	names        []layer
	tol          float64 // largest gap closed without asking, mm
	pieces       []piece
	nodes        []node
	loops        []loop
	open         []piece   // chains that did not close
	size         int       // vertices taken in
	budget       int       // tests that the present stage may still make
	refused      []loop    // loops that cross themselves or another
	between      []contact // between different loops
	stale        bool      // between must be found anew
	contactsLeft int
	ends         []int // a piece that ends at each node; nil until asked for
}

// A node is a place where pieces end.
type node struct {
	p      orb.Point
	degree int
}

// Tolerances that follow from the join tolerance.

// together is the distance within which two pieces run together: the join
// tolerance, but never more than the default. A job that closes wide gaps does
// not mean that lines so far apart are one.
func (h *healer) together() float64 { return min(h.tol, geom.JoinTolerance) }

// same is the distance below which two ends are one point, a hundredth of that:
// what is left of exact ends after angles and inches have been rounded.
func (h *healer) same() float64 { return h.together() / 100 }

// selfClose is the distance up to which the two ends of one chain, with no
// other end near, are taken for one: ten times as much, because a chain can
// have been meant to close only on itself.
func (h *healer) selfClose() float64 { return max(h.tol, 10*h.together()) }

// suggest is the distance up to which two loose ends are shown as a gap that
// the drawing may have meant to close.
func (h *healer) suggest() float64 { return max(4*h.tol, 100*h.together()) }

// stage runs one step of healing with a bound on the tests between pieces of
// outline that it may make. A clean drawing needs a few for each piece; a
// tangle that needs far more is refused rather than waited for.
func (h *healer) stage(step func()) {
	h.budget = 2_000_000 + 16*h.size
	step()
	if h.budget <= 0 {
		h.tangled()
	}
}

func (h *healer) tangled() {
	h.log.add(Finding{
		Kind: TooMuch, Level: Problem,
		Text: "so many pieces lie on top of each other that not all of them could be compared; check the drawing for layers drawn over one another",
	})
}

// heal makes loops of what the draft draws.
func heal(d *draft, o Options) *healer {
	h := &healer{log: d.log, names: d.layers, tol: o.JoinTolerance}
	if !(h.tol > 0) {
		h.tol = geom.JoinTolerance
	}
	h.take(d.strokes)
	d.strokes = nil // large, and not needed any more
	h.findNodes()
	h.dropDuplicates()
	h.stage(h.dropOverlaps)
	h.joinGaps()
	h.stage(h.trace)
	h.closeChains()
	h.reportOpen()
	h.splitAtVertices()
	h.stage(h.dropFlat)
	h.stage(h.dropDuplicateLoops)
	h.stage(h.untangle)
	h.stage(h.dropFlat)
	return h
}

// take sorts the used strokes into closed loops and open pieces, without the
// parts that have no length.
func (h *healer) take(strokes []stroke) {
	for i := range strokes {
		s := &strokes[i]
		if s.out != "" {
			continue
		}
		h.size += len(s.verts)
		verts, dropped := withoutZeroes(s.verts, s.closed, h.same())
		if dropped > 0 {
			h.found(Finding{Kind: ZeroLength, Count: dropped, Text: s.from.typ + " has pieces of no length; dropped"}, s.from, s.layer)
		}
		switch {
		case len(verts) < 2:
		case s.closed && thereAndBack(verts):
			h.pieces = append(h.pieces, piece{verts: verts[:2:2], from: s.from, layer: s.layer})
		case s.closed:
			h.loops = append(h.loops, loop{verts, s.from, s.layer})
		default:
			h.pieces = append(h.pieces, piece{verts: verts, from: s.from, layer: s.layer})
		}
	}
}

// thereAndBack reports whether a closed chain runs out and back on one line or
// arc: programs write a slit so.
func thereAndBack(vs []geom.Vertex) bool {
	return len(vs) == 2 && vs[0].Bulge == -vs[1].Bulge
}

// withoutZeroes drops vertices whose leaving segment is no longer than d, and
// counts them.
func withoutZeroes(vs []geom.Vertex, closed bool, d float64) (out []geom.Vertex, dropped int) {
	n := len(vs)
	ends := n
	if !closed {
		ends--
	}
	for i := range ends {
		if dist(vs[i].P, vs[(i+1)%n].P) <= d {
			dropped++
		}
	}
	if dropped == 0 {
		return vs, 0
	}
	out = make([]geom.Vertex, 0, n)
	for i, v := range vs {
		if i >= ends || dist(v.P, vs[(i+1)%n].P) > d {
			out = append(out, v)
		}
	}
	if !closed && len(out) > 0 {
		out[0].P = vs[0].P // the ends stay where they were drawn
	}
	return out, dropped
}

// found adds a finding about a piece.
func (h *healer) found(f Finding, from *origin, layer int) {
	f.Layer = h.names[layer].name
	if from != nil {
		f.Line, f.Handle = from.line, from.name()
	}
	h.log.add(f)
}

// findNodes gives every piece its two nodes.
func (h *healer) findNodes() {
	x := newPointIndex(h.same(), 2*len(h.pieces))
	for i := range h.pieces {
		p := &h.pieces[i]
		p.node[0] = x.cluster(p.verts[0].P, h.same())
		p.node[1] = x.cluster(p.verts[len(p.verts)-1].P, h.same())
	}
	h.nodes = make([]node, len(x.pts))
	for i, p := range x.pts {
		h.nodes[i].p = p
	}
	h.count()
}

// count sets the degree of every node.
func (h *healer) count() {
	for i := range h.nodes {
		h.nodes[i].degree = 0
	}
	for i := range h.pieces {
		if h.pieces[i].out == "" {
			h.nodes[h.pieces[i].node[0]].degree++
			h.nodes[h.pieces[i].node[1]].degree++
		}
	}
}

// drop takes a piece out of use.
func (h *healer) drop(i int, why Kind) {
	p := &h.pieces[i]
	p.out = why
	h.nodes[p.node[0]].degree--
	h.nodes[p.node[1]].degree--
}

// restore puts a dropped piece back.
func (h *healer) restore(i int) {
	p := &h.pieces[i]
	p.out = ""
	h.nodes[p.node[0]].degree++
	h.nodes[p.node[1]].degree++
}
