package route_test

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/route"
)

// The judge checks routes by its own means: outlines and leads halved into
// chords by way of their bulges, crossing numbers, and all pairs.

const (
	sagitta    = 0.005 // mm between an arc and its chords
	sampleSlop = 0.05  // mm a figure may be off
)

// corners returns the ends of chords along a chain of vertices; a closed one
// returns to its first.
func corners(vs []geom.Vertex, closed bool) []orb.Point {
	var out []orb.Point
	for i, v := range vs {
		if i == len(vs)-1 && !closed {
			return append(out, v.P)
		}
		out = halve(out, v.P, vs[(i+1)%len(vs)].P, v.Bulge)
	}
	return out
}

func halve(out []orb.Point, a, b orb.Point, bulge float64) []orb.Point {
	if span(a, b)*math.Abs(bulge)/2 <= sagitta {
		return append(out, a)
	}
	m := orb.Point{
		(a[0]+b[0])/2 + (b[1]-a[1])*bulge/2,
		(a[1]+b[1])/2 - (b[0]-a[0])*bulge/2,
	}
	half := bulge / (1 + math.Sqrt(1+bulge*bulge))
	return halve(halve(out, a, m, half), m, b, half)
}

func span(a, b orb.Point) float64 {
	return math.Sqrt((b[0]-a[0])*(b[0]-a[0]) + (b[1]-a[1])*(b[1]-a[1]))
}

// An area is a closed outline as samples.
type area struct {
	ring []orb.Point
	box  orb.Bound
}

func newArea(c geom.Contour) area {
	a := area{ring: corners(c, true)}
	a.box = orb.MultiPoint(a.ring).Bound()
	return a
}

// winds reports whether a ray from p crosses the outline an odd number of times.
func (a area) winds(p orb.Point) bool {
	if !a.box.Contains(p) {
		return false
	}
	odd := false
	for i, q := range a.ring {
		r := a.ring[(i+1)%len(a.ring)]
		if (q[1] > p[1]) != (r[1] > p[1]) && p[0] < q[0]+(p[1]-q[1])/(r[1]-q[1])*(r[0]-q[0]) {
			odd = !odd
		}
	}
	return odd
}

// gap is the distance of p from the outline, limit where it is more.
func (a area) gap(p orb.Point, limit float64) float64 {
	if !a.box.Pad(limit).Contains(p) {
		return limit
	}
	best := limit
	for i, q := range a.ring {
		r := a.ring[(i+1)%len(a.ring)]
		ux, uy := r[0]-q[0], r[1]-q[1]
		t := 0.0
		if n := ux*ux + uy*uy; n > 0 {
			t = max(0, min(1, ((p[0]-q[0])*ux+(p[1]-q[1])*uy)/n))
		}
		best = min(best, span(p, orb.Point{q[0] + t*ux, q[1] + t*uy}))
	}
	return best
}

// A solid is a piece: an outline less its holes.
type solid struct {
	outer area
	holes []area
}

func newSolid(s geom.Shape) solid {
	out := solid{outer: newArea(s.Outer)}
	for _, h := range s.Holes {
		out.holes = append(out.holes, newArea(h))
	}
	return out
}

// inside reports whether p lies in the material.
func (s solid) inside(p orb.Point) bool {
	if !s.outer.winds(p) {
		return false
	}
	for _, h := range s.holes {
		if h.winds(p) {
			return false
		}
	}
	return true
}

func (s solid) gap(p orb.Point, limit float64) float64 {
	best := s.outer.gap(p, limit)
	for _, h := range s.holes {
		best = min(best, h.gap(p, limit))
	}
	return best
}

// deepIn reports whether p lies in the material by more than the slop.
func (s solid) deepIn(p orb.Point) bool {
	return s.inside(p) && s.gap(p, 1) > sampleSlop
}

// web checks that a pierce hole leaves the web asked for to the sheet's edge and
// to blocked zones, or that a warning names the part.
func (j *judge) web(c route.Cut, warnings []string) {
	full := j.o.PierceMM + j.o.EdgeMM
	g := j.sheet.gap(c.Pierce, full)
	for _, z := range j.in.Blocked {
		g = min(g, newArea(z).gap(c.Pierce, full))
	}
	if g > full-sampleSlop {
		return
	}
	id := c.Name
	if id == "" {
		id = fmt.Sprintf("placement %d", c.Placement+1)
	}
	for _, w := range warnings {
		if strings.Contains(w, "part "+id) && !strings.Contains(w, "is shortened") {
			return
		}
	}
	j.fault(c, "the pierce leaves a web of %.3f mm to an edge, and no warning says so", g-j.o.PierceMM)
}

