package week

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kerfold/cost"
	"kerfold/nest"
	"kerfold/nest/shop"
)

func TestPlanIsWholeAndLegal(t *testing.T) {
	p := shelfPlan(t, weekText, Options{Effort: 1})
	if p.Status != nest.Finished {
		t.Errorf("status %v", StatusWord(p.Status))
	}
	if len(p.Groups) != 3 {
		t.Fatalf("%d groups, want 3: two grades of plate, and rubber", len(p.Groups))
	}
	for i := range p.Groups {
		if r := Judge(&p.Groups[i]); !r.OK() {
			t.Errorf("%s: %v", p.Groups[i].ID, r.Violations[0].Text)
		}
	}
	for _, fault := range Audit(p) {
		t.Error(fault)
	}
	for _, o := range p.Orders {
		if o.Placed < o.Wanted || o.Finish < 0 {
			t.Errorf("order %s: %d of %d", o.Order, o.Placed, o.Wanted)
		}
	}
}

// No sheet is promised to two groups, and what is left adds up.
func TestStockAddsUp(t *testing.T) {
	job := testJob(t, weekText)
	p := shelfPlan(t, weekText, Options{Effort: 1})
	used := map[string]int{}
	for i := range p.Groups {
		g := &p.Groups[i]
		for k := range g.Layouts {
			used[g.Sheets[g.Layouts[k].Sheet].ID] += g.Layouts[k].Repeats
		}
	}
	left, remnants := map[string]int{}, 0
	for _, s := range p.Stock {
		if s.Remnant {
			remnants += s.Count
			continue
		}
		left[s.ID] = s.Count
	}
	for _, s := range job.Stock {
		if used[s.ID]+left[s.ID] != s.Count || used[s.ID] == 0 {
			t.Errorf("%s: %d used and %d left of %d", s.ID, used[s.ID], left[s.ID], s.Count)
		}
	}
	if remnants == 0 {
		t.Error("no remnant is kept, though the last sheets are not full")
	}
}

// The chosen way is the cheapest of those that place most, and its money is
// what the runs cost less the remnants, worked out here again.
func TestChosenWayIsCheapest(t *testing.T) {
	p := shelfPlan(t, weekText, Options{Effort: 1})
	stacked := false
	for i := range p.Groups {
		g := &p.Groups[i]
		chosen := g.Ways[0]
		for _, w := range g.Ways[1:] {
			if w.Short < chosen.Short || w.Short == chosen.Short && w.Money+w.Late < chosen.Money+chosen.Late {
				t.Errorf("%s: %q (%v) is chosen over %q (%v)", g.ID, chosen.Name, chosen.Money, w.Name, w.Money)
			}
		}
		stacked = stacked || chosen.Sheets > chosen.Layouts && g.Layouts[0].Depth() > 1
	}
	if !stacked {
		t.Error("nothing is stacked, though the rubber runs at the feed cap")
	}
}

// The stacks of every layout are the cheapest of all ways to split its repeats,
// by plain enumeration with the cost model's run prices.
func TestStacksAgainstEnumeration(t *testing.T) {
	for _, tk := range gather(testJob(t, weekText)) {
		c, err := tk.direct().lay(context.Background(), func(_ context.Context, p nest.Problem) (nest.Result, error) { return shelves(p), nil })
		if err != nil {
			t.Fatal(err)
		}
		if err := c.price(context.Background(), tk, DefaultRemnants, routed); err != nil {
			t.Fatal(err)
		}
		for i := range c.laid {
			best := math.Inf(1)
			for _, m := range tk.machines {
				if shop.TakesSheet(&tk.job.Machines[m], &tk.group.Sheets[c.laid[i].sheet]) {
					best = math.Min(best, leastOfSplits(runsOn(t, tk, &c.laid[i], c.works[i], m), c.laid[i].repeats, tk.depthOn(m)))
				}
			}
			if got := c.picks[i].money; math.Abs(got-best) > 1e-9*best {
				t.Errorf("%s: %v in stacks of %v, but %v is possible", tk.group.ID, got, c.picks[i].stacks, best)
			}
		}
	}
}

