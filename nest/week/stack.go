package week

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest/route"
	"kerfold/nest/shop"
)

// A pick is the machine and the stack depth a layout is cheapest at.
type pick struct {
	machine, depth int
	money, seconds float64 // all repeats, sheets included
}

// pickStack compares every depth on every machine that can take the sheet.
func (t *task) pickStack(l *laid, w cost.Work) (best pick, err error) {
	sheet := &t.group.Sheets[l.sheet]
	found := false
	for _, m := range t.machines {
		if !shop.TakesSheet(&t.job.Machines[m], sheet) {
			continue
		}
		table, i, err := cost.StackTable(t.setup(m, 1), w, l.repeats, sheet.Cost)
		if err != nil {
			return pick{}, err
		}
		c := table[i]
		if p := (pick{m, c.Depth, c.Money(), c.Seconds}); !found || p.money < best.money {
			best, found = p, true
		}
	}
	return best, nil
}

// routed plans the cuts of a layout whose stack is so many sheets deep, for
// the tube of machine m.
func (t *task) routed(l *laid, m, depth int, effort float64) (route.Route, error) {
	sheet := &t.group.Sheets[l.sheet]
	in := route.Input{Sheet: sheet.Outline, Blocked: sheet.Blocked}
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
	return route.Plan(in, o)
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
		w.Strokes = append(w.Strokes, cost.Stroke{LeadIn: c.LeadIn, Contour: c.Contour, LeadOut: c.LeadOut})
		w.RapidsMM = append(w.RapidsMM, chainLength(c.Rapid))
	}
	return w
}

// roughWork is headWork without a route: every contour once, equal parts
// counted together, and rapid moves from part to part as they lie.
func (t *task) roughWork(l *laid) cost.Work {
	w := cost.Work{Parts: len(l.placements)}
	for i, n := range l.counts(len(t.group.Parts)) {
		if n == 0 {
			continue
		}
		s := &t.group.Parts[i].Shape
		for _, c := range append([]geom.Contour{s.Outer}, s.Holes...) {
			w.Strokes = append(w.Strokes, cost.Stroke{Contour: c, Times: n})
		}
	}
	var way []orb.Point
	for _, p := range l.placements {
		way = append(way, p.Pose.Apply(t.group.Parts[p.Part].Shape.Outer[0].P))
	}
	slices.SortFunc(way, func(a, b orb.Point) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	for i := 1; i < len(way); i++ {
		w.RapidsMM = append(w.RapidsMM, chainLength(way[i-1:i+1]))
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
