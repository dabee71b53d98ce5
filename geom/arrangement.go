package geom

import (
	"sync"

	"github.com/paulmach/orb"
)

// An arrangement is the machinery of overlays with its buffers: noding,
// winding numbers, rings. It is used by one goroutine at a time.
type arrangement struct {
	noder
	sweeper
	tracer
}

// arrangements keeps used machinery for reuse; it holds no results.
var arrangements = sync.Pool{New: func() any { return new(arrangement) }}

func borrowArrangement(tally bool) *arrangement {
	ar := arrangements.Get().(*arrangement)
	ar.noder.reset(tally)
	return ar
}

func (ar *arrangement) release() { arrangements.Put(ar) }

// maxNodings bounds how often an arrangement is noded anew. Once is enough by
// the proof; the others are for coordinates too large for exact differences.
const maxNodings = 4

// maxOverlayCoordinate is the largest coordinate an overlay takes, in mm; what
// lies farther out is pulled in to it. Differences of grid points within it are
// exact: 2·2^31·2^20 < 2^53.
const maxOverlayCoordinate = 1 << 31

// addRing adds a ring's edges to a layer.
func (ar *arrangement) addRing(r orb.Ring, layer int) {
	for i, p := range r {
		j := i + 1
		if j == len(r) {
			j = 0
		}
		ar.noder.add(p, r[j], layer)
	}
}

// addPolygon adds a polygon in normal form, on the grid, to a layer.
func (ar *arrangement) addPolygon(p orb.Polygon, layer int) {
	for _, r := range NormalPolygon(SnapPolygon(pullIn(p))) {
		ar.addRing(r, layer)
	}
}

// pullIn clamps coordinates to what an overlay takes. It copies only where it
// must.
func pullIn(p orb.Polygon) orb.Polygon {
	if !farOut(p) {
		return p
	}
	q := make(orb.Polygon, len(p))
	for i, r := range p {
		for _, v := range r {
			q[i] = append(q[i], orb.Point{clampCoordinate(v[0]), clampCoordinate(v[1])})
		}
	}
	return q
}

func farOut(p orb.Polygon) bool {
	for _, r := range p {
		for _, v := range r {
			if v[0] != clampCoordinate(v[0]) || v[1] != clampCoordinate(v[1]) {
				return true
			}
		}
	}
	return false
}

func clampCoordinate(x float64) float64 {
	if x != x {
		return 0
	}
	return min(max(x, -maxOverlayCoordinate), maxOverlayCoordinate)
}

// arrange nodes the flows and finds the winding numbers. keep, where given,
// selects the stretches whose lower neighbours are noted.
func (ar *arrangement) arrange(keep func(*stretch) bool) {
	ar.noder.run()
	for k := 1; !ar.sweeper.run(&ar.noder, keep) && k < maxNodings; k++ {
		ar.noder.flowsFromStretches()
		ar.noder.run()
	}
}

// flowsFromStretches starts a further noding from the last one's outcome.
func (n *noder) flowsFromStretches() {
	n.flows = n.flows[:0]
	for i := range n.stretches {
		s := &n.stretches[i]
		n.flows = append(n.flows, flow{a: n.verts[s.from], b: n.verts[s.to], w: s.w})
	}
}

// rings returns the region's rings, its inside on their left.
func (ar *arrangement) rings(inside func(w [2]int32) bool) []orb.Ring {
	var rings []orb.Ring
	for _, l := range ar.tracer.run(&ar.noder, inside) {
		if r := straighten(l.ring); len(r) >= 3 {
			rings = append(rings, r)
		}
	}
	return rings
}

// polygons returns the region as polygons with holes. The arrangement must have
// noted lower neighbours of bounding stretches.
func (ar *arrangement) polygons(inside func(w [2]int32) bool) []orb.Polygon {
	loops := ar.tracer.run(&ar.noder, inside)
	owner := make(map[int32]int, len(ar.noder.stretches)) // looked up, never ranged over
	for i, l := range loops {
		for _, s := range l.stretchs {
			owner[s] = i
		}
	}
	var polys []orb.Polygon
	place := make([]int, len(loops)) // where a counter-clockwise loop went
	for i, l := range loops {
		place[i] = -1
		if RingArea(l.ring) <= 0 {
			continue
		}
		if r := straighten(l.ring); len(r) >= 3 {
			place[i] = len(polys)
			polys = append(polys, orb.Polygon{r})
		}
	}
	for i, l := range loops {
		if RingArea(l.ring) >= 0 {
			continue
		}
		k := ar.outerOf(i, loops, owner)
		if r := straighten(l.ring); k >= 0 && place[k] >= 0 && len(r) >= 3 {
			polys[place[k]] = append(polys[place[k]], r)
		}
	}
	return polys
}

// outerOf finds the counter-clockwise loop around hole i: the boundary next
// below the hole's leftmost vertex belongs to it, or to another hole in it.
func (ar *arrangement) outerOf(i int, loops []loop, owner map[int32]int) int {
	for range loops {
		j := ar.sweeper.beneath[ar.lowestStart(loops[i])]
		if j < 0 {
			return -1
		}
		k, ok := owner[j]
		if !ok {
			return -1
		}
		if RingArea(loops[k].ring) > 0 {
			return k
		}
		i = k
	}
	return -1
}

// lowestStart is the lower of the loop's two stretches at its leftmost vertex.
func (ar *arrangement) lowestStart(l loop) int32 {
	best := l.stretchs[0]
	for _, s := range l.stretchs {
		a, b := &ar.noder.stretches[s], &ar.noder.stretches[best]
		if a.from < b.from || a.from == b.from && s < best { // fans are sorted upwards
			best = s
		}
	}
	return best
}
