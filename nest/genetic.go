package nest

import "context"

// Genetic searches over placing orders and turns, each decoded by bottom-left
// placement: a population of walkers that climb by themselves and are crossed.
// It takes strips and sheets. Many sheets it improves a few at a time.
func Genetic(ctx context.Context, p Problem, o Options) (Result, error) {
	return geneticFrom(ctx, p, Result{}, o)
}

// geneticFrom is Genetic with a layout to improve where there are many sheets;
// with none it makes its own.
func geneticFrom(ctx context.Context, p Problem, start Result, o Options) (Result, error) {
	many := p.StripWidth == 0 && copiesOf(p) > herdCopies
	start = start.core(p)
	if !many {
		start = Result{}
	}
	pre, err := prepareAround(p, start.Layouts)
	if err != nil {
		return Result{}, err
	}
	fits := newFits(pre, o.Memo)
	if many {
		return mend(ctx, pre, fits, start.Layouts, o)
	}
	return genetic(ctx, pre, fits, o), nil
}

// herdCopies is the most copies on sheets that one herd takes on: the fronts of
// all sheets are in memory at once, and a walk changes little in a long order.
const herdCopies = 250

// copiesOf is how many parts are wanted in all.
func copiesOf(p Problem) int {
	n := 0
	for _, part := range p.Parts {
		if !part.Filler {
			n += part.Quantity
		}
	}
	return n
}

func genetic(ctx context.Context, pre *prepared, fits *fits, o Options) Result {
	h := newHerd(pre, fits, o)
	h.run(ctx, o)
	r := h.result(ctx)
	r.Stats = Stats{Seed: o.Seed, Effort: o.Effort, Won: "genetic", Generations: h.gens}
	for _, w := range h.walkers {
		r.Stats.Decodes += w.dec.count
	}
	return r
}

// result decodes the best order once more, fills it up and reports it.
func (h *herd) result(ctx context.Context) Result {
	w := h.walkers[h.winner]
	d := newDecoder(h.pre, h.fits, h.dem.units, openingOrder(h.pre))
	if w.plan != nil {
		d.setPlan(w.plan)
	}
	d.placeAll(context.WithoutCancel(ctx), w.best)
	return d.result(ctx, h.dem).ended(ctx)
}

// report tells the caller of the best layout so far.
func (h *herd) report(to func(Progress)) {
	p := Progress{Done: h.pace.share(), Arm: "genetic"}
	if g := &h.pre.grounds[0]; g.strip {
		p.Length = h.best.reach + g.margin
		p.Density = h.area / (h.pre.problem.StripWidth * p.Length)
	} else if h.best.left == 0 {
		p.Sheets = h.best.sheets
		p.Density = h.area / h.best.bought
	}
	to(p)
}
