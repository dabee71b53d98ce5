package week

import (
	"context"
	"math"
	"testing"
	"time"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest/shop"
)

func plateJob(quantity int) *shop.Job {
	job := shop.DemoJob()
	plate := geom.Shape{Outer: geom.RectContour(0, 0, 120, 80)}
	job.Orders = []shop.Order{shop.OrderByHand("plate", plate, quantity, "aluminium 6061", 2, cost.Medium)}
	job.Stock = []shop.Stock{shop.SheetByHand("S", "aluminium 6061", 2, 500, 500, 20)}
	return job
}

func bidFor(t *testing.T, job *shop.Job, o BidOptions) *Bid {
	t.Helper()
	b, err := MakeBid(context.Background(), job, o)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// A bid lays all parts out, even very many, and buys the sheets that are not there.
func TestBidIsWhole(t *testing.T) {
	for _, n := range []int{1, 30, 700, 30011} {
		for _, buy := range []bool{false, true} {
			b := bidFor(t, plateJob(n), BidOptions{Buy: buy, NoChanges: true})
			g := &b.Groups[0]
			sheets, bought := g.SheetCount()
			if g.Short != 0 || g.PartArea < float64(n)*120*80 {
				t.Errorf("%d parts: %d short, %v mm² of parts", n, g.Short, g.PartArea)
			}
			least := int(math.Ceil(float64(n) / 25)) // 25 could lie on a sheet by area
			if sheets < least || sheets > 2*least+1 {
				t.Errorf("%d parts on %d sheets, at least %d needed", n, sheets, least)
			}
			if want := sheets; buy && bought != want || !buy && bought != sheets-1 {
				t.Errorf("%d parts, buy %v: %d of %d sheets to buy", n, buy, bought, want)
			}
		}
	}
}

// Every change is worked out by the model: a finer grade and single sheets are
// what the same bid says of a job changed by hand.
func TestBidChangesAreBids(t *testing.T) {
	b := bidFor(t, plateJob(300), BidOptions{Buy: true})
	finer := plateJob(300)
	finer.Orders[0].Grade = cost.Good
	single := plateJob(300)
	for i := range single.Machines {
		single.Machines[i].MaxLayers = 1
	}
	for _, c := range []struct {
		text string
		job  *shop.Job
	}{{"one grade finer: good", finer}, {"no stacks: every sheet by itself", single}} {
		other := bidFor(t, c.job, BidOptions{Buy: true, NoChanges: true})
		want := other.Money.Likely - b.Money.Likely
		found := false
		for _, ch := range b.Changes {
			if ch.Text == c.text {
				found = true
				// the changes are priced without leads, bids with
				if math.Abs(ch.Money-want) > 0.1*math.Abs(want)+0.01*b.Money.Likely {
					t.Errorf("%s: %+.2f, a bid of its own says %+.2f", c.text, ch.Money, want)
				}
			}
		}
		if !found {
			t.Errorf("no change %q among %+v", c.text, b.Changes)
		}
	}
}

func TestBidChangesAreRanked(t *testing.T) {
	b := bidFor(t, plateJob(300), BidOptions{Buy: true, Workers: 2})
	kinds := map[ChangeKind]bool{}
	for i, c := range b.Changes {
		kinds[c.Kind] = true
		if i > 0 && math.Abs(c.Money) > math.Abs(b.Changes[i-1].Money) {
			t.Errorf("change %d outweighs the one before it: %+v", i, b.Changes)
		}
	}
	for _, k := range []ChangeKind{ChangeGrade, ChangeSheet, ChangeSpacing, ChangeStacking} {
		if !kinds[k] {
			t.Errorf("no change of %s: %+v", k, b.Changes)
		}
	}
}

// A loaded machine puts the finish off by its load; the calendar goes on over
// the weekend.
func TestBidFinish(t *testing.T) {
	job := plateJob(300)
	job.Days = []time.Time{time.Date(2030, 3, 7, 0, 0, 0, 0, time.UTC), time.Date(2030, 3, 8, 0, 0, 0, 0, time.UTC)}
	free := bidFor(t, job, BidOptions{Buy: true, NoChanges: true})
	load := &Plan{Job: "this week", Days: job.Days}
	for i := range job.Machines {
		load.Machines = append(load.Machines, MachineLoad{ID: job.Machines[i].ID, HoursPerDay: 8})
		load.Calendar = append(load.Calendar, Slot{Machine: i, EndDay: 1, EndSec: 8 * 3600})
	}
	busy := bidFor(t, job, BidOptions{Buy: true, NoChanges: true, Load: load})
	if busy.Finish.Workday != free.Finish.Workday+2 || math.Abs(busy.Finish.Sec-free.Finish.Sec) > 1e-6 {
		t.Errorf("free %+v, busy %+v", free.Finish, busy.Finish)
	}
	if want := time.Date(2030, 3, 11, 0, 0, 0, 0, time.UTC); free.Finish.Workday == 1 && !busy.Finish.Day.Equal(want) {
		t.Errorf("done %v, want the Monday after", busy.Finish.Day)
	}
}

// A bid keeps to the hours of single days: with every machine closed on the
// first two days it ends two days later, as the plan's calendar does.
func TestBidFinishKeepsToHours(t *testing.T) {
	job := plateJob(300)
	for d := 4; d < 9; d++ {
		job.Days = append(job.Days, time.Date(2030, 3, d, 0, 0, 0, 0, time.UTC))
	}
	job.Days = job.Days[len(job.Days)-5:]
	usual := bidFor(t, job, BidOptions{Buy: true, NoChanges: true})
	for _, d := range job.Days[:2] {
		for i := range job.Machines {
			job.PartDays = append(job.PartDays, shop.PartDay{Machine: job.Machines[i].ID, Date: d})
		}
	}
	closed := bidFor(t, job, BidOptions{Buy: true, NoChanges: true})
	if closed.Finish.Workday != usual.Finish.Workday+2 || math.Abs(closed.Finish.Sec-usual.Finish.Sec) > 1e-6 {
		t.Errorf("usual hours: %+v, two days closed: %+v", usual.Finish, closed.Finish)
	}
	if want := job.Days[closed.Finish.Workday-1]; !closed.Finish.Day.Equal(want) {
		t.Errorf("done %v, want %v", closed.Finish.Day, want)
	}
}

func TestBidRefuses(t *testing.T) {
	for _, job := range []*shop.Job{plateJob(0), shop.DemoJob()} {
		job.Machines = nil
		if _, err := MakeBid(context.Background(), job, BidOptions{}); err == nil {
			t.Error("no machines, no error")
		}
	}
	large := plateJob(3)
	large.Orders[0].Shape = geom.Shape{Outer: geom.RectContour(0, 0, 900, 900)}
	if _, err := MakeBid(context.Background(), large, BidOptions{}); err == nil {
		t.Error("a part larger than the sheet was bid for")
	}
}

// Time that is up leaves out changes and says how many, but the bid is whole.
func TestBidInTime(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	b, err := MakeBid(ctx, plateJob(300), BidOptions{Buy: true})
	if err != nil {
		t.Fatal(err)
	}
	if b.Omitted == 0 || len(b.Changes) > 1 || b.Groups[0].Short > 0 || !(b.Money.Likely > 0) {
		t.Errorf("%d omitted, %d changes, bid %+v", b.Omitted, len(b.Changes), b.Money)
	}
}
