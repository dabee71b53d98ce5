package drawing

import (
	"cmp"
	"math"
	"slices"

	"kerfold/geom"
)

type vertex = geom.Vertex

// A dart is one of the two ways to run along a piece: 2·piece from its begin,
// 2·piece+1 from its end.
type dart int

func (d dart) piece() int { return int(d) / 2 }
func (d dart) end() int   { return int(d) % 2 } // which end it starts from
func (d dart) twin() dart { return d ^ 1 }

// from is the node where a dart starts.
func (h *healer) from(d dart) int { return h.pieces[d.piece()].node[d.end()] }

// to is the node where a dart ends.
func (h *healer) to(d dart) int { return h.pieces[d.piece()].node[1-d.end()] }

// A tracer walks the pieces from node to node.
type tracer struct {
	*healer
	darts [][]dart // leaving each node, counter-clockwise by direction
	used  []bool   // by piece
	left  []int    // unused ends at each node
}

// trace turns pieces into loops and open chains. First the branches that lead
// nowhere are taken off; what then still has nodes with an odd number of ends
// is ambiguous: its outer boundary is taken as a contour and the rest looked
// at again. Whatever is left splits into loops.
func (h *healer) trace() {
	t := &tracer{healer: h, used: make([]bool, len(h.pieces)), left: make([]int, len(h.nodes))}
	t.gather()
	t.takeBranches(t.looseEnds())
	t.takeOddRegions()
	t.takeLoops()
}

// gather lists the darts of every node in order of direction.
func (t *tracer) gather() {
	t.darts = make([][]dart, len(t.nodes))
	slab := make([]dart, 0, 2*len(t.pieces))
	t.count()
	for n := range t.nodes {
		t.left[n] = t.nodes[n].degree
		start := len(slab)
		slab = slab[:start+t.nodes[n].degree]
		t.darts[n] = slab[start:start:len(slab)]
	}
	for i := range t.pieces {
		if t.pieces[i].out != "" {
			t.used[i] = true
			continue
		}
		for e := range 2 {
			n := t.pieces[i].node[e]
			t.darts[n] = append(t.darts[n], dart(2*i+e))
		}
	}
	for n, ds := range t.darts {
		if len(ds) > 2 {
			t.sortDarts(ds)
			t.reportBranch(n)
		}
	}
}

// sortDarts orders darts counter-clockwise by the direction in which they
// leave, and darts that leave tangent to one another by how they curve away.
func (t *tracer) sortDarts(ds []dart) {
	type heading struct{ angle, curve float64 }
	head := map[dart]heading{}
	for _, d := range ds {
		s := t.leaving(d)
		sweep := s.sweep()
		angle := math.Atan2(s.b[1]-s.a[1], s.b[0]-s.a[0]) - sweep/2
		angle = math.Mod(angle+4*math.Pi, 2*math.Pi)
		if angle > 2*math.Pi-tangentTolerance/2 {
			angle = 0
		}
		head[d] = heading{math.Round(angle / tangentTolerance), sweep / max(s.length(), geom.Grid)}
	}
	slices.SortFunc(ds, func(a, b dart) int {
		return cmp.Or(cmp.Compare(head[a].angle, head[b].angle), cmp.Compare(head[a].curve, head[b].curve), t.sideBySide(a, b))
	})
}

// sideBySide orders darts that run together: as if they lay side by side, so
// that what is left at one end is right at the other.
func (t *tracer) sideBySide(a, b dart) int {
	if t.from(a) > t.to(a) {
		a, b = b, a
	}
	return cmp.Compare(a.piece(), b.piece())
}

// tangentTolerance is the angle in radians between two pieces that leave a
// point tangent to each other: rounding of a drawing's coordinates at a
// joint between short pieces.
const tangentTolerance = 1e-4

// leaving is the first segment of a dart.
func (t *tracer) leaving(d dart) segment {
	vs := t.pieces[d.piece()].verts
	if d.end() == 0 {
		return segment{vs[0].P, vs[1].P, vs[0].Bulge}
	}
	n := len(vs)
	return segment{vs[n-1].P, vs[n-2].P, -vs[n-2].Bulge}
}

func (t *tracer) reportBranch(n int) {
	if t.nodes[n].degree%2 == 0 {
		return
	}
	t.found(Finding{
		Kind: Branch, Level: Suspect, At: t.nodes[n].p, HasAt: true,
		Text: "an odd number of ends, three or more, meet here: one of them starts or stops where it should not",
	}, nil, t.pieceAt(n).layer)
}

