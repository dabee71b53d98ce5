package verify

import (
	"math"

	"github.com/paulmach/orb"
)

// A finding is what comparing two regions came to.
type finding int

const (
	fine    finding = iota
	tooNear         // apart, but by less than asked
	shared          // they share material
	unclear         // given up
)

// A verdict is a finding with where and how much.
type verdict struct {
	finding
	amount float64 // depth when shared, distance missing when too near
	at     orb.Point
	probes int
}

// compare judges two regions that must keep a distance gap; tol is how far they
// may run together, and how far they may fall short of the gap.
func compare(a, b *region, gap, tol float64) verdict {
	reach := math.Max(gap, 2*tol)
	ea, eb := a.near(grown(b.box, reach)), b.near(grown(a.box, reach))
	if b.beyond {
		ea = a.edges
	}
	limit := math.Max(tol, gap-tol)
	l := closest(ea, eb, limit)
	if l.d > tol {
		if a.holds(start(b)) || b.holds(start(a)) {
			return measure(a, b, tol)
		}
		return nearness(l, gap, tol)
	}
	c := contact{a: a, b: b, ea: ea, eb: eb, tol: tol}
	switch c.look(); {
	case c.lost:
		return verdict{finding: unclear, at: l.p, probes: c.probes}
	case c.deep:
		v := measure(a, b, tol)
		v.probes += c.probes
		return v
	}
	v := nearness(l, gap, tol)
	v.probes = c.probes
	return v
}

// start returns a point of the region's outer boundary.
func start(r *region) orb.Point { return r.edges[0].a }

func nearness(l link, gap, tol float64) verdict {
	if l.d >= gap-tol {
		return verdict{finding: fine}
	}
	mid := orb.Point{(l.p[0] + l.q[0]) / 2, (l.p[1] + l.q[1]) / 2}
	return verdict{finding: tooNear, amount: gap - l.d, at: mid}
}

// closest returns the shortest connection of two sets of edges where it is
// below the limit, else one of infinite length.
func closest(ea, eb []edge, limit float64) link {
	best := link{d: limit}
	found := false
	for i := range ea {
		for j := range eb {
			if boxGap(&ea[i].box, &eb[j].box) > best.d {
				continue
			}
			if l := between(&ea[i], &eb[j]); l.d <= best.d {
				best, found = l, true
			}
		}
	}
	if !found {
		best.d = math.Inf(1)
	}
	return best
}

// A contact is a pair whose outlines come within the tolerance of each other.
type contact struct {
	a, b   *region
	ea, eb []edge
	tol    float64
	probes int
	deep   bool // they share material deeper than the tolerance
	lost   bool
}

// look decides whether the pair overlaps deeper than the tolerance.
func (c *contact) look() {
	c.deep = sharedCore(c.a, c.b) > c.tol
	budget := baseProbes + edgeProbes*(len(c.ea)+len(c.eb))
	for _, d := range [...]struct {
		es   []edge
		into *region
		wall []edge
	}{{c.ea, c.b, c.eb}, {c.eb, c.a, c.ea}} {
		if c.deep || c.lost {
			return
		}
		dive := dive{into: d.into, walls: d.wall, floor: c.tol, budget: budget}
		c.deep = dive.run(d.es)
		c.lost = dive.lost && !c.deep
		c.probes += dive.probes
	}
}

// sharedCore returns twice the distance to the nearer outline from a core of
// one region that lies in the other, 0 when none does. It settles the pairs in
// which neither outline runs deep into the other part, as two equal parts in
// one place: an outline that runs nowhere deep in a part leaves the part's
// inside wholly in or wholly out.
func sharedCore(a, b *region) float64 {
	return math.Max(coreIn(a, b), coreIn(b, a))
}

func coreIn(a, b *region) float64 {
	if a.coreDepth == 0 {
		return 0
	}
	return 2 * math.Min(a.coreDepth, b.depthAt(a.core))
}

// measure returns the depth of two regions known to overlap: the largest of the
// three lower bounds of the package comment.
func measure(a, b *region, tol float64) verdict {
	v := verdict{finding: shared, amount: tol, at: start(a)}
	if at, d := commonCore(a, b); 2*d > v.amount {
		v.amount, v.at = 2*d, at
	}
	v.dive(a, b)
	v.dive(b, a)
	return v
}

func (v *verdict) dive(a, b *region) {
	d := dive{into: b, walls: b.edges, floor: v.amount, measure: true, budget: measureProbes}
	if d.run(a.edges) {
		v.amount, v.at = d.depth, d.at
	}
	v.probes += d.probes
}
