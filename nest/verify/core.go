package verify

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// findCore sets a point inside the region, away from its edges. Any point a few
// tolerances inside will do; this is one within half of the deepest, or beside
// the middle of an edge where the outline is so thin that the search gives up.
func (r *region) findCore() {
	r.core, r.coreDepth = deepest(r.box, r.depthAt, 1, maxCells)
	for i := range r.edges {
		if r.coreDepth > 0 {
			return
		}
		r.core, r.coreDepth = r.beside(&r.edges[i])
	}
}

// beside returns a point inside the region square to the middle of an edge, and
// its depth: the first found in going half as far each time.
func (r *region) beside(e *edge) (orb.Point, float64) {
	m := e.mid()
	u := e.heading(m)
	for d := e.length(); d > geom.Grid; d /= 2 {
		for _, side := range [...]float64{d, -d} {
			p := orb.Point{m[0] - side*u[1], m[1] + side*u[0]}
			if h := r.depthAt(p); h > 0 {
				return p, h
			}
		}
	}
	return m, 0
}

// commonCore returns a point far inside both regions and its depth, to
// measureShare.
func commonCore(a, b *region) (orb.Point, float64) {
	box := orb.Bound{
		Min: orb.Point{math.Max(a.box.Min[0], b.box.Min[0]), math.Max(a.box.Min[1], b.box.Min[1])},
		Max: orb.Point{math.Min(a.box.Max[0], b.box.Max[0]), math.Min(a.box.Max[1], b.box.Max[1])},
	}
	if b.beyond {
		box = a.box
	}
	both := func(p orb.Point) float64 {
		d := a.depthAt(p)
		if d <= 0 {
			return d
		}
		return math.Min(d, b.depthAt(p))
	}
	return deepest(box, both, measureShare, measureCells)
}

const (
	// maxCells bounds the search for a part's core; an outline a hundred times
	// longer than wide needs some hundred cells.
	maxCells = 1 << 11
	// measureCells bounds the search for the core of an overlap, which may be a
	// sliver; what is found by then is a lower bound.
	measureCells = 1 << 8
)

// deepest returns a point of the box with a depth that no other exceeds by more
// than the share, and 0 where none is positive. The depth must change by no
// more than the way gone: then no point of a square cell is deeper than its
// middle by more than half its diagonal, and cells that cannot hold a deeper
// point are dropped. The branch and bound is that for the pole of
// inaccessibility (Garcia-Castellanos D., Lombardo U. 2007, Poles of
// inaccessibility, Scottish Geographical Journal 123(3)).
func deepest(box orb.Bound, depth func(orb.Point) float64, share float64, budget int) (at orb.Point, best float64) {
	w, h := box.Max[0]-box.Min[0], box.Max[1]-box.Min[1]
	half := math.Max(w, h) / 2
	if !(half > 0) {
		return box.Min, 0
	}
	cells := cellHeap{}
	look := func(mid orb.Point, half float64) {
		d := depth(mid)
		if d > best {
			at, best = mid, d
		}
		if most := d + half*math.Sqrt2; most > best*(1+share) {
			cells.push(cell{mid, half, most})
		}
	}
	look(orb.Point{box.Min[0] + w/2, box.Min[1] + h/2}, half)
	for ; len(cells) > 0 && budget > 0; budget-- {
		c := cells.pop()
		if c.most <= best*(1+share) {
			break
		}
		q := c.half / 2
		for _, s := range [4]orb.Point{{-q, -q}, {q, -q}, {-q, q}, {q, q}} {
			look(orb.Point{c.mid[0] + s[0], c.mid[1] + s[1]}, q)
		}
	}
	return at, best
}

// A cell is a square in which no point is deeper than most.
type cell struct {
	mid  orb.Point
	half float64
	most float64
}

// A cellHeap holds cells, the most promising on top.
type cellHeap []cell

func (h *cellHeap) push(c cell) {
	s := append(*h, c)
	i := len(s) - 1
	for i > 0 && s[(i-1)/2].most < s[i].most {
		s[i], s[(i-1)/2] = s[(i-1)/2], s[i]
		i = (i - 1) / 2
	}
	*h = s
}

func (h *cellHeap) pop() cell {
	s := *h
	top := s[0]
	s[0] = s[len(s)-1]
	s = s[:len(s)-1]
	for i := 0; ; {
		k := 2*i + 1
		if k+1 < len(s) && s[k+1].most > s[k].most {
			k++
		}
		if k >= len(s) || s[k].most <= s[i].most {
			break
		}
		s[i], s[k] = s[k], s[i]
		i = k
	}
	*h = s
	return top
}

// depthAt returns how deep p lies inside the region, negative outside.
func (r *region) depthAt(p orb.Point) float64 { return r.depthNear(p, r.edges) }

// depthNear is depthAt with the distance taken from some of the edges only.
func (r *region) depthNear(p orb.Point, es []edge) float64 {
	d := clearance(p, es)
	if r.holds(p) {
		return d
	}
	return -d
}
