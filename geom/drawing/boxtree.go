package drawing

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// boxFanout is how many boxes a node of a boxTree holds.
const boxFanout = 8

// A boxTree finds which of many boxes meet a box. It is packed once: boxes
// sorted into vertical strips, strips by height, groups of boxFanout bounded
// together, and so on up (Leutenegger, Edgington and Lopez, STR: a simple and
// efficient algorithm for R-tree packing, 1997).
type boxTree struct {
	order  []int32       // the boxes' numbers as packed
	levels [][]orb.Bound // levels[0] the boxes as packed, each next level their groups
}

func newBoxTree(boxes []orb.Bound) *boxTree {
	t := &boxTree{order: make([]int32, len(boxes))}
	for i := range t.order {
		t.order[i] = int32(i)
	}
	packOrder(t.order, boxes)
	level := make([]orb.Bound, len(boxes))
	for i, k := range t.order {
		level[i] = boxes[k]
	}
	t.levels = append(t.levels, level)
	for len(level) > boxFanout {
		level = groupBounds(level)
		t.levels = append(t.levels, level)
	}
	return t
}

func packOrder(order []int32, boxes []orb.Bound) {
	middle := func(i int32, axis int) float64 { return boxes[i].Min[axis] + boxes[i].Max[axis] }
	by := func(axis int) func(a, b int32) int {
		return func(a, b int32) int {
			return cmp.Or(cmp.Compare(middle(a, axis), middle(b, axis)), cmp.Compare(a, b))
		}
	}
	slices.SortFunc(order, by(0))
	strip := boxFanout * int(math.Ceil(math.Sqrt(float64(len(order))/boxFanout)))
	for i := 0; i < len(order); i += max(1, strip) {
		slices.SortFunc(order[i:min(i+strip, len(order))], by(1))
	}
}

func groupBounds(level []orb.Bound) []orb.Bound {
	out := make([]orb.Bound, 0, len(level)/boxFanout+1)
	for g := range slices.Chunk(level, boxFanout) {
		b := g[0]
		for _, o := range g[1:] {
			b = grow(b, o)
		}
		out = append(out, b)
	}
	return out
}

// meet calls f with the number of every box that meets b, until f returns
// false. Of boxes about one middle the last comes first.
func (t *boxTree) meet(b orb.Bound, f func(i int) bool) {
	top := len(t.levels) - 1
	for i := len(t.levels[top]) - 1; i >= 0; i-- {
		if !t.descend(top, i, b, f) {
			return
		}
	}
}

func (t *boxTree) descend(level, i int, b orb.Bound, f func(i int) bool) bool {
	if !boxesMeet(t.levels[level][i], b) {
		return true
	}
	if level == 0 {
		return f(int(t.order[i]))
	}
	for k := min((i+1)*boxFanout, len(t.levels[level-1])) - 1; k >= i*boxFanout; k-- {
		if !t.descend(level-1, k, b, f) {
			return false
		}
	}
	return true
}

func boxesMeet(a, b orb.Bound) bool {
	return a.Min[0] <= b.Max[0] && b.Min[0] <= a.Max[0] && a.Min[1] <= b.Max[1] && b.Min[1] <= a.Max[1]
}

// around is the box that reaches d to every side of a point.
func around(p orb.Point, d float64) orb.Bound { return widen(orb.Bound{Min: p, Max: p}, d) }

// widen grows a box by d on every side.
func widen(b orb.Bound, d float64) orb.Bound {
	return orb.Bound{Min: orb.Point{b.Min[0] - d, b.Min[1] - d}, Max: orb.Point{b.Max[0] + d, b.Max[1] + d}}
}
