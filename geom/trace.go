package geom

import (
	"slices"

	"github.com/paulmach/orb"
)

// A tracer links the stretches that bound a region into rings with the region
// on their left. Rings touch themselves nowhere; they may touch each other at
// vertices.
type tracer struct {
	start  []int32 // sides leaving vertex v: out[start[v]:start[v+1]]
	out    []side
	cursor []int32
	placed []int32 // position of a vertex in the open chain, plus one
	chain  []side
}

// A side is a bounding stretch, run with the region on its left.
type side struct {
	stretch  int32
	from, to int32
	used     bool
}

// A loop is a ring with the stretches it came from.
type loop struct {
	ring     orb.Ring
	stretchs []int32
}

// run returns the rings around the region that inside tells of, given a
// stretch's winding numbers on one side of it.
func (t *tracer) run(n *noder, inside func(w [2]int32) bool) []loop {
	t.collect(n, inside)
	t.placed = zeroed(t.placed, len(n.verts))
	var loops []loop
	for i := range t.out {
		if !t.out[i].used {
			loops = t.follow(n, int32(i), loops)
		}
	}
	return loops
}

// bounds reports whether exactly one side of the stretch is in the region.
func bounds(s *stretch, inside func(w [2]int32) bool) bool {
	return inside(s.below) != inside([2]int32{s.above(0), s.above(1)})
}

// collect files the bounding stretches by the vertex they leave.
func (t *tracer) collect(n *noder, inside func(w [2]int32) bool) {
	t.start = zeroed(t.start, len(n.verts)+1)
	t.chain = t.chain[:0] // serves as a list until the sides are filed
	for i := range n.stretches {
		s := &n.stretches[i]
		if !bounds(s, inside) {
			continue
		}
		d := side{stretch: int32(i), from: s.from, to: s.to}
		if inside(s.below) {
			d.from, d.to = s.to, s.from
		}
		t.chain = append(t.chain, d)
		t.start[d.from+1]++
	}
	for v := range n.verts {
		t.start[v+1] += t.start[v]
	}
	t.cursor = append(t.cursor[:0], t.start...)
	t.out = append(t.out[:0], t.chain...)
	for _, d := range t.chain {
		t.out[t.cursor[d.from]] = d
		t.cursor[d.from]++
	}
}

// follow walks along one boundary from a side and cuts off a ring whenever it
// comes back to a vertex of the walk.
func (t *tracer) follow(n *noder, first int32, loops []loop) []loop {
	t.chain = t.chain[:0]
	for i := first; i >= 0; {
		d := &t.out[i]
		d.used = true
		t.placed[d.from] = int32(len(t.chain)) + 1
		t.chain = append(t.chain, *d)
		if at := t.placed[d.to]; at > 0 {
			loops = append(loops, t.cut(n, int(at-1)))
			if len(t.chain) == 0 {
				break
			}
		}
		i = t.next(n, d)
	}
	for _, d := range t.chain { // an open rest, which sound input does not leave
		t.placed[d.from] = 0
	}
	return loops
}

// cut takes the ring from position at on off the chain.
func (t *tracer) cut(n *noder, at int) loop {
	var l loop
	for _, d := range t.chain[at:] {
		l.ring = append(l.ring, n.verts[d.from])
		l.stretchs = append(l.stretchs, d.stretch)
		t.placed[d.from] = 0
	}
	t.chain = t.chain[:at]
	return l
}

// next is the first unused side that leaves d's end, turning clockwise from
// where d came from; −1 where there is none.
func (t *tracer) next(n *noder, d *side) int32 {
	best := int32(-1)
	for i := t.start[d.to]; i < t.start[d.to+1]; i++ {
		if t.out[i].used {
			continue
		}
		if best < 0 || t.earlier(n, d, &t.out[i], &t.out[best]) {
			best = i
		}
	}
	return best
}

// earlier reports whether side a comes before side b when turning clockwise
// from the direction back along d.
func (t *tracer) earlier(n *noder, d, a, b *side) bool {
	return firstClockwise(n.verts[d.to], n.verts[d.from], n.verts[a.to], n.verts[b.to])
}

// straighten removes vertices that lie exactly on the line between their
// neighbours, and starts the ring at its least vertex.
func straighten(r orb.Ring) orb.Ring {
	kept := make(orb.Ring, 0, len(r))
	for i, p := range r {
		prev, next := r[(i+len(r)-1)%len(r)], r[(i+1)%len(r)]
		if len(kept) > 0 {
			prev = kept[len(kept)-1]
		}
		if Orient(prev, p, next) != 0 {
			kept = append(kept, p)
		}
	}
	return startAtLeast(kept)
}

// startAtLeast turns the ring's list in place so that its least point (by x,
// then y) comes first.
func startAtLeast(r orb.Ring) orb.Ring {
	least := 0
	for i, p := range r {
		if comparePoints(p, r[least]) < 0 {
			least = i
		}
	}
	if least > 0 {
		r = slices.Concat(r[least:], r[:least])
	}
	return r
}
