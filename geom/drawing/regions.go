package drawing

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A nest is a loop with the place it has among the others.
type nestedLoop struct {
	loop
	area   float64 // mm², without sign
	bounds orb.Bound
	parent int // the smallest loop around it, -1 where there is none
	depth  int // how many loops lie around it
	bad    bool
}

// maxContainment bounds the segments looked at to sort loops into one another.
const maxContainment = 20_000_000

// sortLoops finds for every loop the smallest one around it. The result is in
// order of falling area, so that parents stand before what they hold.
func (h *healer) sortLoops(bad map[int]bool) []nestedLoop {
	ns := make([]nestedLoop, len(h.loops))
	for i, l := range h.loops {
		ns[i] = nestedLoop{loop: l, area: math.Abs(l.verts.Area()), bounds: boundOf(l.verts), parent: -1, bad: bad[i]}
	}
	slices.SortStableFunc(ns, func(a, b nestedLoop) int { return cmp.Compare(b.area, a.area) })
	if len(ns) == 0 {
		return nil
	}
	boxes := make([]orb.Bound, len(ns))
	for i := range ns {
		boxes[i] = ns[i].bounds
	}
	tree := newBoxTree(boxes)
	budget := maxContainment
	for i := range ns {
		p, ok := inner(ns[i].verts, ns[i].bounds)
		if !ok {
			continue
		}
		tree.meet(orb.Bound{Min: p, Max: p}, func(k int) bool {
			budget--
			if k < i && k > ns[i].parent { // larger loops stand before; the last is the smallest
				budget -= len(ns[k].verts)
				if contains(ns[k].verts, p) {
					ns[i].parent = k
				}
			}
			return budget > 0 && ns[i].parent < i-1
		})
		if ns[i].parent >= 0 {
			ns[i].depth = ns[ns[i].parent].depth + 1
		}
	}
	if budget <= 0 {
		h.tangled()
	}
	return ns
}

// parts makes shapes of the sorted loops: an outermost loop is a part, the
// loops in it holes, the loops in those parts again. A part is refused whole
// when one of its contours crosses another: cutting it without a hole would be
// wrong.
func (h *healer) parts(ns []nestedLoop, o Options) []geom.Shape {
	root := make([]int, len(ns)) // the outermost loop around each
	spoilt := map[int]bool{}
	for i, n := range ns {
		root[i] = i
		if n.parent >= 0 {
			root[i] = root[n.parent]
		}
		if n.bad || n.depth == 2 && o.RefuseIslands {
			spoilt[root[i]] = true
		}
		if n.depth == 2 {
			h.reportIsland(n, o)
		}
	}
	shape := make(map[int]int) // loop to its shape
	var out []geom.Shape
	for i, n := range ns {
		switch {
		case spoilt[root[i]]:
			h.refused = append(h.refused, n.loop)
		case n.depth%2 == 0:
			shape[i] = len(out)
			out = append(out, geom.Shape{Outer: onGrid(n.verts.Oriented(true))})
		default:
			s := &out[shape[n.parent]]
			s.Holes = append(s.Holes, onGrid(n.verts.Oriented(false)))
		}
	}
	sortParts(out)
	return out
}

func (h *healer) reportIsland(n nestedLoop, o Options) {
	f := Finding{
		Kind: Island, Level: Note, At: n.bounds.Min, HasAt: true,
		Text: "a contour lies inside a hole; it was taken as a part of its own",
	}
	if o.RefuseIslands {
		f.Level, f.Text = Problem, "a contour lies inside a hole, which the job refuses; move it out, or leave its layer out"
	}
	h.found(f, n.from, n.layer)
}

// sortParts orders parts and holes by their lower left corners, left to right.
func sortParts(shapes []geom.Shape) {
	sortByCorner(shapes, func(s geom.Shape) geom.Contour { return s.Outer })
	for i := range shapes {
		sortByCorner(shapes[i].Holes, func(c geom.Contour) geom.Contour { return c })
	}
}

func sortByCorner[T any](items []T, contour func(T) geom.Contour) {
	type placed struct {
		item T
		box  orb.Bound
	}
	ps := make([]placed, len(items))
	for i, it := range items {
		ps[i] = placed{it, boundOf(contour(it))}
	}
	slices.SortStableFunc(ps, func(p, q placed) int {
		return cmp.Or(cmp.Compare(p.box.Min[0], q.box.Min[0]), cmp.Compare(p.box.Min[1], q.box.Min[1]), cmp.Compare(q.box.Max[0], p.box.Max[0]))
	})
	for i := range ps {
		items[i] = ps[i].item
	}
}

// onGrid snaps a contour's vertices, which joining may have moved off the grid,
// and takes the sign off zero bulges, which turning round has left there.
func onGrid(c geom.Contour) geom.Contour {
	out := slices.Clone(c)
	for i := range out {
		out[i].P = geom.SnapPoint(out[i].P)
		if out[i].Bulge == 0 {
			out[i].Bulge = 0
		}
	}
	return out
}
