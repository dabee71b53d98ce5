package geom

import (
	"container/heap"
	"math"

	"github.com/paulmach/orb"
)

// Pole returns the largest disc inscribed in the polygon, to within tol mm of
// its radius: its centre is the point farthest from the boundary. A tol that is
// not positive means a thousandth of the polygon's size. A polygon without area
// has a disc of radius 0.
//
// Branch and bound on a quadtree: the distance to the boundary changes by no
// more than one walks, so a square's centre bounds the whole square.
func Pole(poly orb.Polygon, tol float64) Disc { return NewIndex(poly).Pole(tol) }

// Pole is the function of that name for the indexed polygon.
func (ix *Index) Pole(tol float64) Disc {
	return ix.farthest(tol, func(p orb.Point, _ float64) float64 { return ix.signedDistance(p) })
}

// signedDistance is the distance to the boundary, negative outside.
func (ix *Index) signedDistance(p orb.Point) float64 {
	d := ix.BoundaryDistance(p)
	if ix.Locate(p) == Outside {
		return -d
	}
	return d
}

// A cell is a square with the value at its centre and a bound on the value
// anywhere in it.
type cell struct {
	center            orb.Point
	half, value, most float64
}

type cellHeap []cell

func (h cellHeap) Len() int           { return len(h) }
func (h cellHeap) Less(i, j int) bool { return h[i].most > h[j].most }
func (h cellHeap) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *cellHeap) Push(x any)        { *h = append(*h, x.(cell)) }
func (h *cellHeap) Pop() any {
	last := len(*h) - 1
	c := (*h)[last]
	*h = (*h)[:last]
	return c
}

// maxPoleCells stops a search whose tolerance is out of reach, as in a long even
// corridor.
const maxPoleCells = 4000

// farthest finds the point of greatest value, to within tol, of a function that
// changes by no more than the distance walked. The disc's radius is that value.
//
// value may stop short with any upper bound once it knows that the value is not
// above its second argument.
func (ix *Index) farthest(tol float64, value func(p orb.Point, floor float64) float64) Disc {
	w, h := ix.box.Max[0]-ix.box.Min[0], ix.box.Max[1]-ix.box.Min[1]
	if len(ix.pts) == 0 || !(w > 0) || !(h > 0) || math.IsInf(w*h, 0) {
		return Disc{}
	}
	if !(tol > 0) {
		tol = max(w, h) / 1000
	}
	var open cellHeap
	best := Disc{Center: ix.pts[0]}
	visit := func(c orb.Point, half float64) {
		v := value(c, min(best.Radius, best.Radius+tol-half*math.Sqrt2))
		if v > best.Radius {
			best = Disc{c, v}
		}
		if most := v + half*math.Sqrt2; most > best.Radius+tol {
			heap.Push(&open, cell{c, half, v, most})
		}
	}
	half := min(w, h) / 2
	half = max(half, max(w, h)/512) // a needle is not cut into thousands
	for x := ix.box.Min[0] + half; x < ix.box.Max[0]+half; x += 2 * half {
		for y := ix.box.Min[1] + half; y < ix.box.Max[1]+half; y += 2 * half {
			visit(orb.Point{x, y}, half)
		}
	}
	for n := 0; len(open) > 0 && n < maxPoleCells; n++ {
		c := heap.Pop(&open).(cell)
		if c.most <= best.Radius+tol {
			break
		}
		q := c.half / 2
		for k := range 4 {
			dx, dy := q*float64(k%2*2-1), q*float64(k/2*2-1)
			visit(orb.Point{c.center[0] + dx, c.center[1] + dy}, q)
		}
	}
	return climbDisc(best, half, tol, value)
}

// climbDisc walks uphill from the best point found, with steps down to tol. In
// a long even corridor the search above ends on one of very many cells that are
// all nearly best.
func climbDisc(best Disc, step, tol float64, value func(p orb.Point, floor float64) float64) Disc {
	for n := 0; step > tol/4 && n < maxPoleCells; n++ {
		at := best.Center
		for k := range 8 {
			s, c := SinCosDeg(float64(k) * 45)
			p := orb.Point{at[0] + step*c, at[1] + step*s}
			if v := value(p, best.Radius); v > best.Radius {
				best = Disc{p, v}
			}
		}
		if best.Center == at {
			step /= 2
		}
	}
	return best
}
