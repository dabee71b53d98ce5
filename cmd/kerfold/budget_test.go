package main

import (
	"context"
	"runtime"
	"testing"
	"time"

	"kerfold/nest"
	"kerfold/nest/week"
)

// A plan limited in time ends with it, whatever stage it is in, and says so: 5,000
// orders would keep the search, the trial calendars and the cures busy for much
// longer. The first complete plan is never cut short, so a slow machine has slack.
func TestPlanEndsInTime(t *testing.T) {
	if testing.Short() {
		t.Skip("takes about 45 s by the clock")
	}
	job, err := loadJob(writeBigJob(t, t.TempDir(), 5000, 3))
	if err != nil {
		t.Fatal(err)
	}
	const seconds, slack = 40, 30
	start := time.Now()
	p, err := week.Make(context.Background(), job, week.Options{Seed: 1, Workers: min(2, runtime.NumCPU()), Clock: newWallClock(start, seconds)})
	if err != nil {
		t.Fatal(err)
	}
	took := time.Since(start)
	t.Logf("%.1f s of %d, %d groups", took.Seconds(), seconds, len(p.Groups))
	if took > (seconds+slack)*time.Second {
		t.Errorf("took %.1f s, limited to %d", took.Seconds(), seconds)
	}
	if p.Status != nest.Limit {
		t.Errorf("the plan's status is %v, want that its time was up", p.Status)
	}
}
