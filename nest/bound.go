package nest

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A Bound is what no plan can go below, whatever the search. It is proven, not
// estimated, and often far from what can be reached.
type Bound struct {
	// Sheets and Cost are the fewest sheets, and the least that sheets cost (by
	// Sheet.Cost, by area where no sheet has one); 0 for a strip.
	Sheets int
	Cost   float64
	// Length is the least length of a strip in millimetres; 0 for sheets.
	Length float64
}

// LowerBound says how few and how cheap sheets, or how short a strip, the wanted
// copies need at least. Copies that fit nowhere alone, and fillers, are left out.
// Where there are fewer sheets than are needed, all of them and one more are the
// bound.
//
// Four things are counted. Parts and half the spacing round them cover area, and
// a sheet has only so much inside its margins. Discs inside them leave room between
// them that nothing covers (bound_discs.go), and only so many of them fit into the
// holes of others (bound_holes.go). Of areas more than half a sheet
// no two share one, and areas between leave room that only smaller ones can use
// (Martello and Toth 1990, the bound L2 of one-dimensional bin packing). Parts
// that cannot lie on one sheet in any two turns, by their no-fit polygons, need a
// sheet each. Which kinds of sheet take a part at all is seen to, so the bound
// holds for sheets of mixed sizes.
//
// The areas it counts with come along.
func LowerBound(p Problem) (Bound, Coverage, error) {
	pre, err := prepare(p)
	if err != nil {
		return Bound{}, Coverage{}, err
	}
	counts := make([]int, len(p.Parts))
	for i, part := range p.Parts {
		if !part.Filler {
			counts[i] = part.Quantity
		}
	}
	b := newBounder(pre, newFits(pre, nil), counts)
	return b.bound(), b.coverage(), nil
}

// A bounder works a bound out.
type bounder struct {
	pre    *prepared
	fits   *fits
	counts []int       // by part
	twins  []int       // by part: the first of the same outline
	area   []float64   // by part: covered for sure, with half the spacing
	mask   []groundSet // by part: the grounds that take it
	room   []float64   // by ground
	girths []girth     // by part
	filled []float64   // by part: area, holes and all, with half the spacing
	discs  []float64   // by part: radius of a disc inside, with half the spacing
	holes  []holeKind  // in which parts may lie
	box    []float64   // by ground: the boxes its room lies in
}

func newBounder(pre *prepared, fits *fits, counts []int) *bounder {
	b := &bounder{pre: pre, fits: fits, counts: counts, twins: twinsOf(pre.problem.Parts)}
	b.area = make([]float64, len(counts))
	b.mask = make([]groundSet, len(counts))
	b.filled, b.discs = make([]float64, len(counts)), make([]float64, len(counts))
	for _, part := range pre.problem.Parts {
		b.girths = append(b.girths, girthOf(part.Outline[0]))
	}
	for i, n := range counts {
		if n > 0 {
			b.mask[i] = b.takers(i)
		}
		if b.mask[i] == 0 {
			b.counts[i] = 0
			continue
		}
		b.sizeOnce(i)
	}
	b.holes = b.findHoles()
	for g := range pre.grounds {
		b.room = append(b.room, b.roomOf(&pre.grounds[g]))
		b.box = append(b.box, b.boxOf(&pre.grounds[g]))
	}
	return b
}

// A groundSet is a set of grounds, a bit each; those past the last bit share it.
type groundSet uint64

func bitOf(ground int) groundSet { return 1 << min(ground, 63) }

// takers is the set of grounds that a part may fit on. Of a part that may lie at
// any angle only some turns are known, so it counts as fitting wherever its area
// does.
func (b *bounder) takers(part int) groundSet {
	var set groundSet
	k := &b.pre.kinds[part]
	for g := range b.pre.grounds {
		ground := &b.pre.grounds[g]
		if ground.count == 0 {
			continue
		}
		if b.pre.problem.Parts[part].FreeAngle && k.area <= ground.room {
			set |= bitOf(g)
			continue
		}
		for _, turn := range k.distinct {
			if b.fits.allowed(g, part, turn) {
				set |= bitOf(g)
			}
		}
	}
	return set
}

