package main

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest"
)

// How near a sheet of one part comes to a lattice is told in two ways. A lattice
// covers the plane; at the sheet's edges whole copies must begin and end, and what
// they leave there no arrangement inside can win back. So the fullest sheet is set
// beside the density in the plane, which no sheet of finite size reaches, and
// beside the most whole copies that a lattice has on this very sheet, over every
// shift and every turn that the part allows. The second is what the rim allows a
// lattice: a search that lays less has not even clipped well, one that lays more
// has used the rim.
//
// That most is exact, not sampled. Let a shift have the most copies inside. Moved
// left until some copy touches the sheet's left edge, and then down until one
// touches the lower edge, the lattice loses no copy on the way, since a copy
// leaves only after touching. So only shifts need be looked at in which one copy
// touches the left edge and one the lower edge, and of these there are about as
// many as copies.

// nearlyDense is the density, as a share of the densest lattice's, down to which
// other lattices count too: one of them may fit the sheet better.
const nearlyDense = 0.97

// lattices lists the densest lattice of the instance's part and those nearly as
// dense; none where there are several kinds.
func (in instance) lattices() []nest.PeriodicLayout {
	if in.strip() || in.Set != gasketSet || len(in.Parts) != 1 {
		return nil
	}
	var turns []nest.Turn
	for _, a := range in.Parts[0].Angles {
		turns = append(turns, nest.Turn{AngleDeg: a})
	}
	list, err := nest.DenseLattices(in.Parts[0].Outline, nest.LatticeOptions{Turns: turns, Spacing: in.Spacing, Seed: 1})
	if err != nil {
		return nil
	}
	for i, l := range list {
		if l.Density < nearlyDense*list[0].Density {
			return list[:i]
		}
	}
	return list
}

// A rimShare sets the fullest sheet of one part beside lattices of it.
type rimShare struct {
	plane   float64 // its density over that of the densest lattice in the plane
	copies  int     // on it
	clipped int     // most whole copies that a lattice has on such a sheet
}

// clip is the fullest sheet's copies over those of the best clipped lattice.
func (s rimShare) clip() float64 {
	if s.clipped == 0 {
		return 0
	}
	return float64(s.copies) / float64(s.clipped)
}

// latticeShare measures an outcome on sheets of one part; all is 0 where the
// instance is not of one kind. In the plane, the sheet counts with the area that
// parts and the gaps between them may take.
func (o outcome) latticeShare() rimShare {
	list := o.in.lattices()
	if len(list) == 0 {
		return rimShare{}
	}
	var s rimShare
	for _, l := range o.result.Layouts {
		s.copies = max(s.copies, len(l.Placements))
	}
	wide := o.in.Spacing - 2*o.in.Margin
	used := float64(s.copies) * geom.PolygonArea(o.in.Parts[0].Outline)
	s.plane = used / ((o.in.Bin[0] + wide) * (o.in.Bin[1] + wide)) / list[0].Density
	for _, l := range list {
		s.clipped = max(s.clipped, o.in.mostClipped(l))
	}
	return s
}

// mostClipped is the most whole copies of a lattice on a sheet, in any turn.
func (in instance) mostClipped(l nest.PeriodicLayout) int {
	most := 0
	for _, deg := range in.Parts[0].Angles {
		if c, ok := in.clipping(l, deg); ok {
			most = max(most, c.most())
		}
	}
	return most
}

// A clipping is a turned lattice and where the copies of its motif may lie: copy k
// of the cell (i, j) is inside when o + i·u + j·v is in fields[k], o being the
// lattice's shift.
type clipping struct {
	u, v   orb.Point
	fields []orb.Bound
}

