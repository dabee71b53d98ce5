package nest

import "math"

// clipper brings fronts up to date. It holds the scratch space of one goroutine.
//
// One step of a front: the new no-fit polygon takes away what of the front lies
// inside it, and adds those parts of its own border that lie in the free space.
// Its border can only pass between free and blocked where it meets the front,
// so the border is cut there, and one test per run between cuts tells which
// runs are free.
type clipper struct {
	cuts  []float64 // along the seg being clipped, mm from its start
	heads []int32   // per edge of the no-fit polygon, first of its marks
	marks []mark    // where the front meets the no-fit polygon's edges
	added []seg
	run   []seg
	split bool  // cut what is kept wherever it meets a border, also where it goes on
	work  int64 // about the number of edge pairs looked at, or as much
}

// mark is a cut of a no-fit polygon's edge; marks of an edge form a list in
// order of u.
type mark struct {
	u    float64
	next int32
}

// step takes the next placed shape into account. inner tells whether a point
// lies on the ground.
func (c *clipper) step(f *front, p placedNo, in *inner) {
	at := len(f.steps)
	f.near = append(f.near, p)
	st := frontStep{goneLen: len(f.gone)}
	c.reset(p.no)
	kept := f.segs[:0]
	loX, hiX, loY, hiY := p.loX-slack, p.hiX+slack, p.loY-slack, p.hiY+slack
	for i := range f.segs {
		s := &f.segs[i]
		if !s.off(loX, hiX, loY, hiY) && c.clip(*s, &p) {
			if !f.final {
				f.gone = append(f.gone, goneSeg{at: i, seg: *s})
			}
		} else {
			kept = append(kept, *s)
		}
	}
	st.kept = len(kept)
	c.border(f, &p, at, in)
	c.work += stepWork + int64(len(f.segs)+len(p.no.edges))
	f.segs = append(kept, c.added...)
	f.steps = append(f.steps, st)
}

func (c *clipper) reset(no *nofit) {
	n := len(no.edges)
	if cap(c.heads) < n {
		c.heads = make([]int32, n)
	}
	c.heads = c.heads[:n]
	for i := range c.heads {
		c.heads[i] = -1
	}
	c.marks = c.marks[:0]
	c.added = c.added[:0]
}

// mark cuts edge e at u millimetres from its start.
func (c *clipper) mark(e int, u float64) {
	at := &c.heads[e]
	for *at >= 0 && c.marks[*at].u < u {
		at = &c.marks[*at].next
	}
	if *at >= 0 && c.marks[*at].u-u <= contactTolerance {
		return
	}
	next := *at
	*at = int32(len(c.marks)) // before append: at may point into marks
	c.marks = append(c.marks, mark{u: u, next: next})
}

// clip takes from a seg near p what lies inside it. It tells whether the seg changed;
// what is left of a changed seg is in c.added.
func (c *clipper) clip(s seg, p *placedNo) bool {
	length := s.length()
	if length <= contactTolerance {
		return p.no.blocks(s.ax-p.x, s.ay-p.y)
	}
	c.meet(s, length, p)
	return c.keepPieces(s, length, p)
}

// stepWork is the part of a step's work that does not depend on how much there
// is to look at, in edge pairs.
const stepWork = 40

// slack is how far outside a no-fit polygon's inner extent its border and the
// contacts with it may lie.
const slack = 4 * contactTolerance

// meet finds where the seg meets the border: cuts along the seg, marks along
// the border. Both are generous: a superfluous cut only costs time.
func (c *clipper) meet(s seg, length float64, p *placedNo) {
	c.cuts = c.cuts[:0]
	px, py := s.ax-p.x, s.ay-p.y
	qx, qy := s.bx-p.x, s.by-p.y
	loX, hiX := min(px, qx), max(px, qx)
	loY, hiY := min(py, qy), max(py, qy)
	ux, uy := (qx-px)/length, (qy-py)/length
	c.work += int64(len(p.no.edges))
	for k := range p.no.spans {
		if g := &p.no.spans[k]; g.hiX < loX || g.loX > hiX || g.hiY < loY || g.loY > hiY {
			continue
		}
		for i := k * spanEdges; i < min((k+1)*spanEdges, len(p.no.edges)); i++ {
			e := &p.no.edges[i]
			if e.hiX < loX || e.loX > hiX || e.hiY < loY || e.loY > hiY {
				continue
			}
			c.meetEdge(i, e, e.ax-px, e.ay-py, ux, uy, length)
		}
	}
}

