package nest

import "golang.org/x/sync/errgroup"

// sideBySide calls do for every member of a search, up to the given number at
// once. This is the only place where the searches over orders run anything side
// by side. Members do not touch one another, and what they share is read-only
// or, like the no-fit polygons, the same whoever makes it first; so it does not
// matter which of them runs when, and the caller joins them by index.
func sideBySide[T any](workers int, members []T, do func(i int, member T)) {
	var g errgroup.Group
	g.SetLimit(max(1, workers))
	for i, m := range members {
		g.Go(func() error {
			do(i, m)
			return nil
		})
	}
	_ = g.Wait() // do returns no error
}
