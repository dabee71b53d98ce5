package route

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A room says how much space a lead has.
type room int

const (
	// ample: the pierce hole keeps clear of the slots of other cuts, and so does
	// the lead's slot.
	ample room = iota
	// atEdge: the same, but the pierce hole lies nearer to the sheet's edge or a
	// blocked zone than asked for.
	atEdge
	// narrow: the pierce hole and the lead keep off all parts, but may break
	// into the slot of another cut.
	narrow
	// cramped: the hole is smaller than the pierce hole.
	cramped
	// leadless: the jet pierces on the contour.
	leadless
)

// clearances are the distances a lead must keep from other contours.
type clearances struct{ pierce, lead float64 }

func (o Options) clearances(r room) clearances {
	if r == ample {
		return clearances{o.PierceMM + o.KerfMM + flatTolerance, 1.5*o.KerfMM + flatTolerance}
	}
	return clearances{o.PierceMM + flatTolerance, o.KerfMM/2 + flatTolerance}
}

// A place is the neighbourhood of a start point.
type place struct {
	o    *Options
	ns   []node
	self int
	// in and out are the headings of the contour there.
	in, out orb.Point
	own     []wall
	// others are walls of other pieces and of the sheet; the piece's own other
	// contours lie behind its material and do not matter.
	others []wall
}

// look gathers the walls within r of a spot.
func (pl *place) look(w *walls, p spot, r float64, buf []wall) []wall {
	outline := &pl.ns[pl.self].outline
	pl.in, pl.out = outline.headings(p)
	buf = w.around(outline.at(p), r, buf[:0])
	pl.own, pl.others = pl.own[:0], pl.others[:0]
	for _, s := range buf {
		switch {
		case s.owner == int32(pl.self):
			pl.own = append(pl.own, s)
		case s.owner < 0 || pl.ns[s.owner].piece != pl.ns[pl.self].piece:
			pl.others = append(pl.others, s)
		}
	}
	return buf
}

// scrapSide reports whether a direction from the start point leads into scrap:
// to the right of the contour, in an outer corner of one of its edges, in an
// inner corner of both.
func (pl *place) scrapSide(u orb.Point) bool {
	a, b := cross(pl.in, u) < 0, cross(pl.out, u) < 0
	if cross(pl.in, pl.out) > 0 {
		return a || b
	}
	return a && b
}

// roomFor returns how much space a lead-in has; leadless means too little.
func (pl *place) roomFor(l *lead) room {
	pierce := l.chain[0]
	if !pl.scrapSide(sub(l.chain[l.n-2], l.chain[l.n-1])) ||
		pl.ownGap(pierce) < pl.o.PierceMM+flatTolerance || !pl.clearOfOwn(l.pts()) {
		return leadless
	}
	return pl.roomAmongOthers(l.pts(), pierce)
}

// roomAmongOthers looks at the distances to other contours.
func (pl *place) roomAmongOthers(pts []orb.Point, pierce orb.Point) room {
	full, least := pl.o.clearances(ample), pl.o.clearances(narrow)
	r := ample
	for i := range pl.others {
		s := &pl.others[i]
		g := pointGap(pierce, s.a, s.b)
		if g < least.pierce {
			return leadless
		}
		d := pathGap(pts, s)
		if d < least.lead {
			return leadless
		}
		switch {
		case s.owner == edgeOwner && g < pl.o.PierceMM+pl.o.EdgeMM:
			r = max(r, atEdge)
		case s.owner != edgeOwner && (g < full.pierce || d < full.lead):
			r = narrow
		}
	}
	return r
}

// roomOut returns how much space a lead-out has.
func (pl *place) roomOut(l *lead) room {
	back := *l
	slices.Reverse(back.pts())
	if !pl.scrapSide(sub(l.chain[1], l.chain[0])) || !pl.clearOfOwn(back.pts()) {
		return leadless
	}
	full, least := pl.o.clearances(ample).lead, pl.o.clearances(narrow).lead
	r := ample
	for i := range pl.others {
		d := pathGap(l.pts(), &pl.others[i])
		if d < least {
			return leadless
		}
		if d < full && pl.others[i].owner != edgeOwner {
			r = narrow
		}
	}
	return r
}

func pathGap(pts []orb.Point, s *wall) float64 {
	best := math.Inf(1)
	for i := 1; i < len(pts); i++ {
		best = math.Min(best, segmentGap(pts[i-1], pts[i], s.a, s.b))
	}
	return best
}

func (pl *place) ownGap(p orb.Point) float64 {
	best := math.Inf(1)
	for i := range pl.own {
		best = math.Min(best, pointGap(p, pl.own[i].a, pl.own[i].b))
	}
	return best
}

// clearOfOwn reports whether the lead comes in through open scrap: it does not
// cross its contour, and all along it stays away from the contour by a share of
// the way left to go.
func (pl *place) clearOfOwn(pts []orb.Point) bool {
	at := pts[len(pts)-1]
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		if i == len(pts)-1 {
			b = between(a, at, 1-endShare)
		}
		for k := range pl.own {
			if crossing(a, b, pl.own[k].a, pl.own[k].b) {
				return false
			}
		}
		if !pl.away(a, b, at, len(pts) > 2) {
			return false
		}
	}
	return true
}

// away reports whether the stretch from a to b of a lead that ends in at stays
// away from the contour.
func (pl *place) away(a, b, at orb.Point, arc bool) bool {
	if arc {
		return pl.ownGap(a) >= arcAwayShare*dist(a, at)
	}
	for _, t := range [...]float64{0, 1.0 / 3, 2.0 / 3} {
		p := between(a, b, t)
		if pl.ownGap(p) < awayShare*dist(p, at) {
			return false
		}
	}
	return true
}

const (
	// endShare is the last share of a lead, which lies on the contour.
	endShare = 1.0 / 32
	// awayShare is the sine of the least angle (about 17°) at which a lead may
	// run beside its own contour.
	awayShare = 0.3
	// arcAwayShare is the same at the corners of an arc's chords: an arc of half
	// the radius of a hole leaves it by 0.078 at the last corner.
	arcAwayShare = 0.07
)

func between(a, b orb.Point, t float64) orb.Point {
	return orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}
}
