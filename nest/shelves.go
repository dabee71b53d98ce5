package nest

import (
	"math"

	"kerfold/geom"
)

// When time is up before everything has a place, what is left is laid in columns of
// boxes: wasteful, but thousands of parts take no time to speak of, and a plan that
// leaves parts out is no plan.

// A shelver fills one sheet so. Parts stand above one another in a column, and a
// column begins where the widest part of the one before ends.
type shelver struct {
	fd     *field
	x, y   float64  // where the next part's box may begin
	past   float64  // where the column's widest box ends
	bodies []sepBox // by shape: extent of the body about the outline's corner, once asked for
}

func newShelver(fd *field) *shelver {
	return &shelver{fd: fd, x: math.Inf(-1), y: math.Inf(-1), past: math.Inf(-1), bodies: make([]sepBox, len(fd.pre.shapes))}
}

// unit lays all copies of a unit, or none.
func (s *shelver) unit(u *unit) bool {
	was, placed := *s, len(s.fd.placed)
	for _, k := range u.kinds {
		if !s.one(k) {
			*s = was
			s.fd.rollback(placed)
			return false
		}
	}
	return true
}

// one lays a copy of a kind in the column under way, or else begins another.
func (s *shelver) one(kind int32) bool {
	if s.above(kind) {
		return true
	}
	x, y := s.x, s.y
	if s.x, s.y = s.past, math.Inf(-1); s.above(kind) {
		return true
	}
	s.x, s.y = x, y
	return false
}

// above lays a copy on top of the column, in the narrowest turn that fits there.
func (s *shelver) above(kind int32) bool {
	best, ok := spot{}, false
	for _, t := range s.fd.ground.turns[kind] {
		at := spot{kind: kind, turn: int32(t), shape: s.fd.pre.kinds[kind].turns[t].shape}
		if s.fits(&at) && (!ok || s.fd.pre.shapes[at.shape].w < s.fd.pre.shapes[best.shape].w) {
			best, ok = at, true
		}
	}
	if !ok {
		return false
	}
	b := s.body(best.shape)
	s.y, s.past = best.y+b.y1, max(s.past, best.x+b.x1)
	s.fd.place(best)
	return true
}

// shelfSteps is how many heights are tried in a column of a sheet that is no
// rectangle.
const shelfSteps = 40

// fits finds a place for a spot's shape in the column.
func (s *shelver) fits(at *spot) bool {
	in, b := s.fd.inner(at.shape), s.body(at.shape)
	if in.empty {
		return false
	}
	at.x, at.y = max(in.loX, gridUp(s.x-b.x0)), max(in.loY, gridUp(s.y-b.y0))
	if in.box {
		return in.holds(at.x, at.y)
	}
	for step := (in.hiY - at.y) / shelfSteps; at.y <= in.hiY; at.y = gridUp(at.y + step) {
		if in.holds(at.x, at.y) {
			return true
		}
		if step < geom.Grid {
			break
		}
	}
	return false
}

// gridUp is the next grid coordinate that is no smaller.
func gridUp(v float64) float64 { return geom.Snap(v + geom.Grid/2) }

func (s *shelver) body(shape int) sepBox {
	b := &s.bodies[shape]
	if *b == (sepBox{}) {
		e := geom.Bounds(s.fd.pre.shapes[shape].body)
		*b = sepBox{e.Min[0], e.Min[1], e.Max[0], e.Max[1]}
	}
	return *b
}
