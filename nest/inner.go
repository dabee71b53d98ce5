package nest

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// An inner is where the corner of one shape may lie on one ground when nothing
// else does: the inner-fit region.
type inner struct {
	box    bool // the region is the box; else it is fit
	loX    float64
	hiX    float64
	loY    float64
	hiY    float64
	fit    *nofit
	border []seg
	empty  bool
}

// stripReach bounds a strip's length in millimetres; no strip of parts gets near.
const stripReach = geom.MaxCoordinate

// newInner finds the inner-fit region of a shape on a ground.
func newInner(g *ground, s *shape) *inner {
	if g.strip {
		return boxInner(orb.Bound{
			Min: orb.Point{g.margin, g.margin},
			Max: orb.Point{stripReach, g.margin + g.width - s.h},
		})
	}
	var fit geom.Region
	for _, piece := range g.region {
		r := geom.InnerFit(piece, s.outline)
		fit.Rings = append(fit.Rings, r.Rings...)
		fit.Segments = append(fit.Segments, r.Segments...)
		fit.Points = append(fit.Points, r.Points...)
	}
	if fit.Empty() {
		return &inner{empty: true}
	}
	return fitInner(fit)
}

// boxInner is an inner whose region is a box, perhaps of no width or height.
func boxInner(b orb.Bound) *inner {
	if b.Min[0] > b.Max[0] || b.Min[1] > b.Max[1] {
		return &inner{empty: true}
	}
	in := &inner{box: true}
	in.widen(b)
	in.border = []seg{
		{b.Min[0], b.Min[1], b.Min[0], b.Max[1]},
		{b.Min[0], b.Min[1], b.Max[0], b.Min[1]},
	}
	if b.Max[1] > b.Min[1] {
		in.border = append(in.border, seg{b.Min[0], b.Max[1], b.Max[0], b.Max[1]})
	}
	if b.Max[0] > b.Min[0] {
		in.border = append(in.border, seg{b.Max[0], b.Min[1], b.Max[0], b.Max[1]})
	}
	return in
}

func fitInner(fit geom.Region) *inner {
	in := &inner{fit: newNofit(fit)}
	in.widen(fit.Bounds())
	for _, e := range in.fit.edges {
		in.border = append(in.border, seg{e.ax, e.ay, e.ax + e.ux*e.length, e.by})
	}
	return in
}

func (in *inner) widen(b orb.Bound) {
	in.loX, in.hiX = b.Min[0]-contactTolerance, b.Max[0]+contactTolerance
	in.loY, in.hiY = b.Min[1]-contactTolerance, b.Max[1]+contactTolerance
}

// holds tells whether the point lies in the region, or off it by no more than
// contactTolerance.
func (in *inner) holds(x, y float64) bool {
	if in.empty || x < in.loX || x > in.hiX || y < in.loY || y > in.hiY {
		return false
	}
	return in.box || in.fit.covers(x, y)
}

// covers tells whether a point lies inside, on the border, or off it by no more
// than contactTolerance.
func (n *nofit) covers(x, y float64) bool {
	inside := false
	for i := range n.edges {
		e := &n.edges[i]
		if y < e.loY || y > e.hiY {
			continue
		}
		side := e.ux*(y-e.ay) - e.uy*(x-e.ax)
		if math.Abs(side) <= contactTolerance && x >= e.loX && x <= e.hiX {
			return true
		}
		if (e.ay > y) != (e.by > y) && i < n.winding && (side > 0) == (e.by > e.ay) {
			inside = !inside
		}
	}
	return inside
}
