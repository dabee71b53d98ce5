package week

import (
	"context"
	"sync"
	"time"
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

// limited ends a context when the clock's time is up, so that every stage sees it.
func (m *maker) limited(ctx context.Context) (context.Context, context.CancelFunc) {
	if m.o.Clock == nil {
		return ctx, func() {}
	}
	return m.o.Clock.Within(ctx, m.o.Clock.Left())
}

// stageClock is the clock as a stage sees it whose context ends before.
func (m *maker) stageClock(ctx context.Context) Clock {
	end, limited := ctx.Deadline()
	if m.o.Clock == nil || !limited {
		return m.o.Clock
	}
	return stageClock{m.o.Clock, end}
}

type stageClock struct {
	Clock
	end time.Time
}

// Left is how many seconds are left of the stage.
func (c stageClock) Left() float64 { return c.Until(c.end) }

// within derives a context for a share of the time ctx has left. Without a
// clock it is ctx.
func (m *maker) within(ctx context.Context, share float64) (context.Context, context.CancelFunc) {
	end, limited := ctx.Deadline()
	if m.o.Clock == nil || !limited || share >= 1 {
		return ctx, func() {}
	}
	return m.o.Clock.Within(ctx, share*m.o.Clock.Until(end))
}
