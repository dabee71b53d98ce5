package nest

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// cellsAcross is how many cells the longer side of a sheet is cut into to look
// for the largest free rectangle.
const cellsAcross = 160

// FreeRect finds a large axis-parallel rectangle inside the sheet, off its
// holes, and at least gap away from every part. A rectangle whose sides are all
// at least the least side is taken before a larger one that is too narrow. It
// looks on a raster, where a cell counts as free only when nothing reaches into
// it, and then moves each side outwards to where it meets something. The
// raster's largest rectangle is found row by row with a stack of bars (the
// histogram method).
func FreeRect(sheet orb.Polygon, parts []orb.Polygon, gap, leastSide float64) (orb.Bound, bool) {
	b := geom.Bounds(sheet)
	w, h := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
	cell := math.Max(w, h) / cellsAcross
	if !(cell > 0) {
		return orb.Bound{}, false
	}
	r := newRaster(b, cell)
	for _, ring := range sheet {
		r.blockEdges(ring, 0)
	}
	for _, p := range parts {
		r.blockEdges(p[0], gap)
		r.blockInside(p[0]) // what lies in a part's hole is no remnant
	}
	r.blockOutside(sheet)
	found, ok := r.largest(int(math.Ceil(leastSide / cell)))
	if !ok {
		found, ok = r.largest(1)
	}
	if !ok {
		return orb.Bound{}, false
	}
	return widened(found, sheet, parts, gap), true
}

// A raster marks cells that something reaches into.
type raster struct {
	min    orb.Point
	cell   float64
	nx, ny int
	taken  []bool
}

func newRaster(b orb.Bound, cell float64) *raster {
	r := &raster{min: b.Min, cell: cell}
	r.nx = int(math.Ceil((b.Max[0] - b.Min[0]) / cell))
	r.ny = int(math.Ceil((b.Max[1] - b.Min[1]) / cell))
	r.taken = make([]bool, r.nx*r.ny)
	return r
}

func (r *raster) column(x float64) int { return int(math.Floor((x - r.min[0]) / r.cell)) }
func (r *raster) row(y float64) int    { return int(math.Floor((y - r.min[1]) / r.cell)) }

// block marks the cells of a box.
func (r *raster) block(x0, y0, x1, y1 float64) {
	for j := max(0, r.row(y0)); j <= min(r.ny-1, r.row(y1)); j++ {
		for i := max(0, r.column(x0)); i <= min(r.nx-1, r.column(x1)); i++ {
			r.taken[j*r.nx+i] = true
		}
	}
}

// blockEdges marks the cells within gap of a ring's edges, walking each edge
// in steps no longer than a cell.
func (r *raster) blockEdges(ring orb.Ring, gap float64) {
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		steps := math.Ceil(math.Max(math.Abs(b[0]-a[0]), math.Abs(b[1]-a[1])) / r.cell)
		for s := 0.0; s < math.Max(steps, 1); s++ {
			p, q := along(a, b, s/math.Max(steps, 1)), along(a, b, (s+1)/math.Max(steps, 1))
			r.block(math.Min(p[0], q[0])-gap, math.Min(p[1], q[1])-gap, math.Max(p[0], q[0])+gap, math.Max(p[1], q[1])+gap)
		}
	}
}

func along(a, b orb.Point, t float64) orb.Point {
	return orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}
}

// blockInside marks the cells whose centre lies in the ring.
func (r *raster) blockInside(ring orb.Ring) {
	r.eachSpan(orb.Polygon{ring}, func(j, i0, i1 int) {
		for i := i0; i < i1; i++ {
			r.taken[j*r.nx+i] = true
		}
	})
}

// blockOutside marks the cells whose centre does not lie in the sheet.
func (r *raster) blockOutside(sheet orb.Polygon) {
	in := make([]bool, len(r.taken))
	r.eachSpan(sheet, func(j, i0, i1 int) {
		for i := i0; i < i1; i++ {
			in[j*r.nx+i] = true
		}
	})
	for k := range r.taken {
		r.taken[k] = r.taken[k] || !in[k]
	}
}

// eachSpan calls f with the runs of cells [i0, i1) of each row j whose centres
// lie in the polygon by the even-odd rule. A centre so near an edge that
// rounding could decide is in a cell that blockEdges marks anyway.
func (r *raster) eachSpan(p orb.Polygon, f func(j, i0, i1 int)) {
	b := geom.Bounds(p)
	var xs []float64
	for j := max(0, r.row(b.Min[1])); j <= min(r.ny-1, r.row(b.Max[1])); j++ {
		y := r.min[1] + (float64(j)+0.5)*r.cell
		xs = crossingsAt(xs[:0], p, y)
		for k := 0; k+1 < len(xs); k += 2 {
			if i0, i1 := r.firstCentre(xs[k]), r.firstCentre(xs[k+1]); i0 < i1 {
				f(j, i0, i1)
			}
		}
	}
}

