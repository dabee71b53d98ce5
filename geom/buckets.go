package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// maxBuckets bounds the columns and the rows of the bucket grid.
const maxBuckets = 256

// buckets files points by the cells of a uniform grid over their box.
type buckets struct {
	box          orb.Bound
	cols, rows   int
	perX, perY   float64 // cells per millimetre
	start, items []int32
	cellOf       []int32
	cursor       []int32
}

// fill files the points, about two to a cell.
func (b *buckets) fill(pts []orb.Point) {
	b.box = emptyBound()
	for _, p := range pts {
		b.box.Min[0], b.box.Min[1] = min(b.box.Min[0], p[0]), min(b.box.Min[1], p[1])
		b.box.Max[0], b.box.Max[1] = max(b.box.Max[0], p[0]), max(b.box.Max[1], p[1])
	}
	side := max(1, min(maxBuckets, int(math.Sqrt(float64(len(pts))/2))))
	b.cols, b.perX = cellsPerMM(b.box.Max[0]-b.box.Min[0], side)
	b.rows, b.perY = cellsPerMM(b.box.Max[1]-b.box.Min[1], side)
	b.file(pts)
}

func cellsPerMM(size float64, n int) (int, float64) {
	if per := float64(n) / size; size > 0 && !math.IsInf(per, 0) {
		return n, per
	}
	return 1, 0
}

// file sorts the points' numbers by cell, by counting.
func (b *buckets) file(pts []orb.Point) {
	cells := b.cols * b.rows
	b.start = zeroed(b.start, cells+1)
	b.cellOf = zeroed(b.cellOf, len(pts))
	for i, p := range pts {
		c := int32(b.col(p[0])*b.rows + b.row(p[1]))
		b.cellOf[i] = c
		b.start[c+1]++
	}
	for c := range cells {
		b.start[c+1] += b.start[c]
	}
	b.cursor = append(b.cursor[:0], b.start...)
	b.items = zeroed(b.items, len(pts))
	for i := range pts {
		c := b.cellOf[i]
		b.items[b.cursor[c]] = int32(i)
		b.cursor[c]++
	}
}

// zeroed returns a slice of n zeros, in s's memory where it is large enough.
func zeroed(s []int32, n int) []int32 {
	if cap(s) < n {
		return make([]int32, n)
	}
	s = s[:n]
	clear(s)
	return s
}

func (b *buckets) col(x float64) int { return clampCell((x-b.box.Min[0])*b.perX, b.cols) }
func (b *buckets) row(y float64) int { return clampCell((y-b.box.Min[1])*b.perY, b.rows) }

func clampCell(v float64, n int) int {
	if !(v > 0) {
		return 0
	}
	return int(min(v, float64(n-1)))
}

// near appends the numbers of all points in cells that the flow passes within
// a grid step of, each once.
func (b *buckets) near(hits []int32, f *flow) []int32 {
	c0, c1 := b.col(f.a[0]), b.col(f.b[0])
	for c := c0; c <= c1; c++ {
		lo, hi := b.heights(f, c, c0, c1)
		cell := c * b.rows
		from, to := b.start[cell+b.row(lo)], b.start[cell+b.row(hi)+1]
		hits = append(hits, b.items[from:to]...)
	}
	return hits
}

// heights is the range of the flow's y within column c, with room for the
// pixels' size.
func (b *buckets) heights(f *flow, c, c0, c1 int) (lo, hi float64) {
	const room = 2 * Grid
	ya, yb := f.a[1], f.b[1]
	if c0 != c1 {
		slope := (f.b[1] - f.a[1]) / (f.b[0] - f.a[0])
		if c > c0 {
			ya += slope * (b.box.Min[0] + float64(c)/b.perX - f.a[0] - room)
		}
		if c < c1 {
			yb = f.a[1] + slope*(b.box.Min[0]+float64(c+1)/b.perX-f.a[0]+room)
		}
	}
	lo, hi = min(ya, yb)-room, max(ya, yb)+room
	return max(lo, min(f.a[1], f.b[1])), min(hi, max(f.a[1], f.b[1]))
}
