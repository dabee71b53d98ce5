package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// segment returns segment i's ends and bulge.
func (c Contour) segment(i int) (a, b orb.Point, bulge float64) {
	j := i + 1
	if j == len(c) {
		j = 0
	}
	return c[i].P, c[j].P, c[i].Bulge
}

// Area is the signed area in mm² with true arcs: positive when the contour
// runs counter-clockwise.
func (c Contour) Area() float64 {
	sum := RingArea(c.corners())
	for i := range c {
		sum += segmentArea(c.segment(i))
	}
	return sum
}

// segmentArea is the signed area between an arc and its chord.
func segmentArea(a, b orb.Point, bulge float64) float64 {
	arc, ok := ArcBetween(a, b, bulge)
	if !ok {
		return 0
	}
	return arc.Radius * arc.Radius * (arc.SweepRad - math.Sin(arc.SweepRad)) / 2
}

// Length is the contour's length in mm, arcs measured along the arc.
func (c Contour) Length() float64 {
	sum := 0.0
	for i := range c {
		sum += segmentLength(c.segment(i))
	}
	return sum
}

func segmentLength(a, b orb.Point, bulge float64) float64 {
	if arc, ok := ArcBetween(a, b, bulge); ok {
		return arc.Length()
	}
	return math.Hypot(b[0]-a[0], b[1]-a[1])
}

// Bounds is the contour's box, the extreme points of arcs included.
func (c Contour) Bounds() orb.Bound {
	box := emptyBound()
	for i := range c {
		box = box.Union(segmentBounds(c.segment(i)))
	}
	return box
}

func segmentBounds(a, b orb.Point, bulge float64) orb.Bound {
	if arc, ok := ArcBetween(a, b, bulge); ok {
		return arc.Bounds().Extend(a).Extend(b)
	}
	return orb.Bound{Min: a, Max: a}.Extend(b)
}

// IsCCW reports whether the contour runs counter-clockwise.
func (c Contour) IsCCW() bool { return c.Area() > 0 }

// Length is the path's length in mm, arcs measured along the arc.
func (p Path) Length() float64 {
	sum := 0.0
	for i := 1; i < len(p); i++ {
		sum += segmentLength(p[i-1].P, p[i].P, p[i-1].Bulge)
	}
	return sum
}

// Bounds is the path's box, the extreme points of arcs included.
func (p Path) Bounds() orb.Bound {
	box := emptyBound()
	for i := 1; i < len(p); i++ {
		box = box.Union(segmentBounds(p[i-1].P, p[i].P, p[i-1].Bulge))
	}
	return box
}

// Area is the shape's area in mm²: the outer contour less the holes, whatever
// way they run.
func (s Shape) Area() float64 {
	sum := math.Abs(s.Outer.Area())
	for _, h := range s.Holes {
		sum -= math.Abs(h.Area())
	}
	return sum
}

// Length is the length of every contour of the shape, in mm: what is cut.
func (s Shape) Length() float64 {
	sum := s.Outer.Length()
	for _, h := range s.Holes {
		sum += h.Length()
	}
	return sum
}

// Bounds is the box of the outer contour.
func (s Shape) Bounds() orb.Bound { return s.Outer.Bounds() }

// emptyBound is the box of nothing: extending it by a box gives that box.
func emptyBound() orb.Bound {
	inf := math.Inf(1)
	return orb.Bound{Min: orb.Point{inf, inf}, Max: orb.Point{-inf, -inf}}
}
