package week

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"kerfold/nest/shop"
)

// lateJob is the test week on machines open for minutes a day, with more due on
// the first two days than they can do.
func lateJob(t *testing.T) *shop.Job {
	t.Helper()
	job := testJob(t, strings.NewReplacer("due: 2031-03-06", "due: 2031-03-04", "due: 2031-03-05", "due: 2031-03-04").Replace(weekText))
	job.Machines[0].HoursPerDay, job.Machines[1].HoursPerDay = 0.5, 0.15
	return job
}

func latePlan(t *testing.T, job *shop.Job) *Plan {
	t.Helper()
	_, p := curedFloor(t, job)
	return p
}

// curedFloor is a job's work ready to be sequenced, and its plan. The cuts are
// worked out in haste: what counts here is the calendar.
func curedFloor(t *testing.T, job *shop.Job) (*floor, *Plan) {
	t.Helper()
	ctx := context.Background()
	m := maker{job: job, o: filled(Options{Effort: 1}), engine: shelfEngine, tasks: gather(job)}
	m.meter, m.ways = newMeter(nil, len(m.tasks)), make([][]Way, len(m.tasks))
	if err := m.first(ctx); err != nil {
		t.Fatal(err)
	}
	p := m.frame()
	var chosen []*candidate
	for i, tk := range m.tasks {
		c, err := m.settle(context.Background(), tk, m.found[i], hasty)
		if err != nil {
			t.Fatal(err)
		}
		chosen, p.Groups = append(chosen, c), append(p.Groups, tk.group)
	}
	f, err := newFloor(job, m.tasks, chosen)
	if err != nil {
		t.Fatal(err)
	}
	q := f.schedule(p, 1, nil)
	m.book(p, f.jobs)
	p.Orders = orderDates(p)
	if err := m.cure(ctx, f, p, q); err != nil {
		t.Fatal(err)
	}
	return f, p
}

// A late order gets cures that hold when their calendars are followed and when
// the week is sequenced from nothing with them; half an hour of overtime less
// than the least does not do.
func TestCuresHold(t *testing.T) {
	job := lateJob(t)
	f, p := curedFloor(t, job)
	if !p.Orders[3].Tardy() || len(p.Cures) == 0 || p.CuresTried == 0 {
		t.Fatalf("orders %+v, cures %+v", p.Orders, p.Cures)
	}
	for _, f := range Audit(p) {
		t.Error(f)
	}
	for i := range p.Cures {
		c := &p.Cures[i]
		if i > 0 && c.Money < p.Cures[i-1].Money {
			t.Errorf("%s costs %v, the one before it %v", p.CureWords(c), c.Money, p.Cures[i-1].Money)
		}
		if lateDays(t, f, c.Steps) > 0 {
			t.Errorf("%s: the week planned with it is late all the same", p.CureWords(c))
		}
		if len(c.Steps) != 1 || c.Steps[0].Kind != Overtime {
			continue
		}
		if want := c.Steps[0].Hours * job.Rates.OvertimePerHour; c.Premium != want {
			t.Errorf("%s: premium %v, want %v", p.CureWords(c), c.Premium, want)
		}
		less := c.Steps[0]
		less.Hours -= overtimeStep
		if lateDays(t, f, []CureStep{less}) == 0 {
			t.Errorf("%s: half an hour less does it too", p.CureWords(c))
		}
	}
}

// lateDays sequences a floor with steps from nothing.
func lateDays(t *testing.T, f *floor, steps []CureStep) float64 {
	t.Helper()
	c, err := f.with(steps)
	if err != nil {
		t.Fatal(err)
	}
	b := c.bench()
	return newJudge(b).weigh(sequence(b, 100, rand.New(rand.NewPCG(7, 7)))).days
}

func TestAuditFindsFalseCures(t *testing.T) {
	p := latePlan(t, lateJob(t))
	for _, c := range []struct {
		what, says string
		spoil      func(c *Cure)
	}{
		{"a free hour", "with its steps it would be", func(c *Cure) { c.Steps[0].Hours -= 0.5 }},
		{"no premium", "it says 0.00", func(c *Cure) { c.Premium = 0 }},
		{"another order", "is not saved by it", func(c *Cure) { c.Saves = []string{"K-1"} }},
		{"no order", "it does not say so", func(c *Cure) { c.Saves = nil }},
		{"a stack missing", "it takes", func(c *Cure) { c.Calendar = c.Calendar[1:] }},
		{"two at once", "before the stack before it is done", func(c *Cure) {
			c.Calendar[len(c.Calendar)-1].StartDay, c.Calendar[len(c.Calendar)-1].StartSec = 0, 0
		}},
	} {
		q := *p
		cure := p.Cures[0]
		cure.Steps, cure.Calendar = slices.Clone(cure.Steps), slices.Clone(cure.Calendar)
		c.spoil(&cure)
		q.Cures = []Cure{cure}
		if got := strings.Join(Audit(&q), "\n"); !strings.Contains(got, c.says) {
			t.Errorf("%s: no %q in %q", c.what, c.says, got)
		}
	}
}

