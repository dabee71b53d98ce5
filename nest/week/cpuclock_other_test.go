//go:build !unix

package week

import (
	"context"
	"time"
)

// newCPUClock goes by the clock on the wall where processor time is not told.
func newCPUClock(seconds, _ float64) Clock {
	return wallClock{time.Now().Add(time.Duration(seconds * float64(time.Second)))}
}

type wallClock struct{ end time.Time }

func (c wallClock) Left() float64             { return c.Until(c.end) }
func (c wallClock) Until(t time.Time) float64 { return max(0, time.Until(t).Seconds()) }

func (c wallClock) Within(ctx context.Context, seconds float64) (context.Context, context.CancelFunc) {
	return context.WithTimeout(ctx, time.Duration(seconds*float64(time.Second)))
}
