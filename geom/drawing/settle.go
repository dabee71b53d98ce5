package drawing

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// settle puts the used strokes on the grid and returns their extents. A
// drawing far from its origin, as drawings of places are, is moved near to it
// first: a part does not care where it was drawn.
func (d *draft) settle() (size orb.Bound, moved orb.Point) {
	if !inside(d.drawn.Bounds, geom.MaxCoordinate) {
		moved = d.nearer()
	}
	size = emptyBound()
	kept := d.strokes[:0]
	for _, s := range d.strokes {
		if s.out == "" {
			for i := range s.verts {
				p := s.verts[i].P
				s.verts[i].P = geom.SnapPoint(orb.Point{p[0] + moved[0], p[1] + moved[1]})
			}
			b := growBy(emptyBound(), s.segments())
			if !inside(b, geom.MaxCoordinate) {
				d.outOfRange(s.from, s.layer)
				continue
			}
			size = grow(size, b)
		}
		kept = append(kept, s)
	}
	d.strokes = kept
	return size, moved
}

// nearer returns the move, in whole metres, that brings most of the drawing
// near the origin; none where most of it is near already and only strays are
// not.
func (d *draft) nearer() (move orb.Point) {
	var xs, ys []float64
	for _, s := range d.strokes {
		for _, v := range s.verts {
			if s.out == "" {
				xs, ys = append(xs, v.P[0]), append(ys, v.P[1])
			}
		}
	}
	if len(xs) == 0 {
		return move
	}
	slices.Sort(xs)
	slices.Sort(ys)
	x, y := xs[(len(xs)-1)/2], ys[(len(ys)-1)/2]
	if within(orb.Point{x, y}, geom.MaxCoordinate/2) {
		return move
	}
	move = orb.Point{-math.Round(x/1000) * 1000, -math.Round(y/1000) * 1000}
	d.log.add(Finding{
		Kind: Moved, Level: Note,
		Text: "the drawing lies " + mm(math.Hypot(x, y)) + " from its origin; it was moved near to it by " + number(move[0]) + ", " + number(move[1]) + " mm",
	})
	return move
}