// A judge holds a layout as solids.
type judge struct {
	in     route.Input
	o      route.Options
	solids []solid
	sheet  area
	kept   *area // the remnant
	faults []string
}

func newJudge(in route.Input, o route.Options) *judge {
	j := &judge{in: in, o: o, sheet: newArea(in.Sheet)}
	if len(in.Remnant) > 0 {
		a := newArea(in.Remnant)
		j.kept = &a
	}
	for _, p := range in.Pieces {
		j.solids = append(j.solids, newSolid(p.Shape))
	}
	return j
}

func (j *judge) fault(c route.Cut, format string, args ...any) {
	j.faults = append(j.faults, fmt.Sprintf("placement %d (%s) hole %d: ", c.Placement, c.Name, c.Hole)+fmt.Sprintf(format, args...))
}

// judge returns the faults of a route.
func (j *judge) judge(r route.Route) []string {
	j.complete(r)
	j.precedences(r)
	j.rapids(r)
	var done []trace
	for _, c := range r.Cuts {
		j.leads(c)
		j.web(c, r.Warnings)
		t := newTrace(c)
		for _, d := range done {
			j.apart(t, d)
		}
		done = append(done, t)
	}
	for _, s := range r.Severing {
		j.severance(s, done)
	}
	return j.faults
}

// severance checks a cut that frees the remnant: it lies on the remnant's
// outline, its slot keeps off the parts, and a start from the edge is off the
// sheet.
func (j *judge) severance(s route.Severance, done []trace) {
	c := route.Cut{Placement: -1, Hole: -1, Name: "remnant"}
	for _, q := range corners(s.Path, false) {
		if j.kept == nil || j.kept.gap(q, 1) > sampleSlop {
			j.fault(c, "the cut at %v is not on the outline", q)
		}
	}
	for i := 1; i < len(s.Path); i++ {
		a, b := s.Path[i-1].P, s.Path[i].P
		l := span(a, b)
		left := orb.Point{(a[0]+b[0])/2 - 0.2*(b[1]-a[1])/l, (a[1]+b[1])/2 + 0.2*(b[0]-a[0])/l}
		if j.kept == nil || !j.kept.winds(left) {
			j.fault(c, "the remnant is not on the left of the cut at %v", left)
		}
	}
	if s.FromEdge == j.sheet.winds(s.Pierce) {
		j.fault(c, "it says from the edge: %v, but begins at %v", s.FromEdge, s.Pierce)
	}
	way := newChain(corners(s.Way(), false))
	for _, q := range steps(route.Cut{LeadIn: s.Way()}) {
		for p, solid := range j.solids {
			if solid.inside(q) || solid.gap(q, 1) < min(1, j.o.KerfMM)/2 {
				j.fault(c, "the cut runs in or by placement %d at %v", p, q)
			}
		}
	}
	for _, d := range done {
		for _, b := range d.leads {
			if way.crosses(b) {
				j.fault(c, "the cut crosses a lead of placement %d hole %d", d.Placement, d.Hole)
			}
		}
	}
}

// complete checks that every contour is cut once, whole, and that the sums add
// up.
func (j *judge) complete(r route.Route) {
	seen := map[[2]int]bool{}
	cut, lead, rapid := 0.0, 0.0, 0.0
	for _, c := range r.Cuts {
		if seen[[2]int{c.Placement, c.Hole}] {
			j.fault(c, "cut twice")
		}
		seen[[2]int{c.Placement, c.Hole}] = true
		want := j.contour(c)
		if math.Abs(c.Contour.Length()-want.Length()) > 1e-6 || math.Abs(math.Abs(c.Contour.Area())-math.Abs(want.Area())) > 1e-4 {
			j.fault(c, "the contour's length or area changed")
		}
		if (c.Contour.Area() > 0) != (c.Hole < 0) {
			j.fault(c, "material on the right")
		}
		cut += want.Length() - c.TabMM
		lead += c.LeadIn.Length() + c.LeadOut.Length()
		for i := 1; i < len(c.Rapid); i++ {
			rapid += span(c.Rapid[i-1], c.Rapid[i])
		}
		if path := c.Path().Length(); math.Abs(path-c.CutMM-c.LeadMM) > 1e-6 {
			j.fault(c, "the path is %v long, cut and leads %v", path, c.CutMM+c.LeadMM)
		}
	}
	pierces := len(seen)
	for _, s := range r.Severing {
		if !s.FromEdge {
			pierces++
		}
		lead += s.LeadIn.Length() + s.LeadOut.Length()
		for i := 1; i < len(s.Rapid); i++ {
			rapid += span(s.Rapid[i-1], s.Rapid[i])
		}
	}
	if len(seen) != contours(j.in) || r.Pierces != pierces {
		j.faults = append(j.faults, fmt.Sprintf("%d contours cut, %d pierces, %d and %d wanted", len(seen), r.Pierces, contours(j.in), pierces))
	}
	if math.Abs(cut-r.CutMM)+math.Abs(lead-r.LeadMM)+math.Abs(rapid-r.RapidMM) > 1e-6 {
		j.faults = append(j.faults, fmt.Sprintf("sums %v %v %v, counted %v %v %v", r.CutMM, r.LeadMM, r.RapidMM, cut, lead, rapid))
	}
}

