package nest

// pass moves every colliding item once, in random order, and then updates the
// weights. It returns the loss left. With many kinds of part, a first pass works out
// hundreds of tables, so it looks at the time before every move.
func (l *sepLane) pass() float64 {
	l.order = l.order[:0]
	for i := range l.free {
		if l.collides(i) {
			l.order = append(l.order, i)
		}
	}
	l.mover.rng.Shuffle(len(l.order), func(a, b int) { l.order[a], l.order[b] = l.order[b], l.order[a] })
	for _, i := range l.order {
		if l.stopped() {
			break
		}
		if l.collides(i) {
			l.mover.relocate(l.sepState, i)
		}
	}
	l.reweigh()
	return l.loss()
}

// reweigh lets the weights of colliding pairs grow and those of others decay.
func (s *sepState) reweigh() {
	deepest := float32(0)
	for _, d := range s.depth {
		deepest = max(deepest, d)
	}
	if deepest == 0 {
		return
	}
	for _, list := range s.on {
		for _, i := range list {
			row, w := s.depth[int(i)*s.n:int(i)*s.n+s.n], s.weight[int(i)*s.n:int(i)*s.n+s.n]
			for _, j := range list {
				if d := row[j]; d > 0 {
					w[j] *= sepGrowLeast + (sepGrowMost-sepGrowLeast)*d/deepest
				} else {
					w[j] = max(1, w[j]*sepDecay)
				}
			}
		}
	}
}
