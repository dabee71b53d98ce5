package nest

import (
	"math"
	"sync"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A sepTable answers, for one pair of shapes in one relative turn, how deep the
// second runs into the first when its reference point lies at v: the distance
// from v to the nearest point outside the no-fit region, plus the clearance.
//
// The plane is cut into cells. In a cell that lies wholly inside, the depth is
// interpolated between its corners: a severity needs no more. A cell that the
// boundary runs through knows the few boundary pieces that can be nearest to a
// point of it, and there the answer is exact.
type sepTable struct {
	x0, y0     float64 // corner of cell (0, 0)
	perX, perY float64 // cells per millimetre
	nx, ny     int
	gap        float64   // clearance asked for
	cells      []uint16  // sepFree, sepDeep, or sepDeep plus the number of a run
	corner     []float32 // depth at the cells' corners, (nx+1) × (ny+1)
	runs       []sepStretch
	near       []uint16 // indices into segs
	segs       []sepSeg

	covers func(x, y float64, near []uint16) bool // while it is made
	sums   func() []sepSum                        // the region as a union of convex sums
}

// A sepStretch is the stretch of sepTable.near that a cell knows.
type sepStretch struct{ from, to uint32 }

const (
	sepFree = 0 // every point is clear
	sepDeep = 1 // every point is deeper than the cell is wide
)

// sepCellsAcross is how many cells a table has along its longer side: fine
// enough that most boundary cells know one or two boundary pieces, coarse
// enough that the tables of a job stay in the cache.
const sepCellsAcross = 32

// sepNewTable indexes the no-fit region of b around a with clearance gap, from
// convex pieces of both. It works for any turn.
func sepNewTable(a, b []orb.Ring, gap float64) *sepTable {
	sums := sepSums(a, b)
	t := sepIndexed(sepBoundary(sums), gap, func(x, y float64, _ []uint16) bool {
		return sepCovered(sums, x, y)
	})
	t.sums = func() []sepSum { return sums }
	return t
}

// sepTableOf indexes the no-fit region of b around a, both on the grid, with
// clearance gap, from the exact no-fit polygon. That takes a fraction of the
// time, and outlines of many corners are no hindrance. sums makes the convex
// sums when someone asks for them.
func sepTableOf(a, b orb.Polygon, gap float64, sums func() []sepSum) *sepTable {
	segs := sepRegion(geom.NoFit(a, b))
	if len(segs) > math.MaxUint16 {
		segs = sepRegion(geom.NoFit(orb.Polygon{geom.ConvexHull(a[0])}, orb.Polygon{geom.ConvexHull(b[0])})) // the safe side
	}
	t := sepIndexed(segs, gap, func(x, y float64, near []uint16) bool {
		return sepSigned(segs, near, x, y) > 0
	})
	t.sums = sync.OnceValue(sums)
	return t
}

// sepRegion lists a no-fit region's boundary; slots and holes that fit exactly
// are seams.
func sepRegion(r geom.Region) []sepSeg {
	var out []sepSeg
	for _, ring := range r.Rings {
		for i, p := range ring {
			if s, ok := sepSegment(p, ring[(i+1)%len(ring)]); ok {
				out = append(out, s)
			}
		}
	}
	for _, seam := range r.Segments {
		if s, ok := sepSegment(seam[0], seam[1]); ok {
			s.seam = true
			out = append(out, s)
		}
	}
	for _, p := range r.Points {
		out = append(out, sepSeg{ax: p[0], ay: p[1], ux: 1, seam: true})
	}
	return out
}

// sepIndexed indexes a boundary. covers tells whether a point is inside, given
// the segments that can be nearest to it.
func sepIndexed(segs []sepSeg, gap float64, covers func(x, y float64, near []uint16) bool) *sepTable {
	t := &sepTable{gap: gap, segs: segs, covers: covers}
	t.frame()
	all := make([]int32, len(t.segs))
	for i := range all {
		all[i] = int32(i)
	}
	t.cells = make([]uint16, t.nx*t.ny)
	t.corner = make([]float32, (t.nx+1)*(t.ny+1))
	t.runs = append(t.runs, sepStretch{}, sepStretch{}) // stand for sepFree and sepDeep
	t.split(0, 0, t.nx, t.ny, all)
	t.covers = nil
	return t
}

func (t *sepTable) frame() {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for i := range t.segs {
		s := &t.segs[i]
		ex, ey := s.ax+s.ux*s.length, s.ay+s.uy*s.length
		x0, y0 = min(x0, s.ax, ex), min(y0, s.ay, ey)
		x1, y1 = max(x1, s.ax, ex), max(y1, s.ay, ey)
	}
	x0, y0, x1, y1 = x0-t.gap, y0-t.gap, x1+t.gap, y1+t.gap
	w, h := x1-x0, y1-y0
	cell := max(w, h) / sepAcross(len(t.segs))
	t.x0, t.y0 = x0, y0
	t.nx = max(1, int(math.Ceil(w/cell)))
	t.ny = max(1, int(math.Ceil(h/cell)))
	t.perX, t.perY = float64(t.nx)/w, float64(t.ny)/h
}

// sepAcross is how many cells a table has along its longer side: more where the
// boundary is of many pieces.
func sepAcross(pieces int) float64 {
	if pieces > sepManyPieces {
		return 2 * sepCellsAcross
	}
	return sepCellsAcross
}

// sepManyPieces is how many boundary pieces a table of the usual fineness takes.
const sepManyPieces = 256

// split hands the block of cells [i0, i0+w) × [j0, j0+h) the candidate
// segments that can be nearest to a point in it, halving down to single cells.
func (t *sepTable) split(i0, j0, w, h int, cand []int32) {
	cand = t.prune(i0, j0, w, h, cand)
	switch {
	case w == 1 && h == 1:
		t.fill(i0, j0, cand)
	case w >= h:
		t.split(i0, j0, w/2, h, cand)
		t.split(i0+w/2, j0, w-w/2, h, cand)
	default:
		t.split(i0, j0, w, h/2, cand)
		t.split(i0, j0+h/2, w, h-h/2, cand)
	}
}

// block returns the centre and the half diagonal of a block of cells.
func (t *sepTable) block(i0, j0, w, h int) (cx, cy, r float64) {
	bw, bh := float64(w)/t.perX, float64(h)/t.perY
	cx = t.x0 + float64(i0)/t.perX + bw/2
	cy = t.y0 + float64(j0)/t.perY + bh/2
	return cx, cy, math.Hypot(bw, bh) / 2
}

func (t *sepTable) prune(i0, j0, w, h int, cand []int32) []int32 {
	cx, cy, r := t.block(i0, j0, w, h)
	return sepPruned(t.segs, cand, cx, cy, r)
}

func (t *sepTable) nearest(x, y float64, cand []int32) float64 {
	best := math.Inf(1)
	for _, c := range cand {
		best = min(best, t.segs[c].distance2(x, y))
	}
	return math.Sqrt(best)
}

// fill says what a cell knows: the depth at its corners where it is deep, the
// nearest pieces where the depth comes near 0 in it.
func (t *sepTable) fill(i, j int, cand []int32) {
	cx, cy, r := t.block(i, j, 1, 1)
	d := t.nearest(cx, cy, cand)
	near := make([]uint16, len(cand))
	for i, c := range cand {
		near[i] = uint16(c)
	}
	if !t.covers(cx, cy, near) {
		d = -d
	}
	cell := &t.cells[j*t.nx+i]
	switch d += t.gap; {
	case d < -r*(1+1e-9):
		return
	case d > r*(1+1e-9):
		*cell = sepDeep
		t.fillCorners(i, j, cand, near)
		return
	}
	*cell = uint16(len(t.runs))
	from := uint32(len(t.near))
	t.near = append(t.near, near...)
	t.runs = append(t.runs, sepStretch{from, uint32(len(t.near))})
}

func (t *sepTable) fillCorners(i, j int, cand []int32, near []uint16) {
	for _, at := range [4][2]int{{i, j}, {i + 1, j}, {i, j + 1}, {i + 1, j + 1}} {
		x := t.x0 + float64(at[0])/t.perX
		y := t.y0 + float64(at[1])/t.perY
		d := t.nearest(x, y, cand)
		if !t.covers(x, y, near) {
			d = -d
		}
		t.corner[at[1]*(t.nx+1)+at[0]] = float32(t.gap + d)
	}
}

// sepCovered reports whether the point is inside one of the sums.
func sepCovered(sums []sepSum, x, y float64) bool {
	for i := range sums {
		if sums[i].inside(x, y) {
			return true
		}
	}
	return false
}

// distance2 is the squared distance from the point to the segment.
func (s *sepSeg) distance2(x, y float64) float64 {
	dx, dy := x-s.ax, y-s.ay
	along := dx*s.ux + dy*s.uy
	h := s.ux*dy - s.uy*dx
	if along < 0 {
		return h*h + along*along
	}
	if over := along - s.length; over > 0 {
		return h*h + over*over
	}
	return h * h
}

// depth returns how far the point must move to be clear; 0 when it is clear. In
// deep cells it is interpolated.
func (t *sepTable) depth(x, y float64) float64 {
	fx, fy := (x-t.x0)*t.perX, (y-t.y0)*t.perY
	if !(fx >= 0 && fy >= 0) {
		return 0
	}
	i, j := int(fx), int(fy)
	if i >= t.nx || j >= t.ny {
		return 0
	}
	switch cell := t.cells[j*t.nx+i]; cell {
	case sepFree:
		return 0
	case sepDeep:
		fx -= float64(i)
		fy -= float64(j)
		at := j*(t.nx+1) + i
		lo := t.corner[at : at+2 : at+2]
		at += t.nx + 1
		hi := t.corner[at : at+2 : at+2]
		a := float64(lo[0]) + fx*float64(lo[1]-lo[0])
		b := float64(hi[0]) + fx*float64(hi[1]-hi[0])
		return a + fy*(b-a)
	default:
		run := t.runs[cell]
		return max(0, t.gap+sepSigned(t.segs, t.near[run.from:run.to], x, y))
	}
}

// sepTie is how alike two distances are, in millimetres, that count as equal
// when the sign at a corner is decided: above what seams leave, below the touch
// tolerance.
const sepTie = 2 * sepStub

// sepSigned is the distance to the nearest of the listed segments, positive
// inside.
func sepSigned(segs []sepSeg, list []uint16, x, y float64) float64 {
	best, height, corner := math.Inf(1), 0.0, false
	for _, c := range list {
		s := &segs[c]
		dx, dy := x-s.ax, y-s.ay
		along := dx*s.ux + dy*s.uy
		h := s.ux*dy - s.uy*dx
		d, end := h*h, false
		if along < 0 {
			d, end = d+along*along, true
		} else if over := along - s.length; over > 0 {
			d, end = d+over*over, true
		}
		if d < best {
			best, height, corner = d, h, end
			if s.seam {
				height, corner = 1, false
			}
		}
	}
	r := math.Sqrt(best)
	if corner {
		height = sepFacing(segs, list, x, y, r+sepTie)
	}
	if height < 0 {
		return -r
	}
	return r
}

// sepFacing decides the side at a corner: of the segments equally near, the one
// that faces the point most squarely counts.
func sepFacing(segs []sepSeg, list []uint16, x, y, reach float64) float64 {
	height := 0.0
	for _, c := range list {
		s := &segs[c]
		if s.distance2(x, y) > reach*reach {
			continue
		}
		if s.seam {
			return 1
		}
		if h := s.ux*(y-s.ay) - s.uy*(x-s.ax); math.Abs(h) > math.Abs(height) {
			height = h
		}
	}
	return height
}