// firstCentre is the first column whose centre is at or right of x.
func (r *raster) firstCentre(x float64) int {
	return max(0, min(r.nx, int(math.Ceil((x-r.min[0])/r.cell-0.5))))
}

// crossingsAt appends where the polygon's edges cross the level y, ascending.
func crossingsAt(xs []float64, p orb.Polygon, y float64) []float64 {
	for _, ring := range p {
		for i, a := range ring {
			if b := ring[(i+1)%len(ring)]; (a[1] > y) != (b[1] > y) {
				xs = append(xs, a[0]+(y-a[1])*(b[0]-a[0])/(b[1]-a[1]))
			}
		}
	}
	slices.Sort(xs)
	return xs
}

// largest is the free rectangle of most cells, no side of fewer than least; the
// first found wins ties.
func (r *raster) largest(least int) (orb.Bound, bool) {
	bars := make([]int, r.nx)
	best, most := [4]int{}, 0
	for j := range r.ny {
		for i := range bars {
			bars[i]++
			if r.taken[j*r.nx+i] {
				bars[i] = 0
			}
		}
		if x0, x1, high := widestBar(bars, least); (x1-x0)*high > most {
			best, most = [4]int{x0, j + 1 - high, x1, j + 1}, (x1-x0)*high
		}
	}
	at := func(k int, base float64) float64 { return base + float64(k)*r.cell }
	return orb.Bound{
		Min: orb.Point{at(best[0], r.min[0]), at(best[1], r.min[1])},
		Max: orb.Point{at(best[2], r.min[0]), at(best[3], r.min[1])},
	}, most > 0
}

// widestBar is the largest rectangle under a row of bars, no side below least:
// columns [x0, x1).
func widestBar(bars []int, least int) (x0, x1, high int) {
	type open struct{ from, high int }
	var stack []open
	best := 0
	for i := 0; i <= len(bars); i++ {
		now := 0
		if i < len(bars) {
			now = bars[i]
		}
		from := i
		for len(stack) > 0 && stack[len(stack)-1].high >= now {
			top := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			from = top.from
			if a := (i - top.from) * top.high; a > best && min(i-top.from, top.high) >= least {
				best, x0, x1, high = a, top.from, i, top.high
			}
		}
		stack = append(stack, open{from, now})
	}
	return x0, x1, high
}

// widened moves the sides of a free rectangle outwards, first left and right, then
// down and up, each to the first thing it meets.
func widened(r orb.Bound, sheet orb.Polygon, parts []orb.Polygon, gap float64) orb.Bound {
	limit := geom.Bounds(sheet)
	for axis := range 2 {
		lo, hi := limit.Min[axis], limit.Max[axis]
		middle := (r.Min[axis] + r.Max[axis]) / 2 // nothing crosses it, and rounding is far from it
		meet := func(ring orb.Ring, gap float64) {
			for i, a := range ring {
				// A part that a side has just been moved up to is beside the slab, not in it.
				least, most, ok := slabRange(a, ring[(i+1)%len(ring)], 1-axis, r.Min[1-axis]-gap+geom.Grid, r.Max[1-axis]+gap-geom.Grid)
				switch {
				case !ok:
				case least-gap >= middle:
					hi = math.Min(hi, least-gap)
				case most+gap <= middle:
					lo = math.Max(lo, most+gap)
				}
			}
		}
		for _, ring := range sheet {
			meet(ring, 0)
		}
		for _, p := range parts {
			meet(p[0], gap)
		}
		r.Min[axis], r.Max[axis] = lo, hi
	}
	return r
}

// slabRange clips the segment ab to the open slab lo < axis < hi and returns
// the range of its other coordinate there.
func slabRange(a, b orb.Point, axis int, lo, hi float64) (least, most float64, ok bool) {
	if math.Max(a[axis], b[axis]) <= lo || math.Min(a[axis], b[axis]) >= hi {
		return 0, 0, false
	}
	p, q := clipTo(a, b, axis, lo, hi), clipTo(b, a, axis, lo, hi)
	return math.Min(p, q), math.Max(p, q), true
}

// clipTo is the other coordinate of a, moved along ab into the slab.
func clipTo(a, b orb.Point, axis int, lo, hi float64) float64 {
	to := math.Max(lo, math.Min(hi, a[axis]))
	if to == a[axis] {
		return a[1-axis]
	}
	return a[1-axis] + (to-a[axis])*(b[1-axis]-a[1-axis])/(b[axis]-a[axis])
}
