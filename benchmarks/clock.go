package main

import (
	"context"
	"errors"
	"time"
)

// A clock tells the seconds since a run began: those of the wall, or the processor
// time the whole program has used divided by the workers. The second hardly depends
// on what else the machine does. It is no faster than the wall of a quiet machine with
// a core for each worker, save while workers wait for one another.
type clock struct {
	began   time.Time
	cpu     float64 // used when the run began
	workers int     // 0 for the wall
}

func (b budget) clock() clock {
	c := clock{began: time.Now()}
	if b.processor {
		c.cpu, c.workers = cpuSeconds(), b.workers
	}
	return c
}

func (c clock) seconds() float64 {
	if c.workers > 0 {
		return (cpuSeconds() - c.cpu) / float64(c.workers)
	}
	return time.Since(c.began).Seconds()
}

// lookEvery is how often processor time is looked at.
const lookEvery = 50 * time.Millisecond

// within gives a context that ends when the clock says so; end frees it.
func (c clock) within(ctx context.Context, seconds float64) (limited context.Context, end context.CancelFunc) {
	if c.workers == 0 {
		return context.WithTimeout(ctx, time.Duration(seconds*float64(time.Second)))
	}
	limited, end = context.WithCancel(ctx)
	go func() {
		look := time.NewTicker(lookEvery)
		defer look.Stop()
		for limited.Err() == nil && c.seconds() < seconds {
			select {
			case <-look.C:
			case <-limited.Done():
			}
		}
		end()
	}()
	return limited, end
}

// errNoProcessorTime is for systems that do not tell a program's processor time.
var errNoProcessorTime = errors.New("this system does not tell a program's processor time; run without -processor")
