package week

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest/route"
)

// A pick is the machine and the stacks a layout is cheapest cut in.
type pick struct {
	machine, depth int
	stacks         []int   // depths, deepest first; depth is the first
	money, seconds float64 // all repeats, sheets included
}

// routed plans the cuts of a layout that leaves the remnant, whose stack is so
// many sheets deep, for the tube of machine m.
func (t *task) routed(ctx context.Context, l *laid, remnant geom.Contour, sever bool, m, depth int, effort float64) (route.Route, error) {
	sheet := &t.group.Sheets[l.sheet]
	in := route.Input{Sheet: sheet.Outline, Blocked: sheet.Blocked, Remnant: remnant}
	for i, p := range l.placements {
		in.Pieces = append(in.Pieces, route.Piece{
			Placement: i, Name: partName(&t.group.Parts[p.Part]), Shape: placedShape(t.group.Parts[p.Part].Shape, p.Pose),
		})
	}
	o := route.Defaults(t.jetBore(m), t.group.ThicknessMM*float64(depth))
	o.Effort = effort
	s := t.setup(m, depth)
	o.KerfMM = s.KerfMM()
	o.PierceMM = cost.PierceHoleMM(s.PierceMethod(), t.jetBore(m)) / 2
	c := t.job.Cutting.Filled(t.group.ThicknessMM)
	o.EdgeMM, o.TabMM, o.TabBelowMM, o.Sever = c.PierceEdgeMM, c.TabMM, c.TabBelowMM, sever
	return route.Plan(ctx, in, o)
}

// jetBore is the diameter the kerf follows from: the mixing tube's bore, or
// the orifice's where the jet is water alone.
func (t *task) jetBore(m int) float64 {
	machine := t.job.Machines[m].Filled()
	if t.group.Process == cost.Plain || machine.TubeMM == 0 {
		return math.Max(machine.PlainOrificeMM, machine.OrificeMM)
	}
	return machine.TubeMM
}

func placedShape(s geom.Shape, pose geom.Pose) geom.Shape {
	out := geom.Shape{Outer: s.Outer.Transform(pose)}
	for _, h := range s.Holes {
		out.Holes = append(out.Holes, h.Transform(pose))
	}
	return out
}

// headWork is what the head does along a route.
func headWork(r *route.Route, parts int) cost.Work {
	w := cost.Work{Parts: parts}
	for i := range r.Cuts {
		c := &r.Cuts[i]
		k := cost.Stroke{LeadIn: c.LeadIn, Contour: c.Contour, LeadOut: c.LeadOut}
		if c.TabMM > 0 { // the contour stays open
			k = cost.Stroke{LeadIn: c.Path()}
		}
		w.Strokes = append(w.Strokes, k)
		w.RapidsMM = append(w.RapidsMM, chainLength(c.Rapid))
	}
	for i := range r.Severing {
		s := &r.Severing[i]
		w.Strokes = append(w.Strokes, cost.Stroke{LeadIn: s.Way(), FromEdge: s.FromEdge})
		w.RapidsMM = append(w.RapidsMM, chainLength(s.Rapid))
	}
	return w
}

func chainLength(pts []orb.Point) float64 {
	total := 0.0
	for i := 1; i < len(pts); i++ {
		total += math.Hypot(pts[i][0]-pts[i-1][0], pts[i][1]-pts[i-1][1])
	}
	return total
}
