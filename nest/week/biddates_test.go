package week

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"kerfold/nest/shop"
)

// twoDueJob is a job whose single machine cuts about a sheet a day; parts of the
// order due first lie on both sheets where they are laid out for money alone.
func twoDueJob(t *testing.T) *shop.Job { return testJob(t, lateText) }

// A bid pays for being in time where the plan does, by the same jury, and says so.
func TestBidWeighsDueDates(t *testing.T) {
	b := bidFor(t, twoDueJob(t), BidOptions{NoChanges: true})
	d := b.Due
	if d == nil || d.Why != "" || !slices.Equal(d.Groups, []string{"G1"}) || !(d.Spared > d.Money) || d.LateMoney != 0 || len(d.Late) > 0 {
		t.Fatalf("weighed as %+v", d)
	}
	if b.Groups[0].Way != UrgentName {
		t.Errorf("cut as %q", b.Groups[0].Way)
	}
	free := twoDueJob(t)
	free.Rates.LatePerHour = 0
	f := bidFor(t, free, BidOptions{NoChanges: true})
	if f.Groups[0].Way == UrgentName || f.Due == nil || !strings.Contains(f.Due.Why, "late_per_hour") {
		t.Errorf("lateness costs nothing: cut as %q, weighed as %+v", f.Groups[0].Way, f.Due)
	}
	if f.Money.Likely > b.Money.Likely {
		t.Errorf("being in time costs less than not caring: %v, %v", b.Money.Likely, f.Money.Likely)
	}
	p, err := Make(context.Background(), twoDueJob(t), Options{Seed: 1, Effort: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	if got := p.Groups[0].Yield(); math.Abs(got-b.Groups[0].Yield.Likely) > 0.03 {
		t.Errorf("the plan's yield is %.3f, the bid's %.3f", got, b.Groups[0].Yield.Likely)
	}
}

// Work that has no due dates is not weighed and says nothing of it.
func TestBidWithoutDueDates(t *testing.T) {
	if b := bidFor(t, plateJob(300), BidOptions{Buy: true, NoChanges: true}); b.Due != nil {
		t.Errorf("weighed as %+v", b.Due)
	}
}

// Behind a load that fills the week everything is late, whatever the way; what
// the bid says of that is what comes out when the days are simply later.
func TestBidWeighsDueDatesBehindLoad(t *testing.T) {
	job := twoDueJob(t)
	load := &Plan{Job: "before", Days: job.Days, DayStartSec: job.DayStartSec, Machines: []MachineLoad{{ID: job.Machines[0].ID, HoursPerDay: 1.6}}}
	load.Calendar = []Slot{{EndDay: 1, EndSec: 1.6 * 3600}}
	b := bidFor(t, job, BidOptions{NoChanges: true, Load: load})
	later := twoDueJob(t)
	later.Days = later.Days[2:]
	want := bidFor(t, later, BidOptions{NoChanges: true})
	if len(b.Due.Late) == 0 || math.Abs(b.Due.LateMoney-want.Due.LateMoney) > 1e-6 || !slices.Equal(b.Due.Late, want.Due.Late) {
		t.Errorf("behind the load %+v, two days later %+v", b.Due, want.Due)
	}
	if b.Groups[0].Way != want.Groups[0].Way {
		t.Errorf("cut as %q, two days later as %q", b.Groups[0].Way, want.Groups[0].Way)
	}
}

// What due dates decide does not depend on workers; changes are made in the way
// that was decided for.
func TestBidWeighingIsSteady(t *testing.T) {
	if testing.Short() {
		t.Skip("bids for two groups of the demo week twice, some seconds")
	}
	one := bidFor(t, demoSteel(t), BidOptions{Workers: 1})
	two := bidFor(t, demoSteel(t), BidOptions{Workers: 3})
	if one.Money.Likely != two.Money.Likely || !slices.Equal(one.Due.Groups, two.Due.Groups) || one.Due.Trials != two.Due.Trials ||
		one.Yield != two.Yield || !slices.Equal(one.Changes, two.Changes) {
		t.Errorf("one worker: %v, %+v; three: %v, %+v", one.Money.Likely, one.Due, two.Money.Likely, two.Due)
	}
	if len(one.Due.Groups) == 0 {
		t.Error("due dates decide nothing: the case tests nothing")
	}
}

// With the clock run out there is a bid all the same, and it says what it left out.
func TestBidWeighingInTime(t *testing.T) {
	ctx, cancel := context.WithDeadline(context.Background(), time.Unix(0, 0))
	defer cancel()
	b, err := MakeBid(ctx, twoDueJob(t), BidOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if b.Due == nil || !b.Due.Cut || b.Groups[0].Way == UrgentName {
		t.Errorf("weighed as %+v", b.Due)
	}
}
