package shop

import (
	"fmt"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// maxHoles bounds the pairs that are checked against each other.
const maxHoles = 500

// cutouts adds the holes listed under key to a shape: plain shapes with their
// middle at x, y from the part's lower left corner.
func (f *fields) cutouts(key string, s *geom.Shape) {
	items := f.items(key)
	if len(items) > maxHoles {
		f.fault(f.at(key), fmt.Sprintf("%s lists %d, more than %d", key, len(items), maxHoles), "use a drawing")
		return
	}
	base := s.Bounds().Min
	for i, item := range items {
		h := f.log.open(item, fmt.Sprintf("%s, hole %d", f.subject, i+1))
		if c, ok := h.cutout(base, orb.Point{}); ok {
			h.addHole(s, c)
		}
		h.done()
		f.faulty = f.faulty || h.faulty
	}
}

// cutout reads one hole, placed: its middle at x, y from corner, or, for an
// outline without x and y, where its points say, moved by shift.
func (f *fields) cutout(corner, shift orb.Point) (geom.Contour, bool) {
	kind, ok := f.choice("shape", "disc", "rectangle", "obround", "polygon", "outline")
	if !ok {
		if f.has("shape") {
			f.knowShapes()
			f.known = append(f.known, "x_mm", "y_mm", "turn_deg")
			return nil, false
		}
		kind = f.likelyShape()
	}
	x, okX := f.quantity("x", &length, anyOffset)
	y, okY := f.quantity("y", &length, anyOffset)
	turn, _ := f.quantity("turn", &angle, limits{low: -360, high: 360})
	s, _, ok := f.shape(kind)
	if kind == "outline" && !okX && !okY && turn == 0 {
		return snapped(moved(s.Outer, 0, shift[0], shift[1])), ok
	}
	if !okX {
		f.missing("say where its middle is, from the left edge, such as x_mm: 20", length.keys("x")...)
	}
	if !okY {
		f.missing("say where its middle is, from the lower edge, such as y_mm: 20", length.keys("y")...)
	}
	if !ok || !okX || !okY {
		return nil, false
	}
	mid := s.Bounds().Center()
	centred := moved(s.Outer, 0, -mid[0], -mid[1])
	return snapped(moved(centred, turn, corner[0]+x, corner[1]+y)), true
}

// likelyShape is what a hole without shape: must be, by its sizes.
func (f *fields) likelyShape() string {
	switch {
	case f.has(length.keys("points")...):
		return "outline"
	case f.has(length.keys("width")...):
		return "rectangle"
	}
	return "disc"
}

// addHole adds a hole that lies inside the shape and clear of its other holes.
func (f *fields) addHole(s *geom.Shape, c geom.Contour) {
	ring := flat(c)
	if !inside(ring, flat(s.Outer)) {
		f.fault(f.v.at, "the hole is not inside the part", "move it or make it smaller")
		return
	}
	for _, other := range s.Holes {
		o := flat(other)
		if meet(ring, o) || inside(ring, o) || inside(o, ring) {
			f.fault(f.v.at, "the hole meets another one", "move it, make it smaller, or draw both as one outline")
			return
		}
	}
	s.Holes = append(s.Holes, c)
}
