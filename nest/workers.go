package nest

import "golang.org/x/sync/errgroup"

// each calls do for every walker, up to the given number at once. This is the
// only place where the genetic search runs anything side by side. Walkers do not
// touch one another, and what they share is read-only or, like the no-fit
// polygons, the same whoever makes it first; so it does not matter which of them
// runs when.
func (h *herd) each(workers int, do func(i int, w *walker)) {
	var g errgroup.Group
	g.SetLimit(max(1, workers))
	for i, w := range h.walkers {
		g.Go(func() error {
			do(i, w)
			return nil
		})
	}
	_ = g.Wait() // do returns no error
}
