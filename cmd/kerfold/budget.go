package main

import (
	"context"
	"time"
)

// A wallClock limits a plan to a point in time.
type wallClock struct{ end time.Time }

// writingShare is kept back of the time for the order of cuts, the calendar, the check and the
// files, at most mostWriting.
const (
	writingShare = 0.1
	mostWriting  = 5 * time.Second
)

func newWallClock(start time.Time, seconds float64) *wallClock {
	total := time.Duration(seconds * float64(time.Second))
	keep := min(mostWriting, time.Duration(float64(total)*writingShare))
	return &wallClock{end: start.Add(total - keep)}
}

func (w *wallClock) Left() float64 { return max(0, time.Until(w.end).Seconds()) }

func (w *wallClock) Until(t time.Time) float64 { return max(0, time.Until(t).Seconds()) }

func (w *wallClock) Within(ctx context.Context, seconds float64) (context.Context, context.CancelFunc) {
	return context.WithTimeout(ctx, time.Duration(seconds*float64(time.Second)))
}