func (j *judge) contour(c route.Cut) geom.Contour {
	s := j.in.Pieces[c.Placement].Shape
	if c.Hole < 0 {
		return s.Outer
	}
	return s.Holes[c.Hole]
}

// precedences checks holes before outlines, small holes before large ones, and
// parts in holes before the holes.
func (j *judge) precedences(r route.Route) {
	at := map[[2]int]int{}
	for i, c := range r.Cuts {
		at[[2]int{c.Placement, c.Hole}] = i
	}
	for i, c := range r.Cuts {
		if c.Hole < 0 {
			continue
		}
		if at[[2]int{c.Placement, -1}] < i {
			j.fault(c, "cut after its outline")
		}
		hole := newArea(j.contour(c))
		limit := max(j.o.SmallMM, j.o.ThicknessMM)
		small := j.contour(c).Length()/math.Pi <= limit
		for h, other := range j.in.Pieces[c.Placement].Shape.Holes {
			if small && other.Length()/math.Pi > limit+1e-4 && at[[2]int{c.Placement, h}] < i {
				j.fault(c, "small hole cut after the large hole %d", h)
			}
		}
		for p := range j.in.Pieces {
			if p != c.Placement && hole.winds(j.in.Pieces[p].Shape.Outer[0].P) && at[[2]int{p, -1}] > i {
				j.fault(c, "cut before placement %d in it", p)
			}
		}
	}
}

func size(b orb.Bound) float64 { return max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]) }

// leads checks one cut's pierce and leads against all parts and the sheet.
func (j *judge) leads(c route.Cut) {
	start := c.Contour[0].P
	if len(c.LeadIn) > 0 && (c.LeadIn[0].P != c.Pierce || span(c.LeadIn[len(c.LeadIn)-1].P, start) > 1e-9) {
		j.fault(c, "the lead-in does not join pierce and contour")
	}
	if len(c.LeadOut) > 0 && span(c.LeadOut[0].P, start) > 1e-9 {
		j.fault(c, "the lead-out does not leave the contour")
	}
	tiny := c.Hole >= 0 && size(c.Contour.Bounds()) < 2*j.o.PierceMM
	way := steps(c)
	for p, s := range j.solids {
		if !s.outer.box.Pad(2 * j.o.LeadMM).Contains(c.Pierce) {
			continue
		}
		if s.deepIn(c.Pierce) {
			j.fault(c, "the pierce lies in placement %d", p)
		}
		if g := s.gap(c.Pierce, 2*j.o.PierceMM); len(c.LeadIn) > 0 && !tiny && g < j.o.PierceMM-sampleSlop {
			j.fault(c, "the pierce is %.3f from placement %d", g, p)
		}
		for _, q := range way {
			if s.deepIn(q) {
				j.fault(c, "a lead runs in placement %d at %v", p, q)
				break
			}
			if g := s.gap(q, j.o.KerfMM); p != c.Placement && g < j.o.KerfMM/2-sampleSlop {
				j.fault(c, "a lead is %.3f from placement %d", g, p)
				break
			}
		}
	}
	for _, q := range way {
		if !j.sheet.winds(q) {
			j.fault(c, "a lead leaves the sheet at %v", q)
			break
		}
		if j.kept != nil && j.kept.winds(q) {
			j.fault(c, "a lead runs in the remnant at %v", q)
			break
		}
	}
}

// steps returns points along the leads, a quarter of a millimetre apart or less.
func steps(c route.Cut) []orb.Point {
	var out []orb.Point
	for _, pts := range [][]orb.Point{corners(c.LeadIn, false), corners(c.LeadOut, false)} {
		for i := 1; i < len(pts); i++ {
			n := int(4*span(pts[i-1], pts[i])) + 1
			for k := range n + 1 {
				t := float64(k) / float64(n)
				out = append(out, orb.Point{pts[i-1][0] + t*(pts[i][0]-pts[i-1][0]), pts[i-1][1] + t*(pts[i][1]-pts[i-1][1])})
			}
		}
	}
	return out
}

