package nest

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A sepPin is a disc inside a part; a corner is a disc of radius 0. A pin held
// against another part's field tells how deep the two run into each other at
// least: its radius plus its centre's depth.
type sepPin struct{ x, y, r float64 }

// A sepBody is a part as pairs without a table see it.
type sepBody struct {
	field  *sepField
	pins   []sepPin // largest discs first, then corners
	radius float64  // of the disc about the reference point that holds the part
	edges  []sepEdge
	tree   []sepNode // bounding discs over edges; tree[0] is the root
}

// A sepEdge is one edge of the outline.
type sepEdge struct{ ax, ay, bx, by float64 }

// A sepNode bounds a run of edges; a leaf has one.
type sepNode struct {
	x, y, r     float64
	left, right int32 // children, or −1
	edge        int32
}

const (
	sepDiscs    = 14   // discs per body at most
	sepCoverage = 0.92 // share of the area at which discs suffice
	sepCorners  = 16   // hull corners that are pins too
)

func sepNewBody(outline orb.Polygon, pieces []orb.Ring, hull orb.Ring, gap float64) *sepBody {
	b := &sepBody{field: sepNewField(outline, pieces, gap)}
	for _, d := range geom.DiscCover(outline, sepDiscs, sepCoverage) {
		b.pins = append(b.pins, sepPin{d.Center[0], d.Center[1], d.Radius})
	}
	every := (len(hull) + sepCorners - 1) / sepCorners
	for i := 0; i < len(hull); i += every {
		b.pins = append(b.pins, sepPin{hull[i][0], hull[i][1], 0})
	}
	for _, p := range hull {
		b.radius = max(b.radius, math.Hypot(p[0], p[1]))
	}
	for _, ring := range outline {
		from := len(b.edges)
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			b.edges = append(b.edges, sepEdge{p[0], p[1], q[0], q[1]})
		}
		b.grow(from, len(b.edges))
	}
	b.join()
	return b
}

// grow builds the tree over edges from lo to hi and returns its node.
func (b *sepBody) grow(lo, hi int) int32 {
	if hi-lo == 1 {
		e := b.edges[lo]
		return b.node(sepNode{
			x: (e.ax + e.bx) / 2, y: (e.ay + e.by) / 2,
			r: math.Hypot(e.bx-e.ax, e.by-e.ay) / 2, left: -1, right: -1, edge: int32(lo),
		})
	}
	mid := (lo + hi) / 2
	return b.pair(b.grow(lo, mid), b.grow(mid, hi))
}

func (b *sepBody) node(n sepNode) int32 {
	b.tree = append(b.tree, n)
	return int32(len(b.tree) - 1)
}

// pair bounds two nodes by the smallest disc that holds both their discs.
func (b *sepBody) pair(l, r int32) int32 {
	p, q := b.tree[l], b.tree[r]
	d := math.Hypot(q.x-p.x, q.y-p.y)
	switch {
	case d+q.r <= p.r:
		return b.node(sepNode{x: p.x, y: p.y, r: p.r, left: l, right: r})
	case d+p.r <= q.r:
		return b.node(sepNode{x: q.x, y: q.y, r: q.r, left: l, right: r})
	}
	rad := (d + p.r + q.r) / 2
	t := (rad - p.r) / d
	return b.node(sepNode{x: p.x + (q.x-p.x)*t, y: p.y + (q.y-p.y)*t, r: rad * (1 + 1e-12), left: l, right: r})
}

// join makes one tree of the rings' trees, the root last.
func (b *sepBody) join() {
	roots := b.roots()
	for len(roots) > 1 {
		b.pair(roots[0], roots[1])
		roots = append(roots[2:], int32(len(b.tree)-1))
	}
}

// roots lists nodes that are no node's child.
func (b *sepBody) roots() []int32 {
	child := make([]bool, len(b.tree))
	for _, n := range b.tree {
		if n.left >= 0 {
			child[n.left], child[n.right] = true, true
		}
	}
	var out []int32
	for i := range b.tree {
		if !child[i] {
			out = append(out, int32(i))
		}
	}
	return out
}

// A sepLink places a moving body in a standing body's frame: turn by m, then
// move by (x, y).
type sepLink struct {
	m    sepMatrix
	x, y float64
}

