package nest

import "slices"

// A sideways brings the fronts of a part's turns up to date side by side. Each front
// changes by itself, and the no-fit polygons they share are the same whoever makes
// them first, so the result is that of one after the other.
type sideways struct {
	workers int
	clips   []*clipper // one for each front under way
	fronts  []*front
}

// newSideways is nil for one worker.
func newSideways(workers int) *sideways {
	if workers < 2 {
		return nil
	}
	return &sideways{workers: workers}
}

// updateTurns brings the fronts of all turns of a kind up to date that a spot will
// ask for.
func (fd *field) updateTurns(kind int32) {
	w := fd.side
	if w == nil {
		return
	}
	w.fronts = w.fronts[:0]
	for _, t := range fd.ground.turns[kind] {
		shape := fd.pre.kinds[kind].turns[t].shape
		if fd.inner(shape).empty {
			continue
		}
		if f := fd.opened(shape); f.dead < 0 && len(f.steps) < len(fd.placed) && !slices.Contains(w.fronts, f) {
			w.fronts = append(w.fronts, f)
		}
	}
	if len(w.fronts) < 2 {
		return
	}
	for len(w.clips) < len(w.fronts) {
		w.clips = append(w.clips, &clipper{})
	}
	sideBySide(w.workers, w.fronts, func(i int, f *front) { fd.update(f, w.clips[i]) })
}
