package nest

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A sepKind is a distinct part outline as the separation sees it: moved so that
// its reference point, the centre of its box, is the origin.
type sepKind struct {
	part   int
	centre orb.Point // reference point in the part's own frame, on the grid
	pieces []orb.Ring
	hull   orb.Ring
	area   float64
	size   float64     // square root of the hull's area
	zone   bool        // a blocked zone or what lies around a sheet, not a part
	free   bool        // may lie at any angle
	body   *sepBody    // where some pair has no table
	lean   orb.Polygon // the outline as searched with, about the reference point
	form0  int         // index of its first form
	forms  int
}

// A sepForm is a kind in one allowed orientation.
//
// A free kind has one form, or two where it may be mirrored; its items' angles
// are their own, and turn and rot are those of angle 0.
type sepForm struct {
	kind int
	turn Turn
	rot  sepMatrix
	ext  sepBox // extent about the reference point
	free bool
	also []Turn // other turns in which the outline lies alike
}

// is reports whether the form is a turn, or lies alike.
func (f *sepForm) is(angle float64, mirror bool) bool {
	same := func(t Turn) bool {
		return t.Mirror == mirror && (f.free || math.Abs(t.AngleDeg-angle) <= grainToleranceDeg)
	}
	return same(f.turn) || slices.ContainsFunc(f.also, same)
}

// A sepMatrix is a linear map, row by row.
type sepMatrix struct{ xx, xy, yx, yy float64 }

func (m sepMatrix) apply(x, y float64) (float64, float64) {
	return m.xx*x + m.xy*y, m.yx*x + m.yy*y
}

// inverse of an orthogonal map is its transpose.
func (m sepMatrix) inverse() sepMatrix { return sepMatrix{m.xx, m.yx, m.xy, m.yy} }

func (m sepMatrix) times(n sepMatrix) sepMatrix {
	return sepMatrix{
		m.xx*n.xx + m.xy*n.yx, m.xx*n.xy + m.xy*n.yy,
		m.yx*n.xx + m.yy*n.yx, m.yx*n.xy + m.yy*n.yy,
	}
}

func sepTurnMatrix(t Turn) sepMatrix {
	s, c := geom.SinCosDeg(t.AngleDeg)
	m := sepMatrix{c, -s, s, c}
	if t.Mirror {
		m.xx, m.yx = -m.xx, -m.yx
	}
	return m
}

func sepNewKind(part int, outline orb.Polygon, tolerance float64) (sepKind, error) {
	b := outline[0].Bound()
	k := sepKind{part: part, centre: orb.Point{
		geom.Snap((b.Min[0] + b.Max[0]) / 2), geom.Snap((b.Min[1] + b.Max[1]) / 2),
	}}
	k.lean = geom.NormalPolygon(sepMoved(outline, k.centre))
	k.area = geom.PolygonArea(k.lean)
	if len(k.lean) == 0 || k.area <= 0 {
		return k, fmt.Errorf("part %d: the outline encloses no area; redraw it", part+1)
	}
	k.simplify(tolerance)
	k.pieces = geom.ConvexPieces(k.lean)
	k.hull = geom.ConvexHull(k.lean[0])
	k.size = math.Sqrt(ringArea(k.hull))
	return k, nil
}

// sepManyCorners is how many corners an outline may have before it is
// simplified for the search.
const sepManyCorners = 48

// simplify replaces an outline of many corners by one that contains it and is
// nowhere more than the tolerance beyond it.
func (k *sepKind) simplify(tolerance float64) {
	corners, length := 0, 0.0
	for _, r := range k.lean {
		corners += len(r)
		length += geom.RingLength(r)
	}
	if corners > sepManyCorners && tolerance > 0 {
		k.lean = geom.SimplifyOutwardWithin(k.lean, length*tolerance/k.area, tolerance)
	}
}

func sepMoved(poly orb.Polygon, by orb.Point) orb.Polygon {
	out := make(orb.Polygon, len(poly))
	for i, ring := range poly {
		out[i] = make(orb.Ring, len(ring))
		for j, p := range ring {
			out[i][j] = orb.Point{p[0] - by[0], p[1] - by[1]}
		}
	}
	return out
}

func sepNewForm(kind int, k *sepKind, t Turn) sepForm {
	f := sepForm{kind: kind, turn: t, rot: sepTurnMatrix(t), free: k.free}
	f.ext = sepExtent(k.hull, f.rot)
	return f
}

// sepExtent is the box of a turned ring.
func sepExtent(ring orb.Ring, m sepMatrix) sepBox {
	b := sepBox{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range ring {
		x, y := m.apply(p[0], p[1])
		b.x0, b.y0 = min(b.x0, x), min(b.y0, y)
		b.x1, b.y1 = max(b.x1, x), max(b.y1, y)
	}
	return b
}

// lie returns how a form at an angle is turned and how far it extends.
func (s *sepStore) lie(form int32, angle float64) (sepMatrix, sepBox) {
	f := &s.forms[form]
	if !f.free {
		return f.rot, f.ext
	}
	m := sepTurnMatrix(Turn{AngleDeg: angle, Mirror: f.turn.Mirror})
	return m, sepExtent(s.kinds[f.kind].hull, m)
}

// narrowest is the least extent along x that a form can have.
func (s *sepStore) narrowest(form int32) float64 {
	f := &s.forms[form]
	if !f.free {
		return f.ext.x1 - f.ext.x0
	}
	w, _ := geom.MinWidth(s.kinds[f.kind].hull)
	return w
}

// leanest is an extent no larger than any the form can have: of a free form, a
// square of its least width.
func (s *sepStore) leanest(form int32) sepBox {
	f := &s.forms[form]
	if !f.free {
		return f.ext
	}
	w := s.narrowest(form) / 2
	return sepBox{-w, -w, w, w}
}

// flatAngles are those that lay a side of a free kind's hull along the x axis; in
// one of them the kind is as low as in any.
func (k *sepKind) flatAngles() []float64 {
	angles := make([]float64, len(k.hull))
	for i, p := range k.hull {
		q := k.hull[(i+1)%len(k.hull)]
		angles[i] = sepSnapAngle(-math.Atan2(q[1]-p[1], q[0]-p[0]) * 180 / math.Pi)
	}
	return angles
}
