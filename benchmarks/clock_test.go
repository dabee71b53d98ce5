package main

import (
	"context"
	"testing"
	"time"
)

// TestProcessorClockCountsWork: the clock stands still while the program sleeps and
// ends a run only when the work is done.
func TestProcessorClockCountsWork(t *testing.T) {
	if !tellsProcessorTime() {
		t.Skip("this system does not tell a program's processor time")
	}
	c := budget{workers: 2, processor: true}.clock()
	time.Sleep(200 * time.Millisecond)
	if slept := c.seconds(); slept > 0.1 {
		t.Errorf("%g s went by in sleep", slept)
	}
	ctx, end := c.within(context.Background(), 0.2)
	defer end()
	began := time.Now()
	for ctx.Err() == nil && time.Since(began) < 20*time.Second {
	}
	if worked := c.seconds(); worked < 0.2 || worked > 0.5 {
		t.Errorf("two workers' share of 0.2 s ended after %g s", worked)
	}
}
