package nest

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A holeKind is the holes of one part that are alike, and what is known of what
// they can hold. A part that lies in a hole takes no room of the sheet, so what
// all holes hold at most must be known to say what lies on the sheets at least.
type holeKind struct {
	part  int
	count int // in each copy
	girth girth
	round float64    // radius of a disc that the hole, half the spacing off, lies in
	area  float64    // of the hole, half the spacing off
	rules []holeRule // what one of them holds directly, what lies in holes there not counted
	fits  []int      // parts that may lie in it, rising
}

// A holeRule is: the loads of the parts in a hole come to no more than room.
type holeRule struct {
	room float64
	load []float64 // by part
}

// findHoles lists the holes of the wanted parts in which wanted parts may lie.
func (b *bounder) findHoles() []holeKind {
	var list []holeKind
	for i, n := range b.counts {
		if n == 0 {
			continue
		}
		if holes, ok := b.twinHoles(list, i); ok {
			list = append(list, holes...)
			continue
		}
		first := len(list)
		for _, ring := range b.pre.problem.Parts[i].Outline[1:] {
			h := b.holeKind(i, ring)
			same := slices.IndexFunc(list[first:], func(o holeKind) bool { return o.girth == h.girth && o.round == h.round })
			if same >= 0 {
				list[first+same].count++
				continue
			}
			if h.fits = b.fitting(&h); len(h.fits) > 0 {
				list = append(list, h)
			}
		}
	}
	for i := range list {
		b.rule(&list[i])
	}
	return list
}

func (b *bounder) holeKind(part int, ring orb.Ring) holeKind {
	half := b.pre.problem.Spacing / 2
	h := holeKind{part: part, count: 1, girth: girthOf(ring), round: outerDisc(ring) - half + geom.TouchTolerance}
	pieces, slack := []orb.Polygon{{geom.ReverseRing(ring)}}, geom.TouchTolerance
	if half > 0 {
		pieces, slack = geom.Offset(pieces[0], -half, geom.ChordTolerance), slack+geom.ChordTolerance
	}
	for _, p := range pieces {
		h.area += geom.PolygonArea(p) + slack*geom.PolygonLength(p)
	}
	return h
}

// fitting lists the parts that may lie in a hole, as far as is known.
func (b *bounder) fitting(h *holeKind) []int {
	var list []int
	for i, n := range b.counts {
		if n > 0 && b.girths[i].within(h.girth) && b.discs[i] <= h.round {
			list = append(list, i)
		}
	}
	return list
}

// rule writes down what a hole holds at most: by area; and, for some least radius
// at a time, how many discs of that it holds at most, of which a disc that none
// of them can lie beside takes all.
func (b *bounder) rule(h *holeKind) {
	area := holeRule{room: h.area, load: make([]float64, len(b.counts))}
	var radii []float64
	for _, i := range h.fits {
		area.load[i] = b.filled[i]
		radii = append(radii, b.discs[i])
	}
	h.rules = append(h.rules, area)
	for _, least := range spread(radii, discRadii) {
		room := float64(discsWithin(h.round / least))
		r := holeRule{room: room, load: make([]float64, len(b.counts))}
		for _, i := range h.fits {
			switch {
			case b.discs[i] < least:
			case b.discs[i]+least > h.round:
				r.load[i] = room
			default:
				r.load[i] = 1
			}
		}
		h.rules = append(h.rules, r)
	}
}

// discsWithin is how many discs of radius 1 lie in one of the radius given at
// most. The radii that up to nine need are known (Graham 1968, "Sets of points with
// given minimum separation"; Pirl 1969; from memory, unverified); for more of them
// areas decide.
func discsWithin(radius float64) int {
	for n, least := range discsLeast {
		if radius < least*(1-boundSlack) {
			return n
		}
	}
	return int(radius * radius * (1 + boundSlack))
}

// discsLeast[n] is the radius that n + 1 discs of radius 1 need.
var discsLeast = [...]float64{
	1, 2, 1 + 2/math.Sqrt(3), 1 + math.Sqrt2, 1 + math.Sqrt(2+2/math.Sqrt(5)), 3, 3, 1 + 1/math.Sin(math.Pi/7), 1 + math.Sqrt(4+2*math.Sqrt2),
}

// outerDisc is the radius of a disc that an outline lies in.
func outerDisc(ring orb.Ring) float64 {
	box := geom.RingBounds(ring)
	radius := math.Inf(1)
	for _, c := range []orb.Point{box.Center(), geom.Pole(orb.Polygon{geom.ReverseRing(ring)}, 0).Center} {
		far := 0.0
		for _, p := range ring {
			far = max(far, math.Hypot(p[0]-c[0], p[1]-c[1]))
		}
		radius = min(radius, far)
	}
	return radius
}
