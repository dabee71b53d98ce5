package nest

import (
	"context"
	"fmt"

	"kerfold/geom"
)

// strip lays one kind of part on a strip: the shortest strip whose clipping
// holds all copies.
func (l *latSearcher) strip(ctx context.Context) (Result, error) {
	part := l.onlyOrdered()
	if part < 0 || l.problem.Parts[part].Quantity < latMany {
		return Result{}, ErrUnsupported
	}
	n := l.problem.Parts[part].Quantity
	picks, err := l.shortest(ctx, part, n)
	if err != nil {
		return Result{}, err
	}
	r := Result{
		Layouts: []Layout{l.layout(0, picks)},
		Length:  geom.Snap(latReach(l.store, picks)+geom.Grid) + l.problem.Margin,
		Status:  sepStatus(ctx),
		Stats:   Stats{Seed: l.options.Seed, Effort: l.options.Effort, Won: "lattice"},
	}
	r.Density = float64(n) * l.store.kinds[part].area / (r.Length * l.problem.StripWidth)
	return r, nil
}

// onlyOrdered is the one part of which any are wanted, or −1.
func (l *latSearcher) onlyOrdered() int {
	only := -1
	for i, part := range l.problem.Parts {
		switch {
		case part.Quantity == 0:
		case only >= 0:
			return -1
		default:
			only = i
		}
	}
	return only
}

// latBisections is how often the strip's length is halved in.
const latBisections = 10

// shortest bisects for the length of strip that just holds n copies.
func (l *latSearcher) shortest(ctx context.Context, part, n int) ([]sepPick, error) {
	m, k := l.problem.Margin, &l.store.kinds[part]
	sheet := latSheet{store: l.store, kind: part, seed: l.options.Seed, workers: l.options.Workers, clippings: max(1, int(latClips*l.thrift())), pre: l.pre, fits: l.fits}
	sheet.box = sepBox{m, m, m, l.problem.StripWidth - m}
	cells := l.cells(ctx, part, 0)
	if len(cells) == 0 {
		return nil, ErrUnsupported
	}
	turned := sheet.turns(cells)
	lo := float64(n) * k.area / (sheet.box.y1 - sheet.box.y0)
	hi, best, err := l.longEnough(ctx, &sheet, turned, n, lo/cells[0].density()+k.size)
	if err != nil {
		return nil, err
	}
	for try := 0; try < latBisections && ctx.Err() == nil; try++ {
		hi = min(hi, latReach(l.store, best)-m)
		mid := (lo + hi) / 2
		sheet.box.x1 = m + mid
		if picks := sheet.fill(ctx, turned); len(picks) >= n {
			best, hi = l.leftmost(picks, n), mid
		} else {
			lo = mid
		}
	}
	return best, nil
}

// longEnough lengthens the strip until it holds n copies.
func (l *latSearcher) longEnough(ctx context.Context, sheet *latSheet, turned []latTurned, n int, length float64) (float64, []sepPick, error) {
	start := sheet.box.x0
	for try := 0; try < latBisections && ctx.Err() == nil; try++ {
		sheet.box.x1 = start + length
		if picks := sheet.fill(ctx, turned); len(picks) >= n {
			return length, l.leftmost(picks, n), nil
		}
		length *= 1.5
	}
	return 0, nil, fmt.Errorf("part %d (%q) does not fit a strip %g mm wide %d times; widen the strip or allow more turns",
		sheet.kind+1, l.problem.Parts[sheet.kind].ID, l.problem.StripWidth, n)
}