// leastOfSplits tries every split of n sheets into stacks no deeper than most.
func leastOfSplits(run func(depth int) float64, n, most int) float64 {
	if n == 0 {
		return 0
	}
	best := math.Inf(1)
	for d := 1; d <= min(n, most); d++ {
		best = math.Min(best, run(d)+leastOfSplits(run, n-d, d))
	}
	return best
}

func runsOn(t *testing.T, tk *task, l *laid, w cost.Work, m int) func(depth int) float64 {
	return func(depth int) float64 {
		ledger, err := cost.LayoutLedger(tk.setup(m, depth), w, tk.group.Sheets[l.sheet].Cost)
		if err != nil {
			t.Fatal(err)
		}
		return ledger.Money.Total()
	}
}

// The tariff prices a layout as the cost model prices its contours.
func TestTariffAgainstContours(t *testing.T) {
	for _, tk := range gather(testJob(t, weekText)) {
		c, err := tk.direct().lay(context.Background(), func(_ context.Context, p nest.Problem) (nest.Result, error) { return shelves(p), nil })
		if err != nil {
			t.Fatal(err)
		}
		for i := range c.laid {
			l := &c.laid[i]
			w := cost.Work{Parts: len(l.placements), RapidsMM: tk.roughMoves(l)}
			for _, p := range l.placements {
				w.Strokes = append(w.Strokes, partWork(tk.group.Parts[p.Part].Shape).Strokes...)
			}
			rough, err := tk.roughRuns(l)
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range rough {
				for depth := 1; depth < len(r.money); depth++ {
					want := runsOn(t, tk, l, w, r.machine)(depth)
					if math.Abs(r.money[depth]-want) > 1e-9*want {
						t.Errorf("%s, %d layers: %v by the tariff, %v by the contours", tk.group.ID, depth, r.money[depth], want)
					}
				}
			}
		}
	}
}

func TestPlanDoesNotDependOnWorkers(t *testing.T) {
	one := shelfPlan(t, weekText, Options{Effort: 1})
	for _, workers := range []int{1, 2, 5} {
		other := fresh(t, weekText, Options{Effort: 1, Workers: workers})
		if diff := cmp.Diff(one, other); diff != "" {
			t.Errorf("%d workers plan otherwise:\n%s", workers, diff)
		}
	}
}

func TestCancelledPlanIsStillWhole(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p, err := makeWith(ctx, testJob(t, weekText), Options{Effort: 1}, shelfEngine)
	if err != nil {
		t.Fatal(err)
	}
	if p.Status != nest.Cancelled {
		t.Errorf("status %v, want cancelled", StatusWord(p.Status))
	}
	for _, o := range p.Orders {
		if o.Placed < o.Wanted {
			t.Errorf("order %s: %d of %d", o.Order, o.Placed, o.Wanted)
		}
	}
}

func TestShortStockIsSaid(t *testing.T) {
	p := shelfPlan(t, strings.Replace(weekText, "height_mm: 600, count: 9", "height_mm: 600, count: 2", 1), Options{Effort: 1})
	if p.Status != nest.Infeasible {
		t.Errorf("status %v, want infeasible", StatusWord(p.Status))
	}
	if !strings.Contains(strings.Join(p.Warnings, "\n"), "found no place") {
		t.Errorf("nobody says what found no place: %q", p.Warnings)
	}
	for i := range p.Groups {
		if r := Judge(&p.Groups[i]); !r.OK() {
			t.Errorf("%s: %v", p.Groups[i].ID, r.Violations[0].Text)
		}
	}
}

func TestLateIsSaid(t *testing.T) {
	p := shelfPlan(t, strings.Replace(weekText, "due: 2031-03-04", "due: 2031-03-02", 1), Options{Effort: 1})
	for _, o := range p.Orders {
		if want := o.Order == "K-2"; o.Late != want {
			t.Errorf("order %s: late %v", o.Order, o.Late)
		}
	}
	if !strings.Contains(strings.Join(p.Warnings, "\n"), "order K-2: due Sun 2 Mar 2031") {
		t.Errorf("nobody says so: %q", p.Warnings)
	}
}

