//go:build unix

package week

import (
	"context"
	"sync/atomic"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// A cpuClock counts the processor time of this process, shared out over so many
// workers, so that a plan limited in time can be measured on a machine that has
// other work: it gets what a quiet one would give it.
type cpuClock struct {
	zero    time.Time
	used    float64 // processor time at zero
	workers float64
	seconds float64 // allowed
}

func newCPUClock(seconds, workers float64) Clock {
	return &cpuClock{time.Now(), processorSeconds(), workers, seconds}
}

func processorSeconds() float64 {
	var u unix.Rusage
	if unix.Getrusage(unix.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

func (c *cpuClock) now() time.Time {
	return c.zero.Add(time.Duration((processorSeconds() - c.used) / c.workers * float64(time.Second)))
}

func (c *cpuClock) Left() float64 {
	return max(0, c.seconds-c.now().Sub(c.zero).Seconds())
}

func (c *cpuClock) Until(t time.Time) float64 { return max(0, t.Sub(c.now()).Seconds()) }

func (c *cpuClock) Within(ctx context.Context, seconds float64) (context.Context, context.CancelFunc) {
	inner, cancel := context.WithCancel(ctx)
	out := &cpuContext{Context: inner, end: c.now().Add(time.Duration(seconds * float64(time.Second)))}
	if end, limited := ctx.Deadline(); limited && end.Before(out.end) {
		out.end = end
	}
	go func() {
		for tick := time.NewTicker(20 * time.Millisecond); ; {
			select {
			case <-inner.Done():
				tick.Stop()
				return
			case <-tick.C:
				if c.Until(out.end) == 0 {
					out.over.Store(true)
					cancel()
				}
			}
		}
	}()
	return out, cancel
}

// A cpuContext ends at a moment of a cpuClock.
type cpuContext struct {
	context.Context
	end  time.Time
	over atomic.Bool
}

func (c *cpuContext) Deadline() (time.Time, bool) { return c.end, true }

func (c *cpuContext) Err() error {
	if c.over.Load() {
		return context.DeadlineExceeded
	}
	return c.Context.Err()
}

// A context of the clock ends when so much has been worked, not when so much time
// has passed.
func TestCPUClockCountsWork(t *testing.T) {
	c := newCPUClock(10, 1)
	ctx, cancel := c.Within(context.Background(), 0.05)
	defer cancel()
	if time.Sleep(100 * time.Millisecond); ctx.Err() != nil {
		t.Error("it ended although nothing was done")
	}
	before := processorSeconds()
	for x := 1.0; ctx.Err() == nil && processorSeconds() < before+5; x *= 1.0000001 {
	}
	if ctx.Err() != context.DeadlineExceeded {
		t.Errorf("after %.1f s of work its error is %v", processorSeconds()-before, ctx.Err())
	}
}
