package route

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Conflicts keeps the chosen leads off each other.
type conflicts struct {
	*tour
	o *Options
}

// resolve gives contours whose leads come too near to another's a start that
// does not, at the least cost, and lets leads run close where there is none.
// Leads that would still cross are left out, lead-outs first.
func (c conflicts) resolve() {
	for _, gap := range [...]float64{c.o.KerfMM, c.o.KerfMM / 4} {
		for range 4 {
			if !c.round(gap) {
				break
			}
		}
	}
	for _, p := range c.pairs(0) {
		c.drop(p)
	}
}

// round looks at all pairs in conflict once and reports whether it changed any.
func (c conflicts) round(gap float64) bool {
	changed := false
	for _, p := range c.pairs(gap) {
		if !c.close(c.start(p[0]), c.start(p[1]), gap) {
			continue // solved by an earlier change
		}
		if c.move(p[0], gap) || c.move(p[1], gap) {
			changed = true
		}
	}
	return changed
}

// move gives a contour the cheapest start that is in no conflict.
func (c conflicts) move(n int, gap float64) bool {
	was, best, cheapest := c.pick[n], -1, math.Inf(1)
	for s := range c.ns[n].starts {
		i := c.pos[n]
		c.set(i, s)
		if s == was || c.anyClose(n, gap) {
			continue
		}
		if d := c.hop(i-1, i) + c.hop(i, i+1) + c.start(n).effort; d < cheapest {
			best, cheapest = s, d
		}
	}
	if best < 0 {
		c.set(c.pos[n], was)
		return false
	}
	c.set(c.pos[n], best)
	return true
}

func (c conflicts) anyClose(n int, gap float64) bool {
	for m := range c.ns {
		if m != n && c.close(c.start(n), c.start(m), gap) {
			return true
		}
	}
	return false
}

// drop leaves out a lead of two that cross: a lead-out if that helps, else the
// lead-in of the smaller contour.
func (c conflicts) drop(p [2]int) {
	for _, n := range p {
		if !c.close(c.start(p[0]), c.start(p[1]), 0) {
			return
		}
		s := c.own(n)
		s.out, s.end = lead{}, c.ns[n].outline.at(s.at)
	}
	if !c.close(c.start(p[0]), c.start(p[1]), 0) {
		return
	}
	n := p[0]
	if c.ns[p[1]].size() < c.ns[n].size() {
		n = p[1]
	}
	s := c.own(n)
	s.pierce = c.ns[n].outline.at(s.at)
	s.in, s.room = lead{}, leadless
}

// own returns the chosen start of a node for change.
func (c conflicts) own(n int) *start { return &c.ns[n].starts[c.pick[n]] }

// pairs returns the pairs of nodes whose leads come nearer than the gap.
func (c conflicts) pairs(gap float64) [][2]int {
	var out [][2]int
	boxes := make([]orb.Bound, len(c.ns))
	order := make([]int, len(c.ns))
	for n := range c.ns {
		order[n], boxes[n] = n, c.start(n).box()
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(boxes[a].Min[0], boxes[b].Min[0]) })
	widest := 0.0
	for n := range boxes {
		widest = math.Max(widest, boxes[n].Max[0]-boxes[n].Min[0])
	}
	for k, n := range order {
		for _, m := range order[k+1:] {
			if boxes[m].Min[0] > boxes[n].Max[0]+gap {
				break
			}
			if c.close(c.start(n), c.start(m), gap) {
				out = append(out, [2]int{min(n, m), max(n, m)})
			}
		}
	}
	slices.SortFunc(out, func(p, q [2]int) int { return cmp.Or(cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1])) })
	return out
}

// box is that of the leads.
func (s *start) box() orb.Bound {
	b := orb.Bound{Min: s.pierce, Max: s.pierce}
	for _, p := range s.in.pts() {
		b = b.Extend(p)
	}
	for _, p := range s.out.pts() {
		b = b.Extend(p)
	}
	return b
}

// close reports whether leads of two starts come nearer than the gap, or cross.
func (c conflicts) close(a, b *start, gap float64) bool {
	p, q := a.box(), b.box()
	if p.Min[0] > q.Max[0]+gap || q.Min[0] > p.Max[0]+gap || p.Min[1] > q.Max[1]+gap || q.Min[1] > p.Max[1]+gap {
		return false
	}
	for _, x := range [...][]orb.Point{a.in.pts(), a.out.pts()} {
		for _, y := range [...][]orb.Point{b.in.pts(), b.out.pts()} {
			if chainGap(x, y) <= gap {
				return true
			}
		}
	}
	return false
}

// chainGap is the distance between two chains of points.
func chainGap(x, y []orb.Point) float64 {
	best := math.Inf(1)
	for i := 1; i < len(x); i++ {
		best = math.Min(best, pathGap(y, &wall{a: x[i-1], b: x[i]}))
	}
	return best
}
