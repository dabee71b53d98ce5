package route

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A Severance is a cut that parts the remnant from the rest of the sheet, so
// that it can be racked. Like a contour's it is nominal, with the remnant on its
// left.
type Severance struct {
	Pierce orb.Point
	// FromEdge says that Pierce lies off the sheet: the jet comes on there and
	// runs in over the edge, so nothing is pierced.
	FromEdge bool
	LeadIn   geom.Path
	// Path is the cut stretch of the remnant's outline; it ends where it began
	// when the remnant touches the sheet's edge nowhere.
	Path    geom.Path
	LeadOut geom.Path
	Rapid   []orb.Point // as in Cut
	Over    int         // as in Cut
	// CutMM and LeadMM are the lengths of this cut.
	CutMM, LeadMM float64
}

// Way returns the whole way of the jet: lead-in, cut, lead-out.
func (s Severance) Way() geom.Path {
	var p geom.Path
	if len(s.LeadIn) > 0 {
		p = append(p, s.LeadIn[:len(s.LeadIn)-1]...)
	}
	p = append(p, s.Path...)
	if len(s.LeadOut) > 0 && len(p) > 0 {
		p = append(p[:len(p)-1], s.LeadOut...)
	}
	return p
}

// EdgeSlackMM is how far, in mm, a side of the remnant may lie from the sheet's
// edge and count as lying on it: remnants are measured in whole millimetres.
const EdgeSlackMM = 1.0

// severing adds the cuts that free the remnant, after all others, the nearest
// first.
func severing(in Input, t *tour, o Options, r *Route) {
	if !o.Sever || len(in.Remnant) < 3 {
		return
	}
	if zonesInTheWay(in, o) {
		r.Warnings = append(r.Warnings, "the remnant borders on a blocked zone and is not severed; part it by hand")
		return
	}
	left := severances(in, t, o, r)
	f := newFreed(t)
	at := f.exit(len(t.order) - 1)
	for len(left) > 0 {
		k := 0
		for i := range left {
			if dist(at, left[i].Pierce) < dist(at, left[k].Pierce) {
				k = i
			}
		}
		s := left[k]
		left = append(left[:k], left[k+1:]...)
		s.Rapid, s.Over = f.between(len(t.order), at, s.Pierce)
		r.addSeverance(s)
		way := s.Way()
		at = way[len(way)-1].P
	}
}

func (r *Route) addSeverance(s Severance) {
	s.CutMM, s.LeadMM = s.Path.Length(), s.LeadIn.Length()+s.LeadOut.Length()
	r.SeverMM += s.CutMM
	r.LeadMM += s.LeadMM
	r.RapidMM += chainLength(s.Rapid)
	if !s.FromEdge {
		r.Pierces++
	}
	if s.Over > 0 {
		r.Crossings++
	}
	r.Severing = append(r.Severing, s)
}

// zonesInTheWay reports whether the jet along the remnant would come into a
// blocked zone, where a clamp may be.
func zonesInTheWay(in Input, o Options) bool {
	n := len(in.Remnant)
	for i := range n {
		a, b := in.Remnant[i].P, in.Remnant[(i+1)%n].P
		for _, z := range in.Blocked {
			ring := z.Flatten(flatTolerance, geom.OnCurve)
			for k, p := range ring {
				if segmentGap(a, b, p, ring[(k+1)%len(ring)]) < o.KerfMM {
					return true
				}
			}
		}
	}
	return false
}

// severances lists the cuts that free the remnant, without rapid moves.
func severances(in Input, t *tour, o Options, r *Route) []Severance {
	var sheet orb.Ring
	if len(in.Sheet) >= 2 {
		sheet = in.Sheet.Flatten(flatTolerance, geom.OnCurve)
	}
	runs, closed := severRuns(in.Remnant, sheet)
	if closed {
		return []Severance{closedSeverance(in, t, o, r)}
	}
	var out []Severance
	for _, p := range runs {
		out = append(out, openSeverance(p, sheet, o))
	}
	return out
}

// severRuns returns the stretches of the remnant's outline that do not lie on
// the sheet's edge, counter-clockwise; closed means that all of it does not.
func severRuns(remnant geom.Contour, sheet orb.Ring) (runs []geom.Path, closed bool) {
	ring := remnant.Oriented(true)
	closed = true
	for i, v := range ring {
		a, b := v.P, ring[(i+1)%len(ring)].P
		d := dist(a, b)
		cut := [2]float64{0, 1}
		for _, on := range append(edgeStretches(a, b, sheet), [2]float64{1, 1}) {
			cut[1] = on[0]
			if (cut[1]-cut[0])*d > EdgeSlackMM {
				runs = append(runs, geom.Path{{P: between(a, b, cut[0])}, {P: between(a, b, cut[1])}})
			}
			if on[0] < on[1] {
				closed = false
			}
			cut[0] = on[1]
		}
	}
	runs = joinRuns(runs)
	return runs, closed && len(runs) == 1
}

