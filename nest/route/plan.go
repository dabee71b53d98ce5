package route

import (
	"context"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// Plan routes one layout: leads, order, start points and rapid moves. It is
// deterministic unless ctx ends before it does: then the order is no better than
// going to the nearest contour that may be cut next, or than what was reached by
// then, and everything else holds as ever. Options that make no sense are an
// error, see [Options.Validate].
func Plan(ctx context.Context, in Input, o Options) (Route, error) {
	if err := o.Validate(); err != nil {
		return Route{}, err
	}
	ns, warnings := nodes(in, o)
	scoutStarts(in, o, ns)
	t := newTour(ns, rules(ns), o.Start)
	order(ctx, t, o)
	r := assemble(in, t, o.LeadMM)
	severing(in, t, o, &r)
	r.Options, r.Warnings = o, append(warnings, r.Warnings...)
	return r, nil
}

func scoutStarts(in Input, o Options, ns []node) {
	s := scout{o: &o, ns: ns, w: newWalls(ns, edges(in), in.Remnant)}
	for i := range ns {
		s.find(i)
	}
}

// edges returns the rings a lead may not cross besides the contours.
func edges(in Input) []orb.Ring {
	var out []orb.Ring
	for _, c := range append([]geom.Contour{in.Sheet}, in.Blocked...) {
		if len(c) >= 2 {
			out = append(out, c.Flatten(flatTolerance, geom.OnCurve))
		}
	}
	return out
}

// order finds the tour and keeps its leads apart.
func order(ctx context.Context, t *tour, o Options) {
	if ctx.Err() == nil {
		shorten(ctx, t, o)
	} else {
		t.greedy(manner{choose: true})
	}
	conflicts{tour: t, o: &o}.resolve()
}

// shorten finds the order: greedy in two manners, the better improved, with its
// starts chosen so that it keeps off free parts.
func shorten(ctx context.Context, t *tour, o Options) {
	n := rounds(len(t.ns), o.Effort)
	rng := rand.New(rand.NewPCG(routeSeed, uint64(len(t.ns))))
	p := newPolish(ctx, t)
	var best saved
	for i, m := range [...]manner{{choose: true}, {choose: true, loyal: true}} {
		if i > 0 && ctx.Err() != nil {
			break
		}
		t.greedy(m)
		p.descendAll()
		p.shake(n/trialShare, rng)
		if s := p.save(); i == 0 || s.cost < best.cost {
			best = s
		}
	}
	p.restore(&best)
	p.shake(n-2*(n/trialShare), rng)
	if ctx.Err() == nil {
		along{t: t, crossed: newFreed(t).count}.choose()
	}
}

// trialShare is the part of the rounds, one in so many, that each greedy order
// gets before they are compared.
const trialShare = 6

// routeSeed starts the random stream of the improvement. It is fixed: a route
// is a function of its layout.
const routeSeed = 1

// rounds is the number of rounds of improvement: in proportion to the contours
// for small layouts, to the time a round takes for large ones.
func rounds(n int, effort float64) int {
	if effort == 0 {
		effort = 1
	}
	return int(effort * math.Min(30*float64(n), 1.6e6/float64(n+1)))
}
