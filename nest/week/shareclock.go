package week

import (
	"context"
	"sync"
)

// A shareClock hands out the time that is left to groups that are worked on
// side by side: a group gets its share of what the groups not yet begun would
// get, so that time saved by one goes to those after it.
type shareClock struct {
	mu      sync.Mutex
	clock   Clock
	weights []float64
	begun   []bool
	workers float64
}

func newShareClock(c Clock, weights []float64, workers int) *shareClock {
	return &shareClock{clock: c, weights: weights, begun: make([]bool, len(weights)), workers: float64(workers)}
}

// begin derives the context of task i.
func (s *shareClock) begin(ctx context.Context, i int) (context.Context, context.CancelFunc) {
	if s.clock == nil {
		return ctx, func() {}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	open := 0.0
	for k, w := range s.weights {
		if !s.begun[k] {
			open += w
		}
	}
	s.begun[i] = true
	left := s.clock.Left()
	seconds := left
	if open > 0 {
		seconds = min(left, left*s.workers*s.weights[i]/open)
	}
	return s.clock.Within(ctx, seconds)
}

// within derives a context for a share of the time ctx has left. Without a
// clock it is ctx.
func (m *maker) within(ctx context.Context, share float64) (context.Context, context.CancelFunc) {
	end, limited := ctx.Deadline()
	if m.o.Clock == nil || !limited || share >= 1 {
		return ctx, func() {}
	}
	return m.o.Clock.Within(ctx, share*m.o.Clock.Until(end))
}
