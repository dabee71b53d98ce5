package nest

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A sepField is the signed distance to one outline, positive inside: between
// the corners of its cells by interpolation, exactly where asked. It serves the
// pairs that have no table: parts that may lie at any angle, and outlines with
// too many corners for a no-fit polygon.
type sepField struct {
	x0, y0 float64
	per    float64 // cells per millimetre, both ways
	nx, ny int
	blur   float64   // how far interpolation may be off
	corner []float32 // (nx+1) × (ny+1)
	start  []uint32  // by cell: where its run in near begins
	near   []uint16  // segments that can be nearest to a point of the cell
	segs   []sepSeg
	sums   []sepSum // the outline's convex pieces, for inside and outside
}

// sepFieldAcross is how many cells a field has along its longer side.
const sepFieldAcross = 56

// sepFieldMargin is how far a field reaches beyond its outline, as a share of
// the outline's extent, and at least twice the clearance; beyond it nothing is
// known.
const sepFieldMargin = 0.3

func sepNewField(outline orb.Polygon, pieces []orb.Ring, gap float64) *sepField {
	f := &sepField{}
	for _, r := range pieces {
		f.sums = append(f.sums, sepBoxed(r))
	}
	for _, ring := range outline {
		for i, p := range ring {
			if s, ok := sepSegment(p, ring[(i+1)%len(ring)]); ok {
				f.segs = append(f.segs, s)
			}
		}
	}
	f.frame(geom.RingBounds(outline[0]), gap)
	all := make([]int32, len(f.segs))
	for i := range all {
		all[i] = int32(i)
	}
	lists := make([][]int32, f.nx*f.ny)
	f.split(0, 0, f.nx, f.ny, all, lists)
	f.pack(lists)
	return f
}

func (f *sepField) frame(b orb.Bound, gap float64) {
	w, h := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
	pad := max(max(w, h)*sepFieldMargin, 2*gap)
	f.x0, f.y0 = b.Min[0]-pad, b.Min[1]-pad
	w, h = w+2*pad, h+2*pad
	cell := max(w, h) / sepFieldAcross
	f.nx, f.ny = int(math.Ceil(w/cell)), int(math.Ceil(h/cell))
	f.per = 1 / cell
	f.blur = cell // between corners of a function of slope 1, half a diagonal at most
	f.corner = make([]float32, (f.nx+1)*(f.ny+1))
}

func (f *sepField) split(i0, j0, w, h int, cand []int32, lists [][]int32) {
	cell := 1 / f.per
	cx := f.x0 + (float64(i0)+float64(w)/2)*cell
	cy := f.y0 + (float64(j0)+float64(h)/2)*cell
	cand = sepPruned(f.segs, cand, cx, cy, math.Hypot(float64(w), float64(h))*cell/2)
	switch {
	case w == 1 && h == 1:
		lists[j0*f.nx+i0] = cand
		f.fillCorners(i0, j0, cand)
	case w >= h:
		f.split(i0, j0, w/2, h, cand, lists)
		f.split(i0+w/2, j0, w-w/2, h, cand, lists)
	default:
		f.split(i0, j0, w, h/2, cand, lists)
		f.split(i0, j0+h/2, w, h-h/2, cand, lists)
	}
}

// sepPruned keeps the candidates that can be nearest to a point within r of the
// centre.
func sepPruned(segs []sepSeg, cand []int32, cx, cy, r float64) []int32 {
	nearest := math.Inf(1)
	for _, c := range cand {
		nearest = min(nearest, segs[c].distance2(cx, cy))
	}
	reach := (math.Sqrt(nearest) + 2*r) * (1 + 1e-9)
	kept := make([]int32, 0, 8)
	for _, c := range cand {
		if segs[c].distance2(cx, cy) <= reach*reach {
			kept = append(kept, c)
		}
	}
	return kept
}

func (f *sepField) fillCorners(i, j int, cand []int32) {
	for _, at := range [4][2]int{{i, j}, {i + 1, j}, {i, j + 1}, {i + 1, j + 1}} {
		x, y := f.x0+float64(at[0])/f.per, f.y0+float64(at[1])/f.per
		d := math.Inf(1)
		for _, c := range cand {
			d = min(d, f.segs[c].distance2(x, y))
		}
		d = math.Sqrt(d)
		if !f.covers(x, y) {
			d = -d
		}
		f.corner[at[1]*(f.nx+1)+at[0]] = float32(d)
	}
}

func (f *sepField) covers(x, y float64) bool {
	for i := range f.sums {
		if f.sums[i].inside(x, y) {
			return true
		}
	}
	return false
}

func (f *sepField) pack(lists [][]int32) {
	f.start = make([]uint32, len(lists)+1)
	for k, list := range lists {
		for _, c := range list {
			f.near = append(f.near, uint16(c))
		}
		f.start[k+1] = uint32(len(f.near))
	}
}

// cell returns the cell of a point and the place in it; ok is false beyond the
// field.
func (f *sepField) cell(x, y float64) (i, j int, u, v float64, ok bool) {
	u, v = (x-f.x0)*f.per, (y-f.y0)*f.per
	if !(u >= 0 && v >= 0) {
		return 0, 0, 0, 0, false
	}
	i, j = int(u), int(v)
	if i >= f.nx || j >= f.ny {
		return 0, 0, 0, 0, false
	}
	return i, j, u - float64(i), v - float64(j), true
}

// about is the signed distance, off by no more than blur; beyond the field it
// is −Inf.
func (f *sepField) about(x, y float64) float64 {
	i, j, u, v, ok := f.cell(x, y)
	if !ok {
		return math.Inf(-1)
	}
	at := j*(f.nx+1) + i
	lo := f.corner[at : at+2 : at+2]
	at += f.nx + 1
	hi := f.corner[at : at+2 : at+2]
	a := float64(lo[0]) + u*float64(lo[1]-lo[0])
	b := float64(hi[0]) + u*float64(hi[1]-hi[0])
	return a + v*(b-a)
}

// exact is the signed distance; beyond the field it is −Inf.
func (f *sepField) exact(x, y float64) float64 {
	i, j, _, _, ok := f.cell(x, y)
	if !ok {
		return math.Inf(-1)
	}
	k := j*f.nx + i
	return sepSigned(f.segs, f.near[f.start[k]:f.start[k+1]], x, y)
}

// slope returns the direction in which the distance grows fastest, a unit
// vector, or nothing where there is no telling.
func (f *sepField) slope(x, y float64) (ux, uy float64) {
	i, j, u, v, ok := f.cell(x, y)
	if !ok {
		return 0, 0
	}
	at := j*(f.nx+1) + i
	a, b := float64(f.corner[at]), float64(f.corner[at+1])
	at += f.nx + 1
	c, e := float64(f.corner[at]), float64(f.corner[at+1])
	gx := (b-a)*(1-v) + (e-c)*v
	gy := (c-a)*(1-u) + (e-b)*u
	g := math.Hypot(gx, gy)
	if g*f.per < sepFlat {
		return 0, 0
	}
	return gx / g, gy / g
}
