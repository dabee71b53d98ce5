package nest

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// prepared is a problem made ready for the searches, and shared by all of them:
// every part in every allowed turn, snapped to the grid, grown so that bodies
// that only touch keep the spacing; and every ground shrunk so that outlines
// inside it keep the margin. It is read-only once made, so goroutines may share
// it.
//
// How to use it: parts in different turns are shapes, and equal outlines are one
// shape whatever part or turn they come from. A shape lies in its own frame with
// the lower left corner of its outline's bounding box at (0, 0); a layout puts
// that corner at grid points (x, y), and [turned.pose] gives the pose to report.
//
//   - two shapes are legally apart when their bodies' interiors do not meet;
//   - a shape is legally on a ground when its outline lies in ground.region.
type prepared struct {
	problem Problem
	kinds   []kind // one per Problem.Parts
	shapes  []shape
	grounds []ground // one per Problem.Sheets, or one for the strip
	// quarters lists the shapes that a shape gives in quarter turns.
	quarters map[int][4]int
}

// A kind is one entry of Problem.Parts made ready.
type kind struct {
	area     float64 // of the true outline
	turns    []turned
	distinct []int32 // the first turn of every shape
}

// turned is a kind in one allowed turn.
type turned struct {
	Turn
	shape  int     // index into prepared.shapes
	dx, dy float64 // the turned outline is the shape's moved by (dx, dy)
}

// pose is where the part lies when its shape's corner is at (x, y).
func (t turned) pose(x, y float64) geom.Pose {
	return geom.Pose{X: x - t.dx, Y: y - t.dy, AngleDeg: t.AngleDeg, Mirror: t.Mirror}
}

// know adds a turn that the part already lies in, if it is new.
func (k *kind) know(pool *shapePool, outline orb.Polygon, t Turn) {
	for _, have := range k.turns {
		if have.Turn == t {
			return
		}
	}
	k.turns = append(k.turns, pool.turned(outline, t))
}

// A shape is an outline as it lies, up to translation.
type shape struct {
	outline orb.Polygon // as asked for; inside a ground this is what counts
	body    orb.Polygon // grown by half the spacing; between parts this is what counts
	w, h    float64     // extent of outline
	area    float64     // of outline
	base    int         // the shape this is a quarter turn of, or itself
	quarter int         // how many quarter turns of base it is
}

// A ground is a sheet or the strip, ready to be laid on.
type ground struct {
	index  int // in prepared.grounds
	strip  bool
	sheet  int           // index into Problem.Sheets; 0 for the strip
	region []orb.Polygon // where outlines may lie; nil for the strip
	width  float64       // strips: the height left after the margins, from y = margin
	margin float64       // strips: where x and y start
	area   float64       // of the sheet as it is bought
	room   float64       // area parts may cover, with a hair to spare for rounding
	cost   float64       // Sheet.Cost, or the area where no sheet has a cost
	count  int
	turns  [][]int // per kind, the indices of the turns its grain allows here
}

