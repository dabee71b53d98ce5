package nest

import "context"

// Genetic searches over placing orders and turns, each decoded by bottom-left
// placement: a population of walkers that climb by themselves and are crossed.
// It takes strips and sheets.
func Genetic(ctx context.Context, p Problem, o Options) (Result, error) {
	pre, err := prepare(p)
	if err != nil {
		return Result{}, err
	}
	return genetic(ctx, pre, newFits(pre, o.Memo), o), nil
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