// back is the inverse link.
func (k sepLink) back() sepLink {
	inv := k.m.inverse()
	x, y := inv.apply(-k.x, -k.y)
	return sepLink{inv, x, y}
}

func (k sepLink) apply(x, y float64) (float64, float64) {
	u, v := k.m.apply(x, y)
	return u + k.x, v + k.y
}

// sepPinned is how deep two bodies run into each other, by their pins; where
// the pins are all clear it is 0, and their edges must be asked. A pin that
// interpolation cannot tell from touching is measured exactly.
func sepPinned(a, b *sepBody, k sepLink, gap float64) float64 {
	reach := a.radius + b.radius + gap
	if k.x*k.x+k.y*k.y >= reach*reach {
		return 0
	}
	d, _ := a.pierced(b, k, gap)
	e, _ := b.pierced(a, k.back(), gap)
	return max(d, e)
}

// sepExit is how deep b runs into a by its pins or its edges, and the unit
// direction, in a's frame, in which it is less; none where only edges tell.
func sepExit(a, b *sepBody, k sepLink, gap float64) (d, ux, uy float64) {
	reach := a.radius + b.radius + gap
	if k.x*k.x+k.y*k.y >= reach*reach {
		return 0, 0, 0
	}
	back := k.back()
	d, i := a.pierced(b, k, gap)
	e, j := b.pierced(a, back, gap)
	switch {
	case d <= sepTouch && e <= sepTouch:
		return sepClash(a, b, k, gap), 0, 0
	case d >= e:
		ux, uy = a.field.slope(k.apply(b.pins[i].x, b.pins[i].y))
		return d, -ux, -uy
	}
	ux, uy = b.field.slope(back.apply(a.pins[j].x, a.pins[j].y))
	ux, uy = k.m.apply(ux, uy)
	return e, ux, uy
}

// pierced is the depth of b's pins in a, and which pin is deepest.
func (a *sepBody) pierced(b *sepBody, k sepLink, gap float64) (deepest float64, pin int) {
	f := a.field
	for i := range b.pins {
		p := &b.pins[i]
		x, y := k.apply(p.x, p.y)
		d := f.about(x, y) + p.r + gap
		if d <= deepest-f.blur || d < -f.blur {
			continue
		}
		if d < 2*f.blur {
			d = f.exact(x, y) + p.r + gap
		}
		if d > deepest {
			deepest, pin = d, i
		}
	}
	return deepest, pin
}

// sepClash is how deep the edges of two bodies run into each other or into the
// gap between them: exactly, by every edge that comes near the other body.
func sepClash(a, b *sepBody, k sepLink, gap float64) float64 {
	reach := a.radius + b.radius + gap
	if k.x*k.x+k.y*k.y >= reach*reach {
		return 0
	}
	root := int32(len(b.tree) - 1)
	back := int32(len(a.tree) - 1)
	return max(a.clash(b, k, gap, root), b.clash(a, k.back(), gap, back))
}

// clash measures b's edges below a node against a.
func (a *sepBody) clash(b *sepBody, k sepLink, gap float64, at int32) float64 {
	n := &b.tree[at]
	x, y := k.apply(n.x, n.y)
	if a.most(x, y)+gap+n.r <= 0 {
		return 0
	}
	if n.left >= 0 {
		return max(a.clash(b, k, gap, n.left), a.clash(b, k, gap, n.right))
	}
	return a.clashEdge(b, k, gap, n.edge)
}

// most is an upper bound of the signed distance to a.
func (a *sepBody) most(x, y float64) float64 {
	if d := a.field.about(x, y); d > math.Inf(-1) {
		return d + a.field.blur
	}
	return a.radius - math.Hypot(x, y)
}

// clashEdge measures one edge of b against a: its start's depth, and what it
// crosses.
func (a *sepBody) clashEdge(b *sepBody, k sepLink, gap float64, edge int32) float64 {
	e := b.edges[edge]
	px, py := k.apply(e.ax, e.ay)
	qx, qy := k.apply(e.bx, e.by)
	deepest := max(0, a.field.exact(px, py)+gap, a.field.crossed(px, py, qx, qy))
	if gap > 0 || deepest > sepTouch {
		return deepest // with a gap, an edge that ends on the outline is too near there
	}
	return max(deepest, a.field.through(px, py, qx, qy))
}

