package nest

import (
	"math"
	"slices"

	"kerfold/geom"
)

// A spot is a copy of a kind, in one of its turns, with the corner of its shape
// at a point.
type spot struct {
	kind, turn int32
	shape      int
	x, y       float64
}

// A field is one ground as it fills: the placed shapes, and a front for every
// shape that was tried on it. Placing and taking back is a stack.
type field struct {
	pre    *prepared
	fits   *fits
	ground *ground
	clip   *clipper
	placed []spot
	used   []float64 // area of the placed copies, after each
	fronts []*front  // per shape, nil until asked for
	open   []*front  // those that exist
	final  bool      // no copy will be taken back
	side   *sideways // brings several fronts up to date at once; nil for one at a time
}

func newField(pre *prepared, fits *fits, g *ground, clip *clipper) *field {
	return &field{pre: pre, fits: fits, ground: g, clip: clip}
}

// place adds a copy.
func (fd *field) place(s spot) {
	fd.placed = append(fd.placed, s)
	fd.used = append(fd.used, fd.usedArea()+fd.pre.kinds[s.kind].area)
}

// usedArea is the area of the placed copies.
func (fd *field) usedArea() float64 {
	if len(fd.used) == 0 {
		return 0
	}
	return fd.used[len(fd.used)-1]
}

// rollback takes the last placed copies back until n are left.
func (fd *field) rollback(n int) {
	fd.drop(len(fd.placed) - n)
	fd.settle()
}

// drop takes the last n copies back; settle must follow before the field is
// asked for anything.
func (fd *field) drop(n int) {
	left := len(fd.placed) - n
	fd.placed, fd.used = fd.placed[:left], fd.used[:left]
}

// settle brings the fronts back to what is placed.
func (fd *field) settle() {
	for _, f := range fd.open {
		f.rollback(len(fd.placed))
	}
}

// placeUnit places all copies of a unit, or none.
func (fd *field) placeUnit(u *unit, turn int32) bool {
	if u.area > fd.ground.room-fd.usedArea() {
		return false
	}
	if len(u.kinds) > 1 {
		turn = AnyTurn
	}
	before := len(fd.placed)
	for _, k := range u.kinds {
		at, ok := fd.spot(k, turn)
		if !ok {
			fd.rollback(before)
			return false
		}
		fd.place(at)
	}
	return true
}

// forget drops the fronts; they are made anew when asked for.
func (fd *field) forget() { fd.fronts, fd.open = nil, nil }

// copy is the field without its fronts.
func (fd *field) copy() *field {
	c := *fd
	c.placed, c.used = slices.Clone(fd.placed), slices.Clone(fd.used)
	c.final, c.side = false, nil
	c.forget()
	return &c
}

func (fd *field) inner(shape int) *inner { return fd.fits.on(fd.ground.index, shape) }

// opened returns the shape's front as it is, made where there was none.
func (fd *field) opened(shape int) *front {
	if fd.fronts == nil {
		fd.fronts = make([]*front, len(fd.pre.shapes))
	}
	f := fd.fronts[shape]
	if f == nil {
		f = &front{shape: shape, dead: -1, final: fd.final, segs: append([]seg(nil), fd.inner(shape).border...)}
		fd.fronts[shape] = f
		fd.open = append(fd.open, f)
	}
	return f
}

// update takes into a front what was placed since it was last asked for.
func (fd *field) update(f *front, clip *clipper) {
	in := fd.inner(f.shape)
	for i := len(f.steps); i < len(fd.placed); i++ {
		s := fd.placed[i]
		clip.step(f, newPlacedNo(fd.fits.apart(s.shape, f.shape), s.x, s.y), in)
	}
}

// lowest is the leftmost, then lowest legal point for the shape's corner, on
// the grid. What found no place finds none later.
func (fd *field) lowest(shape int) (x, y float64, ok bool) {
	if fd.inner(shape).empty {
		return 0, 0, false
	}
	f := fd.opened(shape)
	if f.dead >= 0 {
		return 0, 0, false
	}
	fd.update(f, fd.clip)
	pastX, pastY := -2.0*stripReach, 0.0
	for {
		x, y, ok = f.leftmostAfter(pastX, pastY)
		// The front is right up to rounding where many borders meet; the test
		// of the point itself decides.
		if !ok {
			f.dead = len(fd.placed)
			return 0, 0, false
		}
		if fd.legal(f, x, y) {
			return x, y, true
		}
		pastX, pastY = x, y
	}
}

// legal tests a point against the ground and every placed shape.
func (fd *field) legal(f *front, x, y float64) bool {
	return fd.inner(f.shape).holds(x, y) && f.free(x, y, len(f.near))
}

// leftmostAfter is the leftmost, then lowest end of a seg, on the grid, that
// comes after the given point in that order.
func (f *front) leftmostAfter(pastX, pastY float64) (x, y float64, ok bool) {
	x, y = 2*stripReach, 0
	for i := range f.segs {
		s := &f.segs[i]
		if s.ax <= x+geom.Grid && s.ax >= pastX-geom.Grid {
			x, y = nearer(x, y, geom.Snap(s.ax), geom.Snap(s.ay), pastX, pastY)
		}
		if s.bx <= x+geom.Grid && s.bx >= pastX-geom.Grid {
			x, y = nearer(x, y, geom.Snap(s.bx), geom.Snap(s.by), pastX, pastY)
		}
	}
	return x, y, x < 2*stripReach
}

func nearer(x, y, cx, cy, pastX, pastY float64) (float64, float64) {
	past := cx > pastX || cx == pastX && cy > pastY
	if past && (cx < x || cx == x && cy < y) {
		return cx, cy
	}
	return x, y
}

// spot finds where a copy of a kind goes: of the turns left open, the one whose
// right end is leftmost, then the lowest, then the first listed. With the turn
// given it is that one's leftmost and then lowest legal point.
func (fd *field) spot(kind, turn int32) (best spot, ok bool) {
	if turn != AnyTurn {
		return fd.spotTurned(kind, turn)
	}
	fd.updateTurns(kind)
	bestEnd := math.Inf(1)
	for _, t := range fd.ground.turns[kind] {
		at, found := fd.spotTurned(kind, int32(t))
		end := at.x + fd.pre.shapes[at.shape].w
		if found && (end < bestEnd || end == bestEnd && at.y < best.y) {
			best, ok, bestEnd = at, true, end
		}
	}
	return best, ok
}

// spotTurned is spot for one turn. A turn stands for the shape it gives: of the
// turns that give it, the first that the ground's grain allows is taken.
func (fd *field) spotTurned(kind, turn int32) (at spot, ok bool) {
	turns := fd.pre.kinds[kind].turns
	shape := turns[turn].shape
	for _, t := range fd.ground.turns[kind] {
		if turns[t].shape == shape {
			at = spot{kind: kind, turn: int32(t), shape: shape}
			at.x, at.y, ok = fd.lowest(shape)
			return at, ok
		}
	}
	return at, false
}
