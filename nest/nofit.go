package nest

import (
	"math"

	"kerfold/geom"
)

// contactTolerance is how deep, in millimetres, a reference point may lie inside
// a no-fit polygon and still count as touching: half of what the house allows
// outlines that are meant to touch, so that the rounding of the pose to the grid
// that follows stays within the whole.
const contactTolerance = geom.TouchTolerance / 2

// An edge is one side of a no-fit polygon with what its tests need.
type edge struct {
	loX, hiX, loY, hiY float64 // extent, widened by contactTolerance
	ax, ay             float64
	ux, uy             float64 // unit direction; zero for a dot
	length             float64
	by                 float64 // ay + uy·length without its rounding
}

// A nofit is a no-fit polygon laid out for scanning: where the corner of the
// moving shape may not lie, relative to the corner of the fixed one, is the
// inside of its loops. Loops are runs of edges, each starting where the one
// before ended; after the loops come slits and dots, where contact is legal
// inside.
type nofit struct {
	edges   []edge
	spans   []span // of every spanEdges edges in a row
	loops   []int  // first edge of each loop, then the end of the last loop
	winding int    // the edges before it enclose; the rest are slits and dots
	loX     float64
	hiX     float64
	loY     float64
	hiY     float64
}

// A span is the extent of some edges in a row, so that all of them can be passed
// over at once.
type span struct {
	loX, hiX, loY, hiY float64
}

// spanEdges is how many edges a span covers.
const spanEdges = 16

// group works the spans out.
func (n *nofit) group() {
	n.spans = make([]span, 0, (len(n.edges)+spanEdges-1)/spanEdges)
	for from := 0; from < len(n.edges); from += spanEdges {
		e := &n.edges[from]
		s := span{e.loX, e.hiX, e.loY, e.hiY}
		for _, e := range n.edges[from:min(from+spanEdges, len(n.edges))] {
			s.loX, s.hiX = min(s.loX, e.loX), max(s.hiX, e.hiX)
			s.loY, s.hiY = min(s.loY, e.loY), max(s.hiY, e.hiY)
		}
		n.spans = append(n.spans, s)
	}
}

// newNofit lays out a region.
func newNofit(r geom.Region) *nofit {
	n := &nofit{loX: math.Inf(1), loY: math.Inf(1), hiX: math.Inf(-1), hiY: math.Inf(-1)}
	for _, ring := range r.Rings {
		if len(ring) < 3 {
			continue
		}
		n.loops = append(n.loops, len(n.edges))
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			n.add(p[0], p[1], q[0], q[1])
		}
	}
	n.winding = len(n.edges)
	n.loops = append(n.loops, n.winding)
	for _, e := range n.edges {
		n.loX, n.hiX = min(n.loX, e.loX), max(n.hiX, e.hiX)
		n.loY, n.hiY = min(n.loY, e.loY), max(n.hiY, e.hiY)
	}
	// Inside starts a contact tolerance within the hull; the edges' extents
	// were widened by one.
	n.loX, n.hiX = n.loX+2*contactTolerance, n.hiX-2*contactTolerance
	n.loY, n.hiY = n.loY+2*contactTolerance, n.hiY-2*contactTolerance
	for _, s := range r.Segments {
		n.add(s[0][0], s[0][1], s[1][0], s[1][1])
	}
	for _, d := range r.Points {
		n.add(d[0], d[1], d[0], d[1])
	}
	n.group()
	return n
}

func (n *nofit) add(ax, ay, bx, by float64) {
	const c = contactTolerance
	e := edge{
		loX: min(ax, bx) - c, hiX: max(ax, bx) + c, loY: min(ay, by) - c, hiY: max(ay, by) + c,
		ax: ax, ay: ay, by: by, length: math.Hypot(bx-ax, by-ay),
	}
	if e.length > 0 {
		e.ux, e.uy = (bx-ax)/e.length, (by-ay)/e.length
	}
	n.edges = append(n.edges, e)
}

// blocks tells whether a point lies inside deeper than contactTolerance.
func (n *nofit) blocks(x, y float64) bool {
	if x <= n.loX || x >= n.hiX || y <= n.loY || y >= n.hiY {
		return false
	}
	inside := false
	for k := range n.spans {
		if s := &n.spans[k]; y < s.loY || y > s.hiY {
			continue
		}
		from := k * spanEdges
		edges := n.edges[from:min(from+spanEdges, len(n.edges))]
		for i := range edges {
			e := &edges[i]
			if y < e.loY || y > e.hiY {
				continue
			}
			side := e.ux*(y-e.ay) - e.uy*(x-e.ax)
			if side <= contactTolerance && side >= -contactTolerance && x >= e.loX && x <= e.hiX {
				return false
			}
			if (e.ay > y) != (e.by > y) && from+i < n.winding && (side > 0) == (e.by > e.ay) {
				inside = !inside
			}
		}
	}
	return inside
}
