package week

import (
	"context"
	"os"
	"strconv"
	"testing"

	"kerfold/nest/shop"
)

// What choosing is worth: the demo week planned in full against the demo week
// with every group laid out once and every sheet cut by itself, at the same seed
// and effort, or, with KERFOLD_WEEK_SECONDS, in as many seconds of two processors
// for each. Run with -v for where the saving lies; KERFOLD_WEEK_EFFORT asks for
// another effort than 1.
func TestDemoWeekAgainstPlain(t *testing.T) {
	if testing.Short() {
		t.Skip("plans the demo week twice, about a minute")
	}
	plan := func(plain bool) *Plan {
		o := Options{Seed: 1, Effort: number(t, "KERFOLD_WEEK_EFFORT", 1), Workers: 2, Plain: plain}
		if sec := number(t, "KERFOLD_WEEK_SECONDS", 0); sec > 0 {
			o.Effort, o.Clock = 0, newCPUClock(sec, 2)
		}
		return demoPlan(t, o)
	}
	full, plain := plan(false), plan(true)
	for i := range plain.Groups {
		if d := deepestOf(&plain.Groups[i]); d > 1 {
			t.Errorf("%s: a plain plan has stacks of %d", plain.Groups[i].ID, d)
		}
	}
	rates := demoJob(t).Rates
	a, b := sumUp(full, rates.LatePerHour), sumUp(plain, rates.LatePerHour)
	t.Logf("%-32s %9s %9s", "EUR", "plain", "chosen")
	for _, row := range []struct {
		name        string
		plain, full float64
	}{
		{"sheets", b.sheets, a.sheets},
		{"remnants kept", -b.remnants, -a.remnants},
		{"machine and labour", b.work, a.work},
		{"jet", b.jet, a.jet},
		{"total less remnants", b.total(), a.total()},
		{"weight of lateness", b.late, a.late},
		{"orders late", float64(b.lateOrders), float64(a.lateOrders)},
		{"machine hours", plain.Seconds / 3600, full.Seconds / 3600},
	} {
		t.Logf("%-32s %9.2f %9.2f", row.name, row.plain, row.full)
	}
	for i := range full.Groups {
		g, h := &full.Groups[i], &plain.Groups[i]
		t.Logf("%-4s %-32s sheets %2d → %2d, deepest %d, %8.2f → %8.2f, no plan below %8.2f", g.ID, g.Ways[0].Name, h.SheetsUsed(), g.SheetsUsed(),
			deepestOf(g), h.Ledger.Money.Total()-h.RemnantCredit, g.Ledger.Money.Total()-g.RemnantCredit, g.Bound.Money)
	}
	saved := 1 - a.total()/b.total()
	t.Logf("saved %.2f %%; with lateness %.2f %%", 100*saved, 100*(1-(a.total()+a.late)/(b.total()+b.late)))
	if saved < leastSaved || a.lateOrders > 0 {
		t.Errorf("choosing saves %.2f %% and leaves %d orders late, want %v %% and none", 100*saved, a.lateOrders, 100*leastSaved)
	}
}

// leastSaved is what choosing saves at the least effort the test is run with; more
// effort saves more.
const leastSaved = 0.03

// number reads a number from the environment.
func number(t *testing.T, name string, def float64) float64 {
	t.Helper()
	text := os.Getenv(name)
	if text == "" {
		return def
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return x
}

// A bill is where a plan's money goes.
type bill struct {
	sheets, remnants, work, jet, late float64
	lateOrders                        int
}

func (b bill) total() float64 { return b.sheets - b.remnants + b.work + b.jet }

func sumUp(p *Plan, perHour float64) bill {
	m := p.Ledger.Money
	b := bill{
		sheets: m.Material, remnants: p.RemnantCredit, work: m.Machine + m.Labour,
		jet: m.Process() - m.Machine - m.Labour,
	}
	for _, o := range p.Orders {
		b.late += o.LateSec / 3600 * perHour // of working time; priorities are left out
		if o.LateDays > 0 {
			b.lateOrders++
		}
	}
	return b
}

func deepestOf(g *Group) int {
	d := 0
	for i := range g.Layouts {
		d = max(d, g.Layouts[i].Depth())
	}
	return d
}

func demoJob(t *testing.T) *shop.Job {
	t.Helper()
	job, err := shop.Load(os.DirFS("../../testdata/week"), "week.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return job
}

func demoPlan(t *testing.T, o Options) *Plan {
	t.Helper()
	p, err := Make(context.Background(), demoJob(t), o)
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range Audit(p) {
		t.Error(fault)
	}
	return p
}