// A trace is a cut as chords.
type trace struct {
	route.Cut
	leads [2]chain
	ring  chain
}

type chain struct {
	pts []orb.Point
	box orb.Bound
}

func newChain(pts []orb.Point) chain { return chain{pts, orb.MultiPoint(pts).Bound()} }

func newTrace(c route.Cut) trace {
	ring := corners(c.Contour, true)
	return trace{c, [2]chain{newChain(corners(c.LeadIn, false)), newChain(corners(c.LeadOut, false))}, newChain(append(ring, ring[0]))}
}

// apart checks that the leads of two cuts do not cross each other nor the other
// contour.
func (j *judge) apart(c, d trace) {
	for _, a := range c.leads {
		for _, b := range d.leads {
			if a.crosses(b) {
				j.fault(c.Cut, "a lead crosses one of placement %d hole %d", d.Placement, d.Hole)
			}
		}
		if a.crosses(d.ring) {
			j.fault(c.Cut, "a lead crosses placement %d hole %d", d.Placement, d.Hole)
		}
	}
	for _, b := range d.leads {
		if b.crosses(c.ring) {
			j.fault(d.Cut, "a lead crosses placement %d hole %d", c.Placement, c.Hole)
		}
	}
}

func (a chain) crosses(b chain) bool {
	if len(a.pts) == 0 || len(b.pts) == 0 || !a.box.Intersects(b.box) {
		return false
	}
	for i := 1; i < len(a.pts); i++ {
		for k := 1; k < len(b.pts); k++ {
			if geom.RelateSegments(a.pts[i-1], a.pts[i], b.pts[k-1], b.pts[k]) != geom.Disjoint {
				return true
			}
		}
	}
	return false
}

// rapids checks that the moves join, and that those said to pass over no free
// part do not.
func (j *judge) rapids(r route.Route) {
	at := j.o.Start
	free := map[int]bool{}
	crossings := 0
	for _, c := range r.Cuts {
		if span(c.Rapid[0], at) > 1e-9 || c.Rapid[len(c.Rapid)-1] != c.Pierce {
			j.fault(c, "the rapid move goes from %v to %v, the head from %v to %v", c.Rapid[0], c.Rapid[len(c.Rapid)-1], at, c.Pierce)
		}
		if c.Over > 0 {
			crossings++
		} else if p, ok := j.passesOver(c.Rapid, free); ok {
			j.fault(c, "the rapid move passes over placement %d", p)
		}
		path := c.Path()
		at = path[len(path)-1].P
		if c.Hole < 0 && c.TabMM == 0 {
			free[c.Placement] = true
		}
	}
	for _, s := range r.Severing {
		if span(s.Rapid[0], at) > 1e-9 || s.Rapid[len(s.Rapid)-1] != s.Pierce {
			j.faults = append(j.faults, fmt.Sprintf("the rapid move to the remnant goes from %v to %v, the head from %v to %v", s.Rapid[0], s.Rapid[len(s.Rapid)-1], at, s.Pierce))
		}
		if p, ok := j.passesOver(s.Rapid, free); ok && s.Over == 0 {
			j.faults = append(j.faults, fmt.Sprintf("the rapid move to the remnant passes over placement %d", p))
		} else if s.Over > 0 {
			crossings++
		}
		way := s.Way()
		at = way[len(way)-1].P
	}
	if crossings != r.Crossings {
		j.faults = append(j.faults, fmt.Sprintf("%d moves pass over free parts, said %d", crossings, r.Crossings))
	}
}

func (j *judge) passesOver(way []orb.Point, free map[int]bool) (int, bool) {
	box := orb.MultiPoint(way).Bound()
	for p, s := range j.solids {
		if !free[p] || !s.outer.box.Intersects(box) {
			continue
		}
		for i := 1; i < len(way); i++ {
			n := int(span(way[i-1], way[i])/1) + 1
			for k := range n + 1 {
				t := float64(k) / float64(n)
				q := orb.Point{way[i-1][0] + t*(way[i][0]-way[i-1][0]), way[i-1][1] + t*(way[i][1]-way[i-1][1])}
				if s.outer.winds(q) && s.outer.gap(q, 1) > 2*sampleSlop {
					return p, true
				}
			}
		}
	}
	return 0, false
}