// meetEdge finds where a seg of unit direction (ux, uy) meets an edge that starts
// at (rx, ry) from the seg's start.
func (c *clipper) meetEdge(i int, e *edge, rx, ry, ux, uy, length float64) {
	// Distances of the edge's ends from the seg's line, to its left.
	d0 := ux*ry - uy*rx
	turn := ux*e.uy - uy*e.ux
	d1 := d0 + turn*e.length
	if d0 > contactTolerance && d1 > contactTolerance || d0 < -contactTolerance && d1 < -contactTolerance {
		return
	}
	if math.Abs(d0) <= contactTolerance && math.Abs(d1) <= contactTolerance {
		c.meetAlong(i, e, rx, ry, ux, uy, length)
		return
	}
	u := d0 / (d0 - d1) * e.length
	u = min(max(u, 0), e.length)
	t := ux*(rx+e.ux*u) + uy*(ry+e.uy*u)
	if t < -contactTolerance || t > length+contactTolerance {
		return
	}
	c.cut(min(max(t, 0), length))
	c.mark(i, u)
}

// meetAlong cuts where a seg and an edge on one line begin and end to overlap.
func (c *clipper) meetAlong(i int, e *edge, rx, ry, ux, uy, length float64) {
	t0 := ux*rx + uy*ry
	along := ux*e.ux + uy*e.uy // ±1, or 0 for a dot
	t1 := t0 + along*e.length
	for _, t := range [2]float64{t0, t1} {
		if t >= -contactTolerance && t <= length+contactTolerance {
			c.cut(min(max(t, 0), length))
		}
	}
	for _, t := range [2]float64{0, length} {
		u := (t - t0) * along
		if u >= -contactTolerance && u <= e.length+contactTolerance {
			c.mark(i, min(max(u, 0), e.length))
		}
	}
	for _, t := range [2]float64{t0, t1} {
		if t >= -contactTolerance && t <= length+contactTolerance {
			u := (t - t0) * along
			c.mark(i, min(max(u, 0), e.length))
		}
	}
}

// cut inserts a place into the sorted cuts of the seg.
func (c *clipper) cut(t float64) {
	c.cuts = append(c.cuts, t)
	for i := len(c.cuts) - 1; i > 0 && c.cuts[i-1] > t; i-- {
		c.cuts[i], c.cuts[i-1] = c.cuts[i-1], t
	}
}

// keepPieces tests the pieces of a seg between its cuts and adds those outside
// p, neighbours joined, and the cuts that stand alone: they lie on the border,
// so they are legal even when both sides are not.
func (c *clipper) keepPieces(s seg, length float64, p *placedNo) bool {
	ux, uy := (s.bx-s.ax)/length, (s.by-s.ay)/length
	start := len(c.added)
	open := -1.0 // start of the kept piece being joined, or negative
	lo := 0.0
	alone := -1.0 // a cut with nothing kept on its left
	dropped := false
	for k := 0; k <= len(c.cuts); k++ {
		hi := length
		if k < len(c.cuts) {
			hi = c.cuts[k]
		}
		if hi-lo > contactTolerance {
			mid := (lo + hi) / 2
			if p.no.blocks(s.ax+ux*mid-p.x, s.ay+uy*mid-p.y) {
				dropped = true
				if open >= 0 {
					c.addPiece(s, open, lo, length, ux, uy)
				} else if alone >= 0 {
					c.addPiece(s, alone, alone, length, ux, uy)
				}
				open, alone = -1, -1
			} else {
				if open >= 0 && c.split {
					c.addPiece(s, open, lo, length, ux, uy)
					open, dropped = lo, true
				}
				if open < 0 {
					open = lo
				}
				alone = -1
			}
			lo = hi
		}
		if k < len(c.cuts) && open < 0 {
			alone = hi
		}
	}
	if !dropped {
		c.added = c.added[:start]
		return false
	}
	if open >= 0 {
		c.addPiece(s, open, length, length, ux, uy)
	} else if alone >= 0 {
		c.addPiece(s, alone, alone, length, ux, uy)
	}
	return true
}

