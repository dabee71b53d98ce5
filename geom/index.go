package geom

import (
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/paulmach/orb"
)

// maxRows bounds the bands of an [Index]: more cost memory and gain nothing for
// outlines of up to a few thousand vertices.
const maxRows = 512

// An Index is a polygon made ready for many queries: its edges are filed by
// the horizontal bands they pass through. It holds the polygon in normal form
// and is safe for concurrent use.
type Index struct {
	pts        []orb.Point // the vertices of all rings
	next, prev []int32     // neighbours within the ring
	ring       []int32     // the ring a vertex belongs to
	first      []int32     // the first vertex of each ring
	box        orb.Bound
	rows       int
	perMM      float64 // bands per millimetre
	start      []int32 // row r files edges[start[r]:start[r+1]]
	edges      []int32
	pinch      atomic.Int32
	midOnce    sync.Once
	mid        orb.Point // see middle
}

// NewIndex returns the polygon's index. Edge i runs from vertex i to its
// successor with the polygon's inside on its left.
func NewIndex(poly orb.Polygon) *Index {
	ix := &Index{box: emptyBound()}
	n := 0
	for _, r := range poly {
		n += len(r)
	}
	ix.pts = make([]orb.Point, 0, n)
	for i, r := range poly {
		if !ix.addRing(r, i == 0) && i == 0 {
			return &Index{box: emptyBound(), rows: 1, start: make([]int32, 2)}
		}
	}
	ix.linkRings()
	ix.fileEdges()
	return ix
}

// addRing adds a ring's vertices as [OrientRing] would list them. It reports
// false, and adds nothing, where fewer than three are left.
func (ix *Index) addRing(r orb.Ring, ccw bool) bool {
	base := len(ix.pts)
	for _, p := range r {
		if len(ix.pts) == base || ix.pts[len(ix.pts)-1] != p {
			ix.pts = append(ix.pts, p)
		}
	}
	for len(ix.pts) > base+1 && ix.pts[base] == ix.pts[len(ix.pts)-1] {
		ix.pts = ix.pts[:len(ix.pts)-1]
	}
	own := orb.Ring(ix.pts[base:])
	if len(own) < 3 {
		ix.pts = ix.pts[:base]
		return false
	}
	if area := RingArea(own); area != 0 && (area > 0) != ccw {
		slices.Reverse(own)
	}
	ix.first = append(ix.first, int32(base))
	ix.box = ix.box.Union(RingBounds(own))
	return true
}

// linkRings fills in the neighbours and the rings of the vertices.
func (ix *Index) linkRings() {
	n := len(ix.pts)
	links := make([]int32, 3*n)
	ix.next, ix.prev, ix.ring = links[:n], links[n:2*n], links[2*n:]
	for k, base := range ix.first {
		end := int32(n)
		if k+1 < len(ix.first) {
			end = ix.first[k+1]
		}
		for i := base; i < end; i++ {
			ix.next[i], ix.prev[i], ix.ring[i] = i+1, i-1, int32(k)
		}
		ix.next[end-1], ix.prev[base] = base, end-1
	}
}

// fileEdges files every edge under each band it meets.
func (ix *Index) fileEdges() {
	ix.rows = min(maxRows, max(1, len(ix.pts)/2))
	if h := ix.box.Max[1] - ix.box.Min[1]; h > 0 && !math.IsInf(h, 0) {
		ix.perMM = float64(ix.rows) / h
	}
	if math.IsInf(ix.perMM, 0) {
		ix.perMM = 0
	}
	n := len(ix.pts)
	span := make([]int32, 2*n+2*ix.rows+1)
	lo, hi, at := span[:n], span[n:2*n], span[2*n:2*n+ix.rows]
	ix.start = span[2*n+ix.rows:]
	for e := range ix.pts {
		l, h := ix.edgeRows(int32(e))
		lo[e], hi[e] = int32(l), int32(h)
		for r := l; r <= h; r++ {
			ix.start[r+1]++
		}
	}
	for r := range ix.rows {
		ix.start[r+1] += ix.start[r]
	}
	copy(at, ix.start)
	ix.edges = make([]int32, ix.start[ix.rows])
	for e := range ix.pts {
		for r := lo[e]; r <= hi[e]; r++ {
			ix.edges[at[r]] = int32(e)
			at[r]++
		}
	}
}