// Nothing is late, nothing is cured; and what is due before the week begins
// cannot be.
func TestCuresWhereThereAreNone(t *testing.T) {
	if p := shelfPlan(t, weekText, Options{Effort: 1}); len(p.Cures) > 0 || p.CuresTried > 0 {
		t.Errorf("%d cures of a week in time", len(p.Cures))
	}
	job := testJob(t, strings.Replace(weekText, "due: 2031-03-04", "due: 2031-02-03", 1))
	if p := latePlan(t, job); len(p.Cures) > 0 {
		t.Errorf("cured by %s", p.CureWords(&p.Cures[0]))
	}
}

// Dividing a layout makes the same parts of the same cuts, and loads twice.
func TestDividedLayoutIsTheWhole(t *testing.T) {
	f, _, c := divisible(t)
	whole := f.chosen[c.Group].works[c.Layout]
	pieces := f.tasks[c.Group].divided(f.chosen[c.Group], c.Layout, c.Orders)
	strokes, parts := 0, 0
	for _, p := range pieces {
		strokes += len(p.work.Strokes)
		parts += p.work.Parts
		if len(p.work.Strokes) == 0 || len(p.work.RapidsMM) != len(p.work.Strokes)-1 {
			t.Errorf("a piece of %d strokes and %d rapid moves", len(p.work.Strokes), len(p.work.RapidsMM))
		}
	}
	if strokes != len(whole.Strokes) || parts != whole.Parts {
		t.Errorf("%d strokes and %d parts, want %d and %d", strokes, parts, len(whole.Strokes), whole.Parts)
	}
	jobs, err := f.layoutJobs(c.Group, c.Layout, []CureStep{c})
	if err != nil {
		t.Fatal(err)
	}
	plain, err := f.layoutJobs(c.Group, c.Layout, nil)
	if err != nil {
		t.Fatal(err)
	}
	m := slices.IndexFunc(plain[0].work, func(w machineWork) bool { return w.ok })
	first, later, one := jobs[0].work[m], jobs[len(plain)].work[m], plain[0].work[m]
	if cut := first.time.CutSec + later.time.CutSec; math.Abs(cut-one.time.CutSec) > 1e-6 {
		t.Errorf("the pieces cut for %v s, the whole for %v", cut, one.time.CutSec)
	}
	if first.time.HandleSec+later.time.HandleSec <= one.time.HandleSec {
		t.Error("loading twice takes no longer than once")
	}
	if first.ledger.Money.Material != one.ledger.Money.Material || later.ledger.Money.Material != 0 {
		t.Errorf("the sheets are paid %v and %v, want %v and nothing", first.ledger.Money.Material, later.ledger.Money.Material, one.ledger.Money.Material)
	}
}

// Where only the urgent parts of a mixed sheet fit before the date, dividing it
// saves the order, and it is found.
func TestDividingSavesAnOrder(t *testing.T) {
	_, p, c := divisible(t)
	for _, cure := range p.CuresOf(c.Orders[0]) {
		if slices.ContainsFunc(cure.Steps, func(s CureStep) bool { return s.Kind == DivideLayout }) {
			for _, f := range Audit(p) {
				t.Error(f)
			}
			return
		}
	}
	t.Errorf("no division among %d cures of %v", len(p.Cures), p.Orders)
}

// divisible is a week whose one sheet holds a few parts due on its first day
// and many due later, on a machine that cannot cut it in a day.
func divisible(t *testing.T) (*floor, *Plan, CureStep) {
	t.Helper()
	text := weekText[:strings.Index(weekText, "orders:")] + `orders:
  - {id: K-1, shape: rectangle, width_mm: 100, height_mm: 100, quantity: 4, material: test plate, thickness_mm: 3, due: 2031-03-03}
  - {id: K-2, shape: rectangle, width_mm: 100, height_mm: 80, quantity: 30, material: test plate, thickness_mm: 3, due: 2031-03-07}
`
	job := testJob(t, text)
	job.Machines[0].HoursPerDay, job.Machines[1].HoursPerDay = 0.35, 0.01
	job.Rates.OvertimeMostH = 0
	f, p := curedFloor(t, job)
	return f, p, CureStep{Kind: DivideLayout, Orders: []string{"K-1"}}
}

func TestCarriedQueueKeepsEverything(t *testing.T) {
	f, _, c := divisible(t)
	now, err := f.with([]CureStep{c})
	if err != nil {
		t.Fatal(err)
	}
	q := queue{nil, nil}
	for i := range f.batches {
		q[0] = append(q[0], i)
	}
	assertAllOnce(t, carried(f, q, now), len(now.batches))
	if len(now.batches) <= len(f.batches) {
		t.Errorf("%d batches of %d", len(now.batches), len(f.batches))
	}
}

// The days a plan says its orders are late are those its sequence was judged by.
func TestDatesAreThoseJudged(t *testing.T) {
	for _, job := range []*shop.Job{lateJob(t), testJob(t, weekText)} {
		f, p := curedFloor(t, job)
		days := 0.0
		for _, o := range p.Orders {
			days += float64(o.LateDays)
		}
		q := f.schedule(&Plan{Machines: make([]MachineLoad, len(job.Machines))}, 1, nil)
		if got := newJudge(f.bench()).weigh(q).days; got != days {
			t.Errorf("judged %v days late, dated %v", got, days)
		}
	}
}