// take marks a piece as used.
func (t *tracer) take(d dart) {
	t.used[d.piece()] = true
	t.left[t.from(d)]--
	t.left[t.to(d)]--
}

// looseEnds lists the nodes with one end.
func (t *tracer) looseEnds() []int {
	var out []int
	for n, k := range t.left {
		if k == 1 {
			out = append(out, n)
		}
	}
	return out
}

// takeBranches takes off chains that start at a loose end, as far as the next
// node where two or more others meet.
func (t *tracer) takeBranches(ends []int) {
	for _, n := range ends {
		if t.left[n] == 1 { // not yet reached from the chain's other end
			t.healer.open = append(t.healer.open, t.assemble(t.branch(n)))
		}
	}
}

// branch follows a chain from a loose end.
func (t *tracer) branch(n int) (chain []dart) {
	for t.left[n] == 1 {
		d, _ := t.unused(n)
		chain = append(chain, d)
		t.take(d)
		n = t.to(d)
	}
	return chain
}

// unused returns the first unused dart of a node.
func (t *tracer) unused(n int) (dart, bool) {
	for _, d := range t.darts[n] {
		if !t.used[d.piece()] {
			return d, true
		}
	}
	return 0, false
}

// takeLoops splits what is left, all even, into loops.
func (t *tracer) takeLoops() {
	for i := range t.pieces {
		if !t.used[i] {
			t.walk(dart(2 * i))
		}
	}
}

// walk follows unused pieces until it is back where it began.
func (t *tracer) walk(d dart) {
	var walk []dart
	start := t.from(d)
	for {
		walk = append(walk, d)
		t.take(d)
		n := t.to(d)
		if n == start && t.left[n] == 0 {
			break
		}
		next, ok := t.leftmost(d)
		if !ok {
			break
		}
		d = next
	}
	t.addLoops(walk)
}

// leftmost returns the unused dart at a dart's end that turns most to the left.
func (t *tracer) leftmost(d dart) (dart, bool) {
	ds := t.darts[t.to(d)]
	at := slices.Index(ds, d.twin())
	for k := 1; k < len(ds); k++ {
		e := ds[((at-k)%len(ds)+len(ds))%len(ds)]
		if !t.used[e.piece()] {
			return e, true
		}
	}
	return 0, false
}

// addLoops cuts a closed walk where it comes back to a node, so that no loop
// passes a node twice.
func (t *tracer) addLoops(walk []dart) {
	var stack []dart
	on := map[int]int{} // node to its place in the stack
	for _, d := range walk {
		on[t.from(d)] = len(stack)
		stack = append(stack, d)
		if at, ok := on[t.to(d)]; ok {
			t.addLoop(stack[at:])
			for _, e := range stack[at:] {
				delete(on, t.from(e))
			}
			stack = stack[:at]
		}
	}
	if len(stack) > 0 {
		t.healer.open = append(t.healer.open, t.assemble(stack))
	}
}

func (t *tracer) addLoop(walk []dart) {
	p := t.assemble(walk)
	t.loops = append(t.loops, loop{p.closedVerts(), p.from, p.layer})
}

// assemble makes one chain of darts that follow one another. Ends move to
// their nodes.
func (t *tracer) assemble(walk []dart) piece {
	first := &t.pieces[walk[0].piece()]
	out := piece{from: first.from, layer: first.layer}
	size := 1
	for _, d := range walk {
		size += len(t.pieces[d.piece()].verts) - 1
	}
	out.verts = make([]vertex, 0, size)
	for _, d := range walk {
		vs := t.pieces[d.piece()].verts
		if d.end() == 1 {
			vs = reversedPath(vs)
		}
		start := len(out.verts)
		out.verts = append(out.verts, vs[:len(vs)-1]...)
		out.verts[start].P = t.nodes[t.from(d)].p
	}
	end := t.nodes[t.to(walk[len(walk)-1])].p
	out.verts = append(out.verts, vertex{P: end})
	return out
}

// closedVerts drops the last vertex of a chain that ends where it begins.
func (p piece) closedVerts() []vertex { return p.verts[:len(p.verts)-1] }

func reversedPath(vs []vertex) []vertex { return geom.Path(vs).Reverse() }