// row is the band of a height; heights outside the box go to the nearest band.
func (ix *Index) row(y float64) int {
	r := (y - ix.box.Min[1]) * ix.perMM
	if !(r > 0) {
		return 0
	}
	return int(min(r, float64(ix.rows-1)))
}

func (ix *Index) edgeRows(e int32) (lo, hi int) {
	a, b := ix.pts[e][1], ix.pts[ix.next[e]][1]
	return ix.row(min(a, b)), ix.row(max(a, b))
}

// inRow lists the edges filed under band r.
func (ix *Index) inRow(r int) []int32 { return ix.edges[ix.start[r]:ix.start[r+1]] }

// Bounds is the polygon's box.
func (ix *Index) Bounds() orb.Bound { return ix.box }

// Polygon returns the indexed polygon in normal form.
func (ix *Index) Polygon() orb.Polygon {
	p := make(orb.Polygon, len(ix.first))
	for i, v := range ix.pts {
		k := ix.ring[i]
		p[k] = append(p[k], v)
	}
	return p
}

// Locate says where p lies against the polygon, exactly.
func (ix *Index) Locate(p orb.Point) Location {
	if len(ix.pts) == 0 || !ix.box.Contains(p) {
		return Outside
	}
	inside := false
	for _, e := range ix.inRow(ix.row(p[1])) {
		on, crosses := rayMeets(ix.pts[e], ix.pts[ix.next[e]], p)
		if on {
			return OnBoundary
		}
		if crosses {
			inside = !inside
		}
	}
	if inside {
		return Inside
	}
	return Outside
}

// MeetsSegment reports whether the closed segment ab meets the polygon's
// boundary, exactly.
func (ix *Index) MeetsSegment(a, b orb.Point) bool {
	if len(ix.pts) == 0 || !ix.box.Intersects(orb.Bound{Min: a, Max: a}.Extend(b)) {
		return false
	}
	for r, hi := ix.row(min(a[1], b[1])), ix.row(max(a[1], b[1])); r <= hi; r++ {
		for _, e := range ix.inRow(r) {
			if RelateSegments(a, b, ix.pts[e], ix.pts[ix.next[e]]) != Disjoint {
				return true
			}
		}
	}
	return false
}

// BoundaryDistance is the least distance in mm from p to the boundary.
func (ix *Index) BoundaryDistance(p orb.Point) float64 {
	best := math.Inf(1)
	for up, down := ix.row(p[1]), ix.row(p[1])-1; up < ix.rows || down >= 0; up, down = up+1, down-1 {
		gap := math.Inf(1) // no edge first met in these rows is nearer
		if up < ix.rows {
			gap = ix.rowGap(p[1], up)
			best = min(best, ix.rowDistance(p, up))
		}
		if down >= 0 {
			gap = min(gap, ix.rowGap(p[1], down))
			best = min(best, ix.rowDistance(p, down))
		}
		if gap*gap > best {
			break
		}
	}
	return math.Sqrt(best)
}

// rowGap is a lower bound for the vertical distance from y to band r.
func (ix *Index) rowGap(y float64, r int) float64 {
	if ix.perMM == 0 {
		return 0
	}
	lo := ix.box.Min[1] + float64(r)/ix.perMM
	slack := (math.Abs(y) + math.Abs(lo) + 1) * 8 * epsilon
	return max(0, lo-y-slack, y-(lo+1/ix.perMM)-slack)
}

func (ix *Index) rowDistance(p orb.Point, r int) float64 {
	best := math.Inf(1)
	for _, e := range ix.inRow(r) {
		best = min(best, squaredDistance(p, ix.pts[e], ix.pts[ix.next[e]]))
	}
	return best
}