// crossed is how deep the segment runs across edges of the outline.
func (f *sepField) crossed(px, py, qx, qy float64) float64 {
	s, ok := sepSegment(orb.Point{px, py}, orb.Point{qx, qy})
	if !ok {
		return 0
	}
	deepest := 0.0
	f.along(&s, func(e *sepSeg) { deepest = max(deepest, sepCrossing(&s, e)) })
	return deepest
}

// through is how deep the segment runs through the outline where both its ends
// lie on it and it crosses no edge: as the side of a square does that is pushed
// a little into an equal one beside it. The outline cuts the segment into
// stretches, each inside or outside as its middle is.
func (f *sepField) through(px, py, qx, qy float64) float64 {
	s, ok := sepSegment(orb.Point{px, py}, orb.Point{qx, qy})
	if !ok {
		return 0
	}
	var room [16]float64
	cuts := append(room[:0], 0, s.length)
	f.along(&s, func(e *sepSeg) { cuts = s.cutBy(e, cuts) })
	slices.Sort(cuts)
	deepest := 0.0
	for i, to := range cuts[1:] {
		if from := cuts[i]; to-from > 2*sepTouch {
			mid := (from + to) / 2
			deepest = max(deepest, f.exact(s.ax+s.ux*mid, s.ay+s.uy*mid))
		}
	}
	return deepest
}

// along calls back for the edges in whose cells the segment lies, some more than
// once. An edge that the segment meets is nearest to the meeting point, so the
// list of that point's cell knows it.
func (f *sepField) along(s *sepSeg, visit func(e *sepSeg)) {
	qx := s.ax + s.ux*s.length
	lo := max(0, int(math.Floor((min(s.ax, qx)-f.x0)*f.per)))
	hi := min(f.nx-1, int(math.Floor((max(s.ax, qx)-f.x0)*f.per)))
	for i := lo; i <= hi; i++ {
		y0, y1 := s.within(f.x0+float64(i)/f.per, f.x0+float64(i+1)/f.per)
		j1 := min(f.ny-1, int(math.Floor((y1-f.y0)*f.per)))
		for j := max(0, int(math.Floor((y0-f.y0)*f.per))); j <= j1; j++ {
			c := j*f.nx + i
			for _, id := range f.near[f.start[c]:f.start[c+1]] {
				visit(&f.segs[id])
			}
		}
	}
}

// cutBy appends where, along the segment, an edge meets it: at a point, or from
// where to where along one another.
func (s *sepSeg) cutBy(e *sepSeg, cuts []float64) []float64 {
	add := func(t float64) {
		if t > 0 && t < s.length {
			cuts = append(cuts, t)
		}
	}
	for _, end := range [2]float64{0, e.length} {
		dx, dy := e.ax+e.ux*end-s.ax, e.ay+e.uy*end-s.ay
		if math.Abs(s.ux*dy-s.uy*dx) <= sepTouch {
			add(s.ux*dx + s.uy*dy)
		}
	}
	det := s.ux*e.uy - s.uy*e.ux
	if math.Abs(det) < sepParallel {
		return cuts
	}
	dx, dy := e.ax-s.ax, e.ay-s.ay
	if u := (dx*s.uy - dy*s.ux) / det; u >= -sepTouch && u <= e.length+sepTouch {
		add((dx*e.uy - dy*e.ux) / det)
	}
	return cuts
}

// within is the range of y of the segment between two columns.
func (s *sepSeg) within(x0, x1 float64) (y0, y1 float64) {
	t0, t1 := 0.0, s.length
	if s.ux != 0 {
		a, b := (x0-s.ax)/s.ux, (x1-s.ax)/s.ux
		t0, t1 = max(t0, min(a, b)), min(t1, max(a, b))
	}
	ya, yb := s.ay+s.uy*t0, s.ay+s.uy*t1
	return min(ya, yb), max(ya, yb)
}

// sepCrossing is how deep two segments cross, 0 when they do not.
func sepCrossing(s, e *sepSeg) float64 {
	det := s.ux*e.uy - s.uy*e.ux
	if math.Abs(det) < sepParallel {
		return 0
	}
	dx, dy := e.ax-s.ax, e.ay-s.ay
	t := (dx*e.uy - dy*e.ux) / det
	u := (dx*s.uy - dy*s.ux) / det
	sin := math.Abs(det)
	depth := min(t, s.length-t, u, e.length-u) * sin
	return max(0, depth)
}
