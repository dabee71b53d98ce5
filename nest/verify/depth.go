package verify

import (
	"math"

	"github.com/paulmach/orb"
)

// A dive looks for the point of some edges that lies deepest in a region.
//
// The signed depth of a point (its distance from the region's boundary,
// negative outside) changes by at most the way gone. So over a piece with end
// depths p and q it is at most (p + q + length) / 2. Nor is it more than the
// greatest distance from the piece to any one boundary edge, nor more than 0
// where the piece starts outside and meets no boundary edge. A piece that none
// of the three settles is halved.
type dive struct {
	into  *region
	walls []edge // the boundary edges taken into account
	floor float64
	// measure asks for the greatest depth; otherwise the dive ends at the
	// first point deeper than floor.
	measure bool
	probes  int
	budget  int

	depth float64
	at    orb.Point
	lost  bool // the budget ran out
}

// run searches the edges and reports whether any point is deeper than floor.
func (d *dive) run(es []edge) bool {
	for i := range es {
		d.edge(&es[i])
		if d.done() {
			break
		}
	}
	return d.depth > d.floor
}

func (d *dive) done() bool {
	return d.lost || (!d.measure && d.depth > d.floor)
}

// enough is the depth above which a piece is still of interest.
func (d *dive) enough() float64 {
	return math.Max(d.floor, d.depth) * (1 + measureShare)
}

// A stretch is a piece of an edge with the depths of its ends.
type stretch struct {
	edge
	da, db float64
}

func (d *dive) edge(e *edge) {
	stack := []stretch{{*e, d.probe(e.a), d.probe(e.b)}}
	for len(stack) > 0 && !d.done() {
		s := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if d.settled(&s) {
			continue
		}
		p, q := s.halves()
		m := d.probe(p.b)
		stack = append(stack, stretch{p, s.da, m}, stretch{q, m, s.db})
	}
}

// probe returns the depth of a point and remembers the deepest.
func (d *dive) probe(p orb.Point) float64 {
	d.probes++
	if d.probes > d.budget {
		d.lost = true
	}
	h := d.into.depthNear(p, d.walls)
	if h > d.depth {
		d.depth, d.at = h, p
	}
	return h
}

// settled reports whether no point of the stretch can be deep enough.
func (d *dive) settled(s *stretch) bool {
	enough := d.enough()
	if (s.da+s.db+s.length())/2 <= enough {
		return true
	}
	if s.da < 0 || s.db < 0 {
		if d.apart(&s.edge) {
			return true
		}
	}
	return d.along(&s.edge, enough)
}

// apart reports whether the piece meets none of the boundary edges.
func (d *dive) apart(e *edge) bool {
	for i := range d.walls {
		if meets(e, &d.walls[i]) {
			return false
		}
	}
	return true
}

// along reports whether the whole piece lies within enough of one boundary edge.
func (d *dive) along(e *edge, enough float64) bool {
	for i := range d.walls {
		w := &d.walls[i]
		if boxGap(&e.box, &w.box) <= enough && farthest(e, w) <= enough {
			return true
		}
	}
	return false
}

// meets reports whether two edges may have a point in common: exactly for
// lines, with a slack for arcs.
func meets(e, f *edge) bool {
	if boxGap(&e.box, &f.box) > meetSlack {
		return false
	}
	if !e.arc && !f.arc {
		_, ok := linesMeet(e, f)
		return ok
	}
	return between(e, f).d <= meetSlack
}