func (c *clipper) addPiece(s seg, lo, hi, length, ux, uy float64) {
	q := seg{s.ax + ux*lo, s.ay + uy*lo, s.ax + ux*hi, s.ay + uy*hi}
	if lo == 0 {
		q.ax, q.ay = s.ax, s.ay
	}
	if hi == length {
		q.bx, q.by = s.bx, s.by
	}
	if hi == lo {
		q.bx, q.by = q.ax, q.ay
	}
	c.added = append(c.added, q)
}

// border adds the runs of p's own border that lie in the free space.
func (c *clipper) border(f *front, p *placedNo, before int, in *inner) {
	for l := 0; l+1 < len(p.no.loops); l++ {
		c.loop(f, p, p.no.loops[l], p.no.loops[l+1], before, in)
	}
	for e := p.no.winding; e < len(p.no.edges); e++ {
		c.chain(f, p, e, e, e+1, before, in)
	}
}

// loop walks a closed loop from its first cut round to it again.
func (c *clipper) loop(f *front, p *placedNo, lo, hi, before int, in *inner) {
	first := lo
	for first < hi && c.heads[first] < 0 {
		first++
	}
	if first == hi {
		first = lo
	}
	c.chain(f, p, first, lo, hi, before, in)
}

// chain walks the edges [lo, hi) starting in the middle of edge first, at its
// first cut if it has one, and deals with every run between cuts.
func (c *clipper) chain(f *front, p *placedNo, first, lo, hi, before int, in *inner) {
	c.run = c.run[:0]
	no := p.no
	tail := 0.0 // how much of the first edge is left for the end
	if hi-lo > 1 && c.heads[first] >= 0 {
		tail = c.marks[c.heads[first]].u
	}
	for k := 0; k < hi-lo; k++ {
		i := first + k
		if i >= hi {
			i -= hi - lo
		}
		e := &no.edges[i]
		from := 0.0
		if k == 0 {
			from = tail
		}
		for m := c.heads[i]; m >= 0; m = c.marks[m].next {
			u := c.marks[m].u
			c.extend(e, p, from, u)
			c.close(f, before, in)
			from = max(u, from)
		}
		c.extend(e, p, from, e.length)
		if e.length == 0 { // a dot
			c.run = append(c.run, seg{e.ax + p.x, e.ay + p.y, e.ax + p.x, e.ay + p.y})
		}
	}
	c.extend(&no.edges[first], p, 0, tail)
	c.close(f, before, in)
}

// extend adds a stretch of an edge to the run.
func (c *clipper) extend(e *edge, p *placedNo, from, to float64) {
	if to-from <= contactTolerance {
		return
	}
	x, y := p.x+e.ax, p.y+e.ay
	c.run = append(c.run, seg{x + e.ux*from, y + e.uy*from, x + e.ux*to, y + e.uy*to})
}

// close ends a run: one test in the middle of its longest stretch decides it.
func (c *clipper) close(f *front, before int, in *inner) {
	if len(c.run) == 0 {
		return
	}
	best, longest := 0, -1.0
	for i, s := range c.run {
		if l := math.Abs(s.bx-s.ax) + math.Abs(s.by-s.ay); l > longest {
			best, longest = i, l
		}
	}
	s := c.run[best]
	x, y := (s.ax+s.bx)/2, (s.ay+s.by)/2
	c.work += int64(len(c.run) + before)
	if in.holds(x, y) && f.free(x, y, before) {
		c.added = append(c.added, c.run...)
	}
	c.run = c.run[:0]
}