// Every machine does one thing at a time, in its hours, and sets up at every
// change of material or thickness and only then; a check that finds no fault
// here finds those put in.
func TestCalendarIsPossible(t *testing.T) {
	p := shelfPlan(t, weekText, Options{Effort: 1})
	if faults := Audit(p); len(faults) > 0 {
		t.Fatalf("a fresh plan has faults: %q", faults)
	}
	last := len(p.Calendar) - 1
	for _, c := range []struct {
		what, says string
		spoil      func(s *Slot)
	}{
		{"overlap", "before the stack before it is done", func(s *Slot) { s.StartDay, s.StartSec = 0, 0 }},
		{"outside the hours", "outside the machine's hours", func(s *Slot) { s.EndSec = 20 * 3600 }},
		{"longer work", "the run makes it", func(s *Slot) { s.WorkSec += 60; s.EndSec += 60 }},
		{"hidden loading", "of them loading", func(s *Slot) { s.LoadSec += 5 }},
	} {
		spoiled := *p
		spoiled.Calendar = slices.Clone(p.Calendar)
		c.spoil(&spoiled.Calendar[last])
		if got := strings.Join(Audit(&spoiled), "\n"); !strings.Contains(got, c.says) {
			t.Errorf("%s: no %q in %q", c.what, c.says, got)
		}
	}
}

// An order's finish is found again by replaying the calendar backwards.
func TestOrderDatesAgainstReplay(t *testing.T) {
	p := shelfPlan(t, weekText, Options{Effort: 1})
	for _, o := range p.Orders {
		g := &p.Groups[o.Group]
		need := o.Wanted
		var finish Slot
		for _, s := range byEnd(p.Calendar) {
			if s.Group != o.Group || need <= 0 {
				continue
			}
			for _, pl := range g.Layouts[s.Layout].Placements {
				if g.Parts[pl.Part].ID == o.Order {
					need -= s.Depth
					finish = s
				}
			}
		}
		if finish.EndDay != o.Finish || finish.EndSec != o.FinishSec {
			t.Errorf("order %s: done on day %d at %v, the calendar says %d at %v",
				o.Order, o.Finish, o.FinishSec, finish.EndDay, finish.EndSec)
		}
	}
}

func TestLedgerIsTheSumOfItsParts(t *testing.T) {
	p := shelfPlan(t, weekText, Options{Effort: 1})
	job := testJob(t, weekText)
	sum, setups := 0.0, 0
	for i := range p.Groups {
		group := 0.0
		for _, l := range p.Groups[i].Layouts {
			for _, r := range l.Runs {
				group += float64(r.Count) * r.Ledger.Money.Total()
			}
		}
		if got := p.Groups[i].Ledger.Money.Total(); math.Abs(got-group) > 1e-6 {
			t.Errorf("%s costs %v, its runs %v", p.Groups[i].ID, got, group)
		}
		sum += group
	}
	for _, m := range p.Machines {
		setups += m.Setups
	}
	waits := p.Between.Usage.OccupiedSec - float64(setups)*job.Rates.SetupSec
	sum += float64(setups)*cost.SetupLedger(job.Rates).Money.Total() + waits/3600*(job.Rates.MachinePerHour+job.Rates.LabourPerHour)
	if got := p.Ledger.Money.Total(); math.Abs(got-sum) > 1e-6 {
		t.Errorf("the plan costs %v, its parts %v", got, sum)
	}
	if p.MoneyRange.Low >= sum || p.MoneyRange.High <= sum {
		t.Errorf("the range %v does not hold %v", p.MoneyRange, sum)
	}
}

func TestEmptyJobsAreRefused(t *testing.T) {
	job := testJob(t, weekText)
	for _, c := range []struct {
		why   string
		spoil func(j *shop.Job)
	}{
		{"orders", func(j *shop.Job) { j.Orders = nil }},
		{"machines", func(j *shop.Job) { j.Machines = nil }},
		{"days", func(j *shop.Job) { j.Days = nil }},
	} {
		bad := *job
		c.spoil(&bad)
		if _, err := Make(context.Background(), &bad, Options{}); err == nil || !strings.Contains(err.Error(), c.why) {
			t.Errorf("without %s: %v", c.why, err)
		}
	}
}