// clipping turns a lattice, or reports that the part may not lie so.
func (in instance) clipping(l nest.PeriodicLayout, deg float64) (clipping, bool) {
	c := clipping{u: turnedPoint(l.U, deg), v: turnedPoint(l.V, deg)}
	m := in.Margin
	for _, pose := range l.Motif {
		at := turnedPoint(orb.Point{pose.X, pose.Y}, deg)
		pose = geom.Pose{X: at[0], Y: at[1], AngleDeg: geom.NormalDeg(pose.AngleDeg + deg), Mirror: pose.Mirror}
		if !in.Parts[0].mayLie(pose.AngleDeg) {
			return c, false
		}
		b := geom.Bounds(geom.TransformPolygon(in.Parts[0].Outline, pose))
		c.fields = append(c.fields, orb.Bound{
			Min: orb.Point{m - b.Min[0] - touching, m - b.Min[1] - touching},
			Max: orb.Point{in.Bin[0] - m - b.Max[0] + touching, in.Bin[1] - m - b.Max[1] + touching},
		})
	}
	return c, true
}

// touching is how far, in millimetres, a copy may stick out from rounding.
const touching = geom.SheetAllowance

func turnedPoint(p orb.Point, deg float64) orb.Point {
	sin, cos := geom.SinCosDeg(deg)
	return orb.Point{p[0]*cos - p[1]*sin, p[0]*sin + p[1]*cos}
}

func (p part) mayLie(deg float64) bool {
	for _, a := range p.Angles {
		if math.Abs(math.Remainder(a-deg, 360)) < 1e-6 {
			return true
		}
	}
	return p.AnyAngle
}

// most looks at every shift in which one copy touches the left edge and one the
// lower edge.
func (c clipping) most() int {
	most := 0
	for _, left := range c.fields {
		x := left.Min[0] // copy (0, 0) of this field touches
		for _, low := range c.fields {
			// The shift's y is such that copy (i, j) of the other touches below.
			c.visit(orb.Point{x, 0}, orb.Bound{
				Min: orb.Point{low.Min[0], low.Min[1] - left.Max[1]},
				Max: orb.Point{low.Max[0], low.Min[1] - left.Min[1]},
			}, func(_, y float64) {
				most = max(most, c.count(orb.Point{x, low.Min[1] - y}))
			})
		}
	}
	return most
}

// count is how many copies lie inside with the shift o.
func (c clipping) count(o orb.Point) int {
	n := 0
	for _, f := range c.fields {
		c.visit(o, f, func(_, _ float64) { n++ })
	}
	return n
}

// visit lists the points o + i·u + j·v in a rectangle.
func (c clipping) visit(o orb.Point, in orb.Bound, found func(x, y float64)) {
	if in.Max[0] < in.Min[0] || in.Max[1] < in.Min[1] {
		return
	}
	i0, i1 := c.coordinates(o, in, c.v)
	j0, j1 := c.coordinates(o, in, c.u)
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			x, y := o[0]+i*c.u[0]+j*c.v[0], o[1]+i*c.u[1]+j*c.v[1]
			if x >= in.Min[0]-rounding && x <= in.Max[0]+rounding && y >= in.Min[1]-rounding && y <= in.Max[1]+rounding {
				found(x, y)
			}
		}
	}
}

// rounding, in millimetres, is that of sums of a few coordinates.
const rounding = 1e-9

// coordinates is the range of the coordinate across the other basis vector that
// points of the rectangle have.
func (c clipping) coordinates(o orb.Point, in orb.Bound, other orb.Point) (from, to float64) {
	base := c.u
	if other == c.u {
		base = c.v
	}
	det := base[0]*other[1] - base[1]*other[0]
	from, to = math.Inf(1), math.Inf(-1)
	for _, p := range [4]orb.Point{in.Min, in.Max, {in.Min[0], in.Max[1]}, {in.Max[0], in.Min[1]}} {
		at := ((p[0]-o[0])*other[1] - (p[1]-o[1])*other[0]) / det
		from, to = min(from, at), max(to, at)
	}
	return math.Floor(from), math.Ceil(to)
}
