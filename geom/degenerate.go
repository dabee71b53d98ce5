package geom

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
)

// addDegenerate finds the legal translations that bound no area: slides along
// corridors of no spare width, as segments, and exact fits, as points.
//
// A slide is held from both sides, each contact giving a convolution segment
// whose left is forbidden; so two segments run along it against each other. An
// exact fit is held all around: the segments through it leave no direction
// free. What passes these filters is put to the exact test.
//
// area tells of the set that the region's rings bound; legal translations are
// its complement where forbidden is set, else the set itself.
func (ar *arrangement) addDegenerate(r *Region, area func(w [2]int32) bool, forbidden bool, legal func(orb.Point) bool) {
	n := &ar.noder
	settled := make([]bool, len(n.verts)) // beside legal area, or at a slide's end
	var slides []int32
	for i := range n.stretches {
		s := &n.stretches[i]
		below, above := area(s.below), area([2]int32{s.above(0), s.above(1)})
		switch {
		case below != forbidden || above != forbidden:
			settled[s.from], settled[s.to] = true, true
		case max(s.w[0], -s.w[0]) < s.w[1] && legal(middleOf(n.verts[s.from], n.verts[s.to])):
			slides = append(slides, int32(i))
		}
	}
	for _, i := range slides {
		settled[n.stretches[i].from], settled[n.stretches[i].to] = true, true
	}
	r.Segments = ar.joinSlides(slides)
	for v, held := range ar.heldVertices() {
		if held && !settled[v] && legal(n.verts[v]) {
			r.Points = append(r.Points, n.verts[v])
		}
	}
}

func middleOf(a, b orb.Point) orb.Point { return orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2} }

// joinSlides turns stretches into segments, joining those of one line.
func (ar *arrangement) joinSlides(slides []int32) [][2]orb.Point {
	var segs [][2]orb.Point
	n := &ar.noder
	for _, i := range slides {
		a, b := n.verts[n.stretches[i].from], n.verts[n.stretches[i].to]
		at := slices.IndexFunc(segs, func(s [2]orb.Point) bool { return s[1] == a && Orient(s[0], s[1], b) == 0 })
		if at < 0 {
			segs = append(segs, [2]orb.Point{a, b})
		} else {
			segs[at][1] = b
		}
	}
	slices.SortFunc(segs, func(s, t [2]orb.Point) int {
		return cmp.Or(comparePoints(s[0], t[0]), comparePoints(s[1], t[1]))
	})
	return segs
}

// heldVertices tells for each vertex whether the convolution segments at it
// leave no direction to move away from all of them.
func (ar *arrangement) heldVertices() []bool {
	n := &ar.noder
	cones := make([]cone, len(n.verts))
	for i := range n.stretches {
		s := &n.stretches[i]
		p, q := n.verts[s.from], n.verts[s.to]
		d := orb.Point{q[0] - p[0], q[1] - p[1]}
		if s.w[1]+s.w[0] > 0 { // some run from p to q
			cones[s.from].add(d)
			cones[s.to].add(d)
		}
		if s.w[1]-s.w[0] > 0 { // some run back
			d = orb.Point{-d[0], -d[1]}
			cones[s.from].add(d)
			cones[s.to].add(d)
		}
	}
	held := make([]bool, len(cones))
	for v := range cones {
		held[v] = cones[v].wide
	}
	return held
}

// A cone is the narrowest set of directions between lo and hi, turning
// counter-clockwise, that holds all added ones; wide once it reaches a half
// turn.
type cone struct {
	lo, hi orb.Point
	any    bool
	wide   bool
}

// coneSlack is how far short of a half-turn, in radians, a cone counts as one:
// noding turns short segments a little.
const coneSlack = 1e-3

func (c *cone) add(d orb.Point) {
	if c.wide {
		return
	}
	if !c.any {
		c.lo, c.hi, c.any = d, d, true
		return
	}
	loD, dHi := cross(c.lo, d), cross(d, c.hi)
	switch {
	case loD >= 0 && dHi >= 0 && !opposite2(c.lo, d):
		return // between them, or along one
	case loD > 0:
		c.hi = d
	case dHi > 0:
		c.lo = d
	default:
		c.wide = true
		return
	}
	c.wide = nearlyOpposite(c.lo, c.hi)
}

func cross(a, b orb.Point) float64 { return a[0]*b[1] - a[1]*b[0] }

func dot(a, b orb.Point) float64 { return a[0]*b[0] + a[1]*b[1] }

// nearlyOpposite reports whether turning from lo to hi takes a half-turn or
// more, or nearly.
func nearlyOpposite(lo, hi orb.Point) bool {
	if dot(lo, hi) >= 0 {
		return false
	}
	c := cross(lo, hi)
	return c <= 0 || c*c < coneSlack*coneSlack*dot(lo, lo)*dot(hi, hi)
}

func opposite2(a, b orb.Point) bool { return cross(a, b) == 0 && dot(a, b) < 0 }
