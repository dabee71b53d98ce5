package verify

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A region is the closed set bounded by edges: the points from which a ray
// crosses them an odd number of times. With beyond set it is the other side.
type region struct {
	edges  []edge
	box    orb.Bound
	beyond bool
	// core is a point well inside, at the distance coreDepth from the edges.
	core      orb.Point
	coreDepth float64
}

func bound(es []edge) orb.Bound {
	if len(es) == 0 {
		return orb.Bound{}
	}
	b := es[0].box
	for i := range es[1:] {
		b = b.Union(es[i+1].box)
	}
	return b
}

// complement returns the other side of the region.
func (r *region) complement() *region {
	c := *r
	c.beyond = !r.beyond
	return &c
}

// holds reports whether p is in the region; on an edge the answer is arbitrary.
// It is exact for lines, and for arcs as exact as their centres.
func (r *region) holds(p orb.Point) bool {
	if !inBox(p, &r.box) {
		return r.beyond
	}
	odd := false
	for i := range r.edges {
		if r.edges[i].rightOf(p) {
			odd = !odd
		}
	}
	return odd != r.beyond
}

// rightOf reports whether the ray from p to the right crosses the edge. Of an
// edge's ends only the lower belongs to it.
func (e *edge) rightOf(p orb.Point) bool {
	if (e.a[1] > p[1]) == (e.b[1] > p[1]) || e.box.Max[0] < p[0] {
		return false
	}
	if e.box.Min[0] > p[0] {
		return true
	}
	if e.arc {
		return e.arcRightOf(p)
	}
	if e.a[1] < e.b[1] {
		return geom.Orient(e.a, e.b, p) > 0
	}
	return geom.Orient(e.b, e.a, p) > 0
}

// arcRightOf decides for a point in the arc's box.
func (e *edge) arcRightOf(p orb.Point) bool {
	w := sub(p, e.c)
	within := norm(w) < e.r
	if e.a[0]+e.b[0] > 2*e.c[0] { // the right half of the circle
		return within || w[0] < 0
	}
	return !within && w[0] < 0
}

// clearance returns the distance of p from the nearest of the edges.
func clearance(p orb.Point, es []edge) float64 {
	best := math.Inf(1)
	for i := range es {
		if boxDist(p, &es[i].box) < best {
			best = math.Min(best, es[i].pointDist(p))
		}
	}
	return best
}

// near returns the edges whose box meets the window.
func (r *region) near(window orb.Bound) []edge {
	var out []edge
	for i := range r.edges {
		if boxesMeet(&r.edges[i].box, &window) {
			out = append(out, r.edges[i])
		}
	}
	return out
}