// edgeStretches returns the shares of ab that run along the sheet's edge, in
// order and apart.
func edgeStretches(a, b orb.Point, sheet orb.Ring) [][2]float64 {
	u, d := unit(sub(b, a)), dist(a, b)
	var out [][2]float64
	for i, p := range sheet {
		q := sheet[(i+1)%len(sheet)]
		if math.Abs(cross(u, sub(p, a))) > EdgeSlackMM+flatTolerance || math.Abs(cross(u, sub(q, a))) > EdgeSlackMM+flatTolerance {
			continue
		}
		from, to := dot(u, sub(p, a))/d, dot(u, sub(q, a))/d
		from, to = math.Max(0, math.Min(from, to)), math.Min(1, math.Max(from, to))
		if (to-from)*d > EdgeSlackMM {
			out = insertStretch(out, [2]float64{from, to})
		}
	}
	return out
}

// insertStretch adds a stretch to a list in order, merging those that touch.
func insertStretch(list [][2]float64, s [2]float64) [][2]float64 {
	var out [][2]float64
	placed := false
	for _, e := range list {
		switch {
		case e[1] < s[0]:
			out = append(out, e)
		case e[0] > s[1]:
			if !placed {
				out, placed = append(out, s), true
			}
			out = append(out, e)
		default:
			s = [2]float64{math.Min(s[0], e[0]), math.Max(s[1], e[1])}
		}
	}
	if !placed {
		out = append(out, s)
	}
	return out
}

// joinRuns joins runs that meet; the last may run on into the first.
func joinRuns(runs []geom.Path) []geom.Path {
	var out []geom.Path
	for _, r := range runs {
		if n := len(out); n > 0 && dist(out[n-1][len(out[n-1])-1].P, r[0].P) <= geom.TouchTolerance {
			out[n-1] = append(out[n-1], r[1:]...)
			continue
		}
		out = append(out, r)
	}
	if n := len(out); n > 1 && dist(out[n-1][len(out[n-1])-1].P, out[0][0].P) <= geom.TouchTolerance {
		out[0] = append(out[n-1], out[0][1:]...)
		out = out[:n-1]
	}
	return out
}

// openSeverance cuts from edge to edge. It runs in from off the sheet by the
// length of a lead-in and out by a kerf, and over the strip that may be left
// between the remnant and the edge.
func openSeverance(p geom.Path, sheet orb.Ring, o Options) Severance {
	n := len(p)
	back, on := unit(sub(p[0].P, p[1].P)), unit(sub(p[n-1].P, p[n-2].P))
	s := Severance{Path: p, FromEdge: true}
	s.Pierce = step(p[0].P, back, math.Max(o.LeadMM, o.PierceMM)+EdgeSlackMM)
	if d := EdgeSlackMM + o.PierceMM; geom.LocateInRing(sheet, step(p[0].P, back, d)) == geom.Inside ||
		geom.LocateInRing(sheet, s.Pierce) == geom.Inside {
		s.Pierce, s.FromEdge = p[0].P, false // the sheet goes on there
	} else {
		s.LeadIn = geom.Path{{P: s.Pierce}, {P: p[0].P}}
	}
	s.LeadOut = geom.Path{{P: p[n-1].P}, {P: step(p[n-1].P, on, EdgeSlackMM+o.KerfMM)}}
	return s
}

// closedSeverance cuts all round a remnant that touches the sheet's edge
// nowhere, from a pierce in the scrap beside it that keeps off the leads of
// other cuts where it can.
func closedSeverance(in Input, t *tour, o Options, r *Route) Severance {
	ns := append([]node(nil), t.ns...)
	n, _ := newNode(len(in.Pieces), -1, in.Remnant, Options{})
	ns = append(ns, n)
	self := len(ns) - 1
	rest := in
	rest.Remnant = nil
	s := scout{o: &o, ns: ns, w: newWalls(ns, edges(rest), nil)}
	s.find(self)
	starts := ns[self].starts
	pick, found := 0, false
	for i := range starts {
		if !found && !(conflicts{tour: t, o: &o}).nearAny(&starts[i], o.KerfMM/4) {
			pick, found = i, true
		}
	}
	st := &starts[pick]
	if !found || st.room > ample {
		r.Warnings = append(r.Warnings, "the cut round the remnant begins in narrow scrap; look at it before cutting")
	}
	c := n.outline.from(st.at)
	return Severance{Pierce: st.pierce, LeadIn: st.in.path(), LeadOut: st.out.path(), Path: append(geom.Path(c), geom.Vertex{P: c[0].P})}
}

// nearAny reports whether a start's leads come near to those of any contour.
func (c conflicts) nearAny(s *start, gap float64) bool {
	for m := range c.ns {
		if c.close(s, c.start(m), gap) {
			return true
		}
	}
	return false
}

// Unsevered returns the route without the cuts that free the remnant.
func (r Route) Unsevered() Route {
	for _, s := range r.Severing {
		r.LeadMM -= s.LeadMM
		r.RapidMM -= chainLength(s.Rapid)
		if !s.FromEdge {
			r.Pierces--
		}
		if s.Over > 0 {
			r.Crossings--
		}
	}
	r.Severing, r.SeverMM = nil, 0
	r.Warnings = append([]string(nil), r.Warnings...)
	return r
}
