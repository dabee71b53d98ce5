package route

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A start is a place where a contour can be begun, with its leads.
type start struct {
	at      spot
	pierce  orb.Point // where the jet comes on
	end     orb.Point // where it goes off
	in, out lead      // without points where there is none
	room    room
	effort  float64
}

const (
	// mostSpots bounds the places looked at on one contour, mostStarts the
	// starts kept.
	mostSpots  = 24
	mostStarts = 8
)

// spots returns places along the outline: corners and points between them, no
// further apart than a sixteenth of its length.
func (o *outline) spots() []spot {
	var out []spot
	for i := range o.segs {
		n := int(math.Ceil(16 * o.segs[i].length / o.length))
		if len(o.segs) <= 4 {
			n = max(n, 2)
		}
		for k := range n {
			out = append(out, spot{i, float64(k) / float64(n)})
		}
	}
	return thin(out, mostSpots)
}

// thin keeps at most n of the items, evenly.
func thin[T any](s []T, n int) []T {
	if len(s) <= n {
		return s
	}
	out := make([]T, n)
	for i := range out {
		out[i] = s[i*len(s)/n]
	}
	return out
}

// A scout finds the starts of all nodes.
type scout struct {
	o   *Options
	ns  []node
	w   *walls
	buf []wall
}

// find sets the starts of node i: those with the most room, spread along the
// contour.
func (s *scout) find(i int) {
	n := &s.ns[i]
	n.lengths = s.o.leadLengths(n)
	pl := place{o: s.o, ns: s.ns, self: i}
	reach := math.Max(s.o.LeadMM, s.o.LeadOutMM) + s.o.PierceMM + math.Max(2*s.o.KerfMM, s.o.EdgeMM) + 4*flatTolerance
	var all []start
	spots := n.outline.spots()
	for _, p := range spots {
		s.buf = pl.look(s.w, p, reach, s.buf)
		if st, ok := s.bestAt(&pl, n, p); ok {
			all = append(all, st)
		}
	}
	n.starts = spread(all, n)
	if len(n.starts) == 0 {
		n.starts = []start{s.fallback(&pl, n, spots)}
	}
	n.reach = orb.Bound{Min: n.starts[0].pierce, Max: n.starts[0].pierce}
	for _, st := range n.starts {
		n.reach = n.reach.Extend(st.pierce)
	}
}

// bestAt returns the first lead that has ample room at the spot, else the first
// that has any.
func (s *scout) bestAt(pl *place, n *node, p spot) (start, bool) {
	var best lead
	most := leadless
	for l := range s.o.leadsIn(n, p) {
		r := pl.roomFor(&l)
		if r < most {
			best, most = l, r
		}
		if r == ample {
			break
		}
	}
	if most == leadless {
		return start{}, false
	}
	return s.begin(pl, n, p, &best, most), true
}

// begin makes a start of a lead-in and the best lead-out.
func (s *scout) begin(pl *place, n *node, p spot, l *lead, r room) start {
	st := start{at: p, pierce: l.chain[0], end: n.outline.at(p), in: *l, room: r, effort: l.effort}
	if in, out := n.outline.headings(p); cross(in, out) < -cornerSine {
		st.effort += s.o.LeadMM // an inner corner: the jet lingers where it hurts
	}
	if n.tab > 0 {
		st.end = n.tail(p)
	}
	for out := range s.o.leadsOut(n, p) {
		if pl.roomOut(&out) <= r {
			st.out = out
			st.end = out.chain[out.n-1]
			break
		}
	}
	return st
}

// tail is where the cut ends that leaves a tab before its start p.
func (n *node) tail(p spot) orb.Point {
	path := shortened(n.outline.from(p), n.tab)
	return path[len(path)-1].P
}

// spread keeps the starts with the most room, and of these some that lie apart:
// first the one of least effort, then always the one farthest from those kept,
// effort taken off. Small contours need few.
func spread(all []start, n *node) []start {
	if len(all) == 0 {
		return nil
	}
	r := slices.MinFunc(all, func(a, b start) int { return cmp.Compare(a.room, b.room) }).room
	all = slices.DeleteFunc(all, func(s start) bool { return s.room > r })
	slices.SortStableFunc(all, func(a, b start) int { return cmp.Compare(a.effort, b.effort) })
	most := clamp(int(n.size()/10), mostStarts-2) + 2
	kept := all[:1:1]
	for len(kept) < min(most, len(all)) {
		best, far := -1, 0.0
		for i := range all {
			if f := apart(&all[i], kept) - all[i].effort; f > far {
				best, far = i, f
			}
		}
		if best < 0 {
			break
		}
		kept = append(kept, all[best])
	}
	return kept
}

func apart(s *start, kept []start) float64 {
	d := math.Inf(1)
	for i := range kept {
		d = math.Min(d, dist(s.pierce, kept[i].pierce))
	}
	return d
}

// fallback is the start of a contour that has no room for a lead. In a hole the
// jet pierces where there is most space; else on the contour, at the spot
// farthest from other parts.
func (s *scout) fallback(pl *place, n *node, spots []spot) start {
	if st, ok := s.middle(pl, n, spots); ok {
		return st
	}
	best, far := spots[0], -1.0
	for _, p := range spots {
		at := n.outline.at(p)
		s.buf = pl.look(s.w, p, s.o.LeadMM+s.o.PierceMM, s.buf)
		d := math.Inf(1)
		for k := range pl.others {
			d = math.Min(d, pointGap(at, pl.others[k].a, pl.others[k].b))
		}
		if d > far {
			best, far = p, d
		}
	}
	at := n.outline.at(best)
	st := start{at: best, pierce: at, end: at, room: leadless}
	if n.tab > 0 {
		st.end = n.tail(best)
	}
	return st
}

// middle starts a hole too small for the pierce hole from its deepest point.
func (s *scout) middle(pl *place, n *node, spots []spot) (start, bool) {
	if n.hole < 0 {
		return start{}, false
	}
	d := geom.Pole(orb.Polygon{geom.OrientRing(n.flat, true)}, flatTolerance)
	if !(d.Radius > 0) || d.Radius > s.o.PierceMM+2*flatTolerance {
		return start{}, false // it is something else that is in the way
	}
	best, near := spot{}, math.Inf(1)
	for _, p := range spots {
		if g := dist(n.outline.at(p), d.Center); g < near {
			best, near = p, g
		}
	}
	at := n.outline.at(best)
	s.buf = pl.look(s.w, best, 2*near+s.o.PierceMM+s.o.KerfMM, s.buf)
	l := lineIn(at, unit(sub(d.Center, at)), near)
	if !pl.scrapSide(sub(d.Center, at)) || pl.roomAmongOthers(l.pts(), d.Center) > narrow || !pl.clearOfOwn(l.pts()) {
		return start{}, false
	}
	return start{at: best, pierce: l.chain[0], end: at, in: l, room: cramped}, true
}
