package nest

import (
	"context"
	"errors"
)

// Separate searches by letting parts overlap and pushing them apart.
//
// On a strip it shortens the strip again and again; on sheets it empties the
// weakest sheet onto the others. After each such step parts overlap, and a
// guided local search separates them: every colliding pair carries a weight
// that grows while the pair collides and decays when it does not, and colliding
// parts move one by one to the best of many sampled poses. Wide steps explore,
// narrow steps from the best layout follow.
//
// start is a legal layout to begin with; with none (no layouts) Separate makes
// its own. The result is never worse than start. It stops when the effort is
// spent or ctx ends, with the best legal layout so far.
//
// The scheme follows Egeblad, Nielsen and Odgaard 2007; Umetani, Yagiura,
// Imahori, Imamichi, Nonobe and Ibaraki 2009; Imamichi, Yagiura and Nagamochi
// 2009; Elkeran 2013; and Gardeyn, Vanden Berghe and Wauters 2025. Where the
// turns are few, the severity of a conflict is not a proxy but the true depth
// of penetration, looked up in a cell index over the pair's no-fit polygon.
func Separate(ctx context.Context, p Problem, start Result, o Options) (Result, error) {
	pre, err := prepare(p)
	if err != nil {
		return Result{}, err
	}
	fits := newFits(pre, o.Memo)
	core := p.core(func(part int) bool { return len(fits.usable(part)) > 0 })
	if start = start.core(core); p.StripWidth > 0 && !start.covers(core) {
		start = Result{}
	}
	search := sepOnSheets
	if p.StripWidth > 0 {
		search = sepStrip
	}
	if complete(core) {
		return BottomLeft(ctx, p, nil, o)
	}
	r, err := search(ctx, core, start, o)
	if err != nil {
		return Result{}, err
	}
	return r.completed(ctx, p, o.Memo)
}

// sepStatus names why a search ended.
func sepStatus(ctx context.Context) Status {
	switch {
	case ctx.Err() == nil:
		return Finished
	case errors.Is(ctx.Err(), context.DeadlineExceeded):
		return Limit
	}
	return Cancelled
}
