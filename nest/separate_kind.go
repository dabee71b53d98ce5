package nest

import (
	"fmt"
	"math"

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
	size   float64 // square root of the hull's area
	zone   bool    // a blocked zone or what lies around a sheet, not a part
	form0  int     // index of its first form
	forms  int
}

// A sepForm is a kind in one allowed orientation.
type sepForm struct {
	kind           int
	turn           Turn
	rot            sepMatrix
	x0, y0, x1, y1 float64 // box about the reference point
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

func sepNewKind(part int, outline orb.Polygon) (sepKind, error) {
	b := outline[0].Bound()
	k := sepKind{part: part, centre: orb.Point{
		geom.Snap((b.Min[0] + b.Max[0]) / 2), geom.Snap((b.Min[1] + b.Max[1]) / 2),
	}}
	moved := sepMoved(outline, k.centre)
	k.pieces = geom.ConvexPieces(moved)
	k.hull = geom.ConvexHull(moved[0])
	for _, r := range k.pieces {
		k.area += ringArea(r)
	}
	k.size = math.Sqrt(ringArea(k.hull))
	if len(k.pieces) == 0 {
		return k, fmt.Errorf("part %d: the outline encloses no area; redraw it", part+1)
	}
	return k, nil
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
	f := sepForm{kind: kind, turn: t, rot: sepTurnMatrix(t)}
	f.x0, f.y0, f.x1, f.y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range k.hull {
		x, y := f.rot.apply(p[0], p[1])
		f.x0, f.y0 = min(f.x0, x), min(f.y0, y)
		f.x1, f.y1 = max(f.x1, x), max(f.y1, y)
	}
	return f
}
