package nest

// pass moves every colliding item once, in random order, and then updates the
// weights. It returns the loss left.
func (l *sepLane) pass() float64 {
	l.order = l.order[:0]
	for i := range l.free {
		if l.collides(i) {
			l.order = append(l.order, i)
		}
	}
	l.mover.rng.Shuffle(len(l.order), func(a, b int) { l.order[a], l.order[b] = l.order[b], l.order[a] })
	for _, i := range l.order {
		if l.collides(i) {
			l.mover.relocate(l.sepState, i)
		}
	}
	l.reweigh()
	return l.loss()
}

func (s *sepState) collides(i int) bool {
	for _, d := range s.depth[i*s.n : i*s.n+s.n] {
		if d > 0 {
			return true
		}
	}
	return false
}

// reweigh lets the weights of colliding pairs grow and those of others decay.
func (s *sepState) reweigh() {
	deepest := float32(0)
	for i, d := range s.depth {
		_ = i
		deepest = max(deepest, d)
	}
	if deepest == 0 {
		return
	}
	for i, d := range s.depth {
		if d > 0 {
			s.weight[i] *= sepGrowLeast + (sepGrowMost-sepGrowLeast)*d/deepest
		} else {
			s.weight[i] = max(1, s.weight[i]*sepDecay)
		}
	}
}
