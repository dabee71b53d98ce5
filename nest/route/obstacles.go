package route

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A wall is a straight piece of something a lead must keep away from.
type wall struct {
	a, b  orb.Point
	owner int32 // node, edgeOwner or keptOwner
}

const (
	// edgeOwner owns the sheet's edge and the blocked zones.
	edgeOwner = -1
	// keptOwner owns the outline of the remnant.
	keptOwner = -2
)

// Walls are filed in a grid of square cells.
type walls struct {
	all   []wall
	cell  float64
	min   orb.Point
	nx    int
	ny    int
	start []int32 // by cell, into items
	items []int32
	seen  []int32 // by wall: the last query that met it
	query int32
}

// newWalls files the contours, the sheet's edges and the remnant's outline.
func newWalls(ns []node, edges []orb.Ring, kept geom.Contour) *walls {
	w := &walls{}
	for i := range ns {
		w.add(ns[i].flat, int32(i))
	}
	for _, r := range edges {
		w.add(r, edgeOwner)
	}
	if len(kept) >= 2 {
		w.add(kept.Flatten(flatTolerance, geom.OnCurve), keptOwner)
	}
	w.file()
	return w
}

func (w *walls) add(r orb.Ring, owner int32) {
	for i, a := range r {
		w.all = append(w.all, wall{a, r[(i+1)%len(r)], owner})
	}
}

// file chooses a cell size for about two walls a cell and sorts the walls in.
func (w *walls) file() {
	w.seen = make([]int32, len(w.all))
	if len(w.all) == 0 {
		w.cell, w.nx, w.ny = 1, 1, 1
		w.start = make([]int32, 2)
		return
	}
	lo, hi := w.all[0].a, w.all[0].a
	for _, s := range w.all {
		lo = orb.Point{math.Min(lo[0], s.a[0]), math.Min(lo[1], s.a[1])}
		hi = orb.Point{math.Max(hi[0], s.a[0]), math.Max(hi[1], s.a[1])}
	}
	w.min = lo
	area := math.Max(hi[0]-lo[0], 1) * math.Max(hi[1]-lo[1], 1)
	w.cell = math.Max(math.Sqrt(2*area/float64(len(w.all))), math.Max(hi[0]-lo[0], hi[1]-lo[1])/1024)
	w.nx = int((hi[0]-lo[0])/w.cell) + 1
	w.ny = int((hi[1]-lo[1])/w.cell) + 1
	w.start = make([]int32, w.nx*w.ny+1)
	for i := range w.all {
		w.cells(&w.all[i], func(c int) { w.start[c+1]++ })
	}
	for c := 1; c < len(w.start); c++ {
		w.start[c] += w.start[c-1]
	}
	w.items = make([]int32, w.start[len(w.start)-1])
	at := append([]int32(nil), w.start...)
	for i := range w.all {
		w.cells(&w.all[i], func(c int) { w.items[at[c]] = int32(i); at[c]++ })
	}
}

// cells calls f for the cells that the wall may touch: row by row, those that
// the part of the wall within the row spans.
func (w *walls) cells(s *wall, f func(c int)) {
	a, b := s.a, s.b
	if a[1] > b[1] {
		a, b = b, a
	}
	for y := w.row(a[1]); y <= w.row(b[1]); y++ {
		x0, x1 := a[0], b[0]
		if h := b[1] - a[1]; h > 0 {
			k := (b[0] - a[0]) / h
			lo := math.Max(a[1], w.min[1]+float64(y)*w.cell)
			hi := math.Min(b[1], w.min[1]+float64(y+1)*w.cell)
			x0, x1 = a[0]+k*(lo-a[1]), a[0]+k*(hi-a[1])
		}
		for x := w.column(math.Min(x0, x1)); x <= w.column(math.Max(x0, x1)); x++ {
			f(y*w.nx + x)
		}
	}
}

func (w *walls) column(x float64) int { return clamp(int((x-w.min[0])/w.cell), w.nx-1) }
func (w *walls) row(y float64) int    { return clamp(int((y-w.min[1])/w.cell), w.ny-1) }

func clamp(i, most int) int { return max(0, min(i, most)) }

// around appends the walls that may come within r of p to the list.
func (w *walls) around(p orb.Point, r float64, out []wall) []wall {
	w.query++
	for y := w.row(p[1] - r - slack); y <= w.row(p[1]+r+slack); y++ {
		for x := w.column(p[0] - r - slack); x <= w.column(p[0]+r+slack); x++ {
			c := y*w.nx + x
			for _, i := range w.items[w.start[c]:w.start[c+1]] {
				if w.seen[i] == w.query {
					continue
				}
				w.seen[i] = w.query
				if s := &w.all[i]; pointGap(p, s.a, s.b) <= r {
					out = append(out, *s)
				}
			}
		}
	}
	return out
}

// slack widens a window so that a wall on a cell's border is not lost to
// rounding.
const slack = flatTolerance / 16
