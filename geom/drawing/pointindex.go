package drawing

import (
	"math"

	"github.com/paulmach/orb"
)

// A pointIndex finds points near a place. Points are hashed by square cells
// somewhat wider than the distance asked for.
type pointIndex struct {
	reach float64 // the largest distance that can be asked for
	cell  float64
	heads map[[2]int64]int32 // newest point of a cell
	next  []int32            // the point before it in its cell, -1 at the end
	pts   []orb.Point
}

func newPointIndex(reach float64, size int) *pointIndex {
	return &pointIndex{
		reach: reach, cell: 8 * reach, heads: make(map[[2]int64]int32, size),
		next: make([]int32, 0, size), pts: make([]orb.Point, 0, size),
	}
}

func (x *pointIndex) cellOf(v float64) int64 { return int64(math.Floor(v / x.cell)) }

// add puts a point in and returns its number.
func (x *pointIndex) add(p orb.Point) int {
	key := [2]int64{x.cellOf(p[0]), x.cellOf(p[1])}
	before, ok := x.heads[key]
	if !ok {
		before = -1
	}
	x.heads[key] = int32(len(x.pts))
	x.next = append(x.next, before)
	x.pts = append(x.pts, p)
	return len(x.pts) - 1
}

// near calls f with every point within d of p, d ≤ reach, until f returns
// false.
func (x *pointIndex) near(p orb.Point, d float64, f func(i int) bool) {
	for cx := x.cellOf(p[0] - d); cx <= x.cellOf(p[0]+d); cx++ {
		for cy := x.cellOf(p[1] - d); cy <= x.cellOf(p[1]+d); cy++ {
			i, ok := x.heads[[2]int64{cx, cy}]
			for ; ok && i >= 0; i = x.next[i] {
				if dist(x.pts[i], p) <= d && !f(int(i)) {
					return
				}
			}
		}
	}
}

// cluster returns the number of a point within d of p, adding p where there is
// none. Of several the oldest is taken, so that the result does not depend on
// how cells are filled.
func (x *pointIndex) cluster(p orb.Point, d float64) int {
	best := -1
	x.near(p, d, func(i int) bool {
		if best < 0 || i < best {
			best = i
		}
		return true
	})
	if best < 0 {
		best = x.add(p)
	}
	return best
}