// scale is the ground's place on the axis that rates layouts, after grounds that
// cost from in all. A strip counts in millimetres.
func (g *ground) scale(from float64) scale {
	if g.strip {
		return scale{from: from, perMM: 1}
	}
	if len(g.region) == 0 {
		return scale{from: from}
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, piece := range g.region {
		b := geom.Bounds(piece)
		lo, hi = min(lo, b.Min[0]), max(hi, b.Max[0])
	}
	return scale{from: from, perMM: g.cost / (hi - lo), origin: lo}
}

// stripGrainDeg is the grain of a strip: it runs along its length.
const stripGrainDeg = 0.0

// prepare checks the problem and makes it ready.
func prepare(p Problem) (*prepared, error) { return prepareAround(p, nil) }

// prepareAround is prepare for a problem of which some parts are placed, in
// whatever turns: those turns are known too, though nothing else is laid in
// them.
func prepareAround(p Problem, placed []Layout) (*prepared, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	pre := &prepared{problem: p}
	pool := newShapePool(p.Spacing, sepCoarseness*sepGroundSize(p))
	for _, part := range p.Parts {
		pre.kinds = append(pre.kinds, pool.kind(part, grainsOf(p)))
	}
	for _, l := range placed {
		for _, pl := range l.Placements {
			pre.kinds[pl.Part].know(pool, p.Parts[pl.Part].Outline, Turn{AngleDeg: pl.Pose.AngleDeg, Mirror: pl.Pose.Mirror})
		}
	}
	pre.shapes, pre.quarters = pool.shapes, pool.quarterTable()
	dropTightHoles(pre.shapes)
	pre.grounds = groundsOf(p, pre.kinds)
	return pre, nil
}

// grainsOf lists the distinct grains of what there is to lay on; nil is none.
func grainsOf(p Problem) []*float64 {
	if p.StripWidth > 0 {
		along := stripGrainDeg
		return []*float64{&along}
	}
	var grains []*float64
	for i := range p.Sheets {
		grains = appendGrain(grains, p.Sheets[i].Grain)
	}
	return grains
}

func appendGrain(grains []*float64, g *float64) []*float64 {
	for _, have := range grains {
		if have == g || have != nil && g != nil && *have == *g {
			return grains
		}
	}
	return append(grains, g)
}

func groundsOf(p Problem, kinds []kind) []ground {
	if p.StripWidth > 0 {
		along := stripGrainDeg
		return []ground{{
			strip: true, room: math.Inf(1), width: geom.Snap(p.StripWidth) - 2*clearance(p.Margin), margin: clearance(p.Margin),
			count: 1, turns: allowedTurns(p, kinds, &along),
		}}
	}
	grounds := make([]ground, len(p.Sheets))
	priced := false
	for _, s := range p.Sheets {
		priced = priced || s.Cost > 0
	}
	for i, s := range p.Sheets {
		g := ground{
			index: i, sheet: i, region: []orb.Polygon{geom.NormalPolygon(geom.SnapPolygon(stretched(s.Outline)))}, area: geom.PolygonArea(s.Outline), count: s.Count,
			turns: allowedTurns(p, kinds, s.Grain), cost: s.Cost,
		}
		if p.Margin > 0 {
			g.region = geom.Offset(g.region[0], -clearance(p.Margin), geom.ChordTolerance)
		}
		for _, piece := range g.region {
			g.room += geom.PolygonArea(piece)
		}
		g.room *= 1 + 1e-9
		if !priced {
			g.cost = g.area
		}
		grounds[i] = g
	}
	return grounds
}

// allowedTurns lists, per kind, which of its turns the grain allows; of those
// that give one shape only the first.
func allowedTurns(p Problem, kinds []kind, grain *float64) [][]int {
	allowed := make([][]int, len(kinds))
	for i, k := range kinds {
		here := Turns(p.Parts[i], grain)
		for j, t := range k.turns {
			for _, h := range here {
				if h == t.Turn && !k.hasShape(allowed[i], t.shape) {
					allowed[i] = append(allowed[i], j)
				}
			}
		}
	}
	return allowed
}

func (k *kind) hasShape(turns []int, shape int) bool {
	for _, t := range turns {
		if k.turns[t].shape == shape {
			return true
		}
	}
	return false
}

// stretched is a sheet a little longer and higher than it is, by half of what
// geom.SheetAllowance lets parts reach over its edges; its left and lower ends
// stay. See there for why.
func stretched(outline orb.Polygon) orb.Polygon {
	b := geom.Bounds(outline)
	fx := 1 + geom.SheetAllowance/2/(b.Max[0]-b.Min[0])
	fy := 1 + geom.SheetAllowance/2/(b.Max[1]-b.Min[1])
	out := make(orb.Polygon, len(outline))
	for i, ring := range outline {
		out[i] = make(orb.Ring, len(ring))
		for k, p := range ring {
			out[i][k] = orb.Point{b.Min[0] + fx*(p[0]-b.Min[0]), b.Min[1] + fy*(p[1]-b.Min[1])}
		}
	}
	return out
}

// clearance is a distance asked for, on the grid. It is not widened for what
// rounding may take away again: a part that fits a sheet to the micrometre with
// its margins must fit. So a clearance may fall short by TouchTolerance, a few
// millionths of a millimetre, as outlines meant to touch may overlap by it.
func clearance(distance float64) float64 { return geom.Snap(distance) }
