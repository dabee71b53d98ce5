package nest

import (
	"slices"
	"strconv"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// shapePool collects the distinct shapes of a problem.
type shapePool struct {
	spacing float64
	coarse  float64 // how far bodies of many corners may grow, mm
	shapes  []shape
	byKey   map[string]int
}

func newShapePool(spacing, coarse float64) *shapePool {
	return &shapePool{spacing: spacing, coarse: coarse, byKey: map[string]int{}}
}

// kind makes a part ready in every turn that one of the grains allows.
func (sp *shapePool) kind(p Part, grains []*float64) kind {
	k := kind{area: geom.PolygonArea(p.Outline)}
	var turns []Turn
	for _, g := range grains {
		for _, t := range Turns(p, g) {
			turns = appendTurn(turns, t)
		}
	}
	var seen []int
	for i, t := range turns {
		k.turns = append(k.turns, sp.turned(p.Outline, t))
		if !k.hasShape(seen, k.turns[i].shape) {
			seen = append(seen, i)
			k.distinct = append(k.distinct, int32(i))
		}
	}
	return k
}

func (sp *shapePool) turned(outline orb.Polygon, t Turn) turned {
	lying := geom.TransformPolygon(outline, geom.Pose{AngleDeg: t.AngleDeg, Mirror: t.Mirror})
	lying = geom.NormalPolygon(geom.SnapPolygon(lying))
	low := geom.Bounds(lying).Min
	lying = geom.TranslatePolygon(lying, orb.Point{-low[0], -low[1]})
	return turned{Turn: t, shape: sp.intern(lying), dx: low[0], dy: low[1]}
}

// intern returns the index of the outline's shape, making it when it is new.
func (sp *shapePool) intern(outline orb.Polygon) int {
	key := outlineKey(outline)
	if i, ok := sp.byKey[key]; ok {
		return i
	}
	i := len(sp.shapes)
	s := newShape(outline)
	s.base = i
	sp.relate(outline, &s)
	if s.body == nil {
		s.body = sp.body(outline)
	}
	sp.byKey[key] = i
	sp.shapes = append(sp.shapes, s)
	return i
}

// manyCorners is how many corners a body may have before it is simplified. A
// rectangle grown by half a spacing has some twenty.
const manyCorners = 40

// body is the outline as other parts see it: grown by half the spacing and, where
// that has many corners, in a simpler form that contains it. Between part and
// sheet the outline itself counts, so that what fits a sheet to the micrometre
// still fits.
func (sp *shapePool) body(outline orb.Polygon) orb.Polygon {
	body := outline
	if sp.spacing > 0 {
		body = grow(outline, clearance(sp.spacing)/2)
	}
	corners := 0
	for _, ring := range body {
		corners += len(ring)
	}
	if corners > manyCorners && sp.coarse > 0 {
		body = geom.SimplifyOutwardWithin(body, geom.PolygonLength(body)*sp.coarse/geom.PolygonArea(body), sp.coarse)
	}
	return body
}

// newShape is a shape without its body.
func newShape(outline orb.Polygon) shape {
	b := geom.Bounds(outline)
	return shape{outline: outline, w: b.Max[0] - b.Min[0], h: b.Max[1] - b.Min[1], area: geom.PolygonArea(outline)}
}

// outlineKey spells an outline independently of where its rings start and of
// the order of its holes.
func outlineKey(poly orb.Polygon) string {
	keys := make([]string, len(poly))
	for i, ring := range poly {
		keys[i] = ringKey(ring)
	}
	if len(keys) > 1 {
		slices.Sort(keys[1:])
	}
	var all []byte
	for _, k := range keys {
		all = append(append(all, k...), '|')
	}
	return string(all)
}

func ringKey(ring orb.Ring) string {
	first := 0
	for i, p := range ring {
		if lessPoint(p, ring[first]) {
			first = i
		}
	}
	var key []byte
	for i := range ring {
		p := ring[(first+i)%len(ring)]
		key = strconv.AppendFloat(key, p[0]/geom.Grid, 'f', 0, 64)
		key = append(key, ' ')
		key = strconv.AppendFloat(key, p[1]/geom.Grid, 'f', 0, 64)
		key = append(key, ',')
	}
	return string(key)
}

func lessPoint(a, b orb.Point) bool {
	return a[0] < b[0] || a[0] == b[0] && a[1] < b[1]
}

// dropTightHoles takes from the bodies the holes into which no body fits by its
// extent alone: bolt holes cost time in every no-fit polygon and hold nothing.
func dropTightHoles(shapes []shape) {
	bodies := make([]orb.Bound, len(shapes))
	for i, s := range shapes {
		bodies[i] = geom.Bounds(s.body)
	}
	for i := range shapes {
		body := shapes[i].body
		kept := body[:1:1]
		for _, hole := range body[1:] {
			if holdsSome(geom.RingBounds(hole), bodies) {
				kept = append(kept, hole)
			}
		}
		shapes[i].body = kept
	}
}

func holdsSome(hole orb.Bound, bodies []orb.Bound) bool {
	for _, b := range bodies {
		if b.Max[0]-b.Min[0] <= hole.Max[0]-hole.Min[0] && b.Max[1]-b.Min[1] <= hole.Max[1]-hole.Min[1] {
			return true
		}
	}
	return false
}

// grow is the outline grown by d millimetres, never less. Growing a connected
// outline gives one piece.
func grow(outline orb.Polygon, d float64) orb.Polygon {
	return geom.Offset(outline, d, geom.ChordTolerance)[0]
}

// ringArea is the signed area of a ring.
func ringArea(r orb.Ring) float64 { return geom.RingArea(r) }
