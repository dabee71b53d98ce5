package route

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A segment is one line or arc of a contour.
type segment struct {
	a, b   orb.Point
	bulge  float64
	arc    geom.Arc
	curved bool
	length float64
}

// An outline is a contour one can walk along.
type outline struct {
	segs   []segment
	length float64
}

// A spot is a place on an outline: a share t, below 1, along a segment.
type spot struct {
	seg int
	t   float64
}

func newOutline(c geom.Contour) outline {
	var o outline
	for i, v := range c {
		s := segment{a: v.P, b: c[(i+1)%len(c)].P, bulge: v.Bulge}
		s.arc, s.curved = geom.ArcBetween(s.a, s.b, s.bulge)
		s.length = dist(s.a, s.b)
		if s.curved {
			s.length = s.arc.Length()
		}
		if s.length > 0 {
			o.segs = append(o.segs, s)
			o.length += s.length
		}
	}
	return o
}

func (s *segment) at(t float64) orb.Point {
	switch {
	case t <= 0:
		return s.a
	case t >= 1:
		return s.b
	case s.curved:
		return s.arc.At(t)
	}
	return orb.Point{s.a[0] + t*(s.b[0]-s.a[0]), s.a[1] + t*(s.b[1]-s.a[1])}
}

// heading returns the unit direction of travel.
func (s *segment) heading(t float64) orb.Point {
	if s.curved {
		return s.arc.Tangent(t)
	}
	return unit(sub(s.b, s.a))
}

// part returns the bulge of the stretch of the segment from t to u.
func (s *segment) part(t, u float64) float64 {
	if !s.curved {
		return 0
	}
	return math.Tan((u - t) * math.Atan(s.bulge))
}

func (o *outline) at(p spot) orb.Point { return o.segs[p.seg].at(p.t) }

// headings returns the directions in which the outline arrives at and leaves a
// spot; they differ in corners.
func (o *outline) headings(p spot) (in, out orb.Point) {
	out = o.segs[p.seg].heading(p.t)
	if p.t > 0 {
		return out, out
	}
	before := &o.segs[(p.seg+len(o.segs)-1)%len(o.segs)]
	return before.heading(1), out
}

// from returns the outline as a contour that starts at the spot. An arc that is
// split there stays two arcs of the same circle.
func (o *outline) from(p spot) geom.Contour {
	first := &o.segs[p.seg]
	c := geom.Contour{{P: first.at(p.t), Bulge: first.part(p.t, 1)}}
	for i := 1; i < len(o.segs); i++ {
		s := &o.segs[(p.seg+i)%len(o.segs)]
		c = append(c, geom.Vertex{P: s.a, Bulge: s.bulge})
	}
	if p.t > 0 {
		c = append(c, geom.Vertex{P: first.a, Bulge: first.part(0, p.t)})
	}
	return c
}

// shortened returns the contour as a path from its start that ends tab before
// it closes.
func shortened(c geom.Contour, tab float64) geom.Path {
	o := newOutline(c)
	if len(o.segs) == 0 {
		return nil
	}
	left := o.length - tab
	path := geom.Path{}
	for i := range o.segs {
		s := &o.segs[i]
		if left >= s.length && i < len(o.segs)-1 {
			path = append(path, geom.Vertex{P: s.a, Bulge: s.bulge})
			left -= s.length
			continue
		}
		t := math.Max(0, math.Min(1, left/s.length))
		return append(path, geom.Vertex{P: s.a, Bulge: s.part(0, t)}, geom.Vertex{P: s.at(t)})
	}
	return path
}