// size works out the area that a part and half the spacing round it take for
// sure: arcs of the grown outline are flattened outwards and outlines may touch by
// the tolerance, so both are taken off again. A hole that no wanted part can lie in
// is covered too. With all holes filled it is what the outline takes where other
// parts may lie in them.
func (b *bounder) size(part int) {
	outline := b.pre.problem.Parts[part].Outline
	body, slack := outline, geom.TouchTolerance
	if s := b.pre.problem.Spacing; s > 0 {
		body, slack = grow(outline, s/2), geom.TouchTolerance+geom.ChordTolerance
	}
	kept := body[:1:1]
	for _, hole := range body[1:] {
		if b.holdsAny(girthOf(hole)) {
			kept = append(kept, hole)
		}
	}
	sure := func(p orb.Polygon) float64 { return max(0, geom.PolygonArea(p)-slack*geom.PolygonLength(p)) }
	b.area[part], b.filled[part] = sure(kept), sure(body[:1])
	b.discs[part] = innerDisc(outline, b.pre.problem.Spacing/2)
}

// A girth is what an outline cannot be less than to hold another: mm and mm².
type girth struct{ width, length, area float64 }

func girthOf(r orb.Ring) girth {
	w, _ := geom.MinWidth(r)
	return girth{w, geom.Diameter(r), math.Abs(geom.RingArea(r))}
}

// holdsAny tells whether some wanted part may lie in an outline, by its girth.
func (b *bounder) holdsAny(in girth) bool {
	for i, n := range b.counts {
		if n > 0 && b.girths[i].within(in) {
			return true
		}
	}
	return false
}

// within tells whether an outline may lie in another, by their girths.
func (g girth) within(in girth) bool {
	return g.width <= in.width && g.length <= in.length && g.area <= in.area
}

// roomOf is the area that parts with half the spacing round them may cover. On
// the strip it is the area of a millimetre's length.
func (b *bounder) roomOf(g *ground) float64 {
	half := b.pre.problem.Spacing / 2
	if g.strip {
		return g.width + 2*half
	}
	room := 0.0
	for _, piece := range g.region {
		if half > 0 {
			piece = grow(piece, half)
		}
		room += geom.PolygonArea(piece)
	}
	return room + geom.TouchTolerance*geom.PolygonLength(b.pre.problem.Sheets[g.sheet].Outline)
}

func (b *bounder) bound() Bound {
	if b.pre.grounds[0].strip {
		return Bound{Length: b.stripBound()}
	}
	needs := b.needs()
	if len(needs) == 0 {
		return Bound{}
	}
	one := func(int) float64 { return 1 }
	price := func(g int) float64 { return b.pre.grounds[g].cost }
	sheets := b.cover(needs, one)
	return Bound{Sheets: int(math.Ceil(sheets - boundSlack)), Cost: b.cover(needs, price)}
}

// boundSlack is the share of a sheet that the rounding of sums may add.
const boundSlack = 1e-6

// stripBound is the strip's least length: that of its area, and of the part that
// lies least narrow.
func (b *bounder) stripBound() float64 {
	g, half := &b.pre.grounds[0], b.pre.problem.Spacing/2
	widest := 0.0
	for i, n := range b.counts {
		if n > 0 {
			widest = max(widest, b.leastExtent(i))
		}
	}
	if widest == 0 {
		return 0
	}
	area, _ := b.proof(bitOf(0)).best()
	return max(area/b.room[0]-2*half, widest) + 2*g.margin - geom.TouchTolerance
}

// leastExtent is how narrow a part can lie along the strip.
func (b *bounder) leastExtent(part int) float64 {
	if b.pre.problem.Parts[part].FreeAngle {
		w, _ := geom.MinWidth(b.pre.problem.Parts[part].Outline[0])
		return w
	}
	least := math.Inf(1)
	for _, t := range b.fits.usable(part) {
		least = min(least, b.pre.shapes[b.pre.kinds[part].turns[t].shape].w)
	}
	return least
}
