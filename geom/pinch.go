package geom

import "github.com/paulmach/orb"

// Whether a polygon's boundary touches itself, found out when first needed.
const (
	pinchUnknown int32 = iota
	pinchNone
	pinchSome
)

// pinched reports whether the boundary touches itself: at such points a vertex's
// own two edges do not bound the region alone.
func (ix *Index) pinched() bool {
	state := ix.pinch.Load()
	if state == pinchUnknown {
		state = pinchNone
		for v := range ix.pts {
			if ix.touchesItself(int32(v)) {
				state = pinchSome
				break
			}
		}
		ix.pinch.Store(state) // whoever else computes it stores the same
	}
	return state == pinchSome
}

// touchesItself reports whether vertex v lies on an edge that is not its own.
func (ix *Index) touchesItself(v int32) bool {
	p := ix.pts[v]
	for _, e := range ix.inRow(ix.row(p[1])) {
		if e != v && e != ix.prev[v] && OnSegment(p, ix.pts[e], ix.pts[ix.next[e]]) {
			return true
		}
	}
	return false
}

// insideSector is the part of the polygon's inside, seen from the boundary
// point x, that starts at the edge towards out; in is that vertex's own incoming
// edge. The sector ends at the incoming edge met first when turning
// counter-clockwise.
func (ix *Index) insideSector(x, out, in orb.Point) wedge {
	w := wedge{x, out, in}
	if ix.pinched() {
		ix.narrow(&w, false)
	}
	return w
}

// outsideSector is likewise the part of the outside that starts at the edge
// from in, and ends at an outgoing edge.
func (ix *Index) outsideSector(x, out, in orb.Point) wedge {
	w := wedge{x, in, out}
	if ix.pinched() {
		ix.narrow(&w, true)
	}
	return w
}

// narrow ends a sector at the first edge of the right direction that meets its
// point.
func (ix *Index) narrow(w *wedge, outgoing bool) {
	for _, e := range ix.inRow(ix.row(w.x[1])) {
		start, end := ix.pts[e], ix.pts[ix.next[e]]
		if outgoing {
			start, end = end, start
		}
		if start == w.x || !OnSegment(w.x, start, end) {
			continue
		}
		along := Orient(w.x, w.from, start) == 0 && sameDirection(w.x, w.from, start)
		if !along && w.holds(start) {
			w.to = start
		}
	}
}
