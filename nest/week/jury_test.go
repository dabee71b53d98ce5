package week

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"kerfold/nest/shop"
)

// lateText is a job for one machine that cuts about a sheet a day. Laid out in
// equal sheets, parts of the urgent order lie on both.
const lateText = `version: 1
name: two days
start: 2031-03-03
days: 5
` + plateRates + `   load_per_sheet_s: 240, stack_prep_s: 120, stack_layer_s: 30, setup_min: 10, unload_per_part_s: 1, late_per_hour: 15}
machines:
  - {id: jet 1, process: abrasive, pressure_mpa: 380, motor_kw: 37, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400,
     table_x_mm: 3000, table_y_mm: 1500, hours_per_day: 1.6, max_stack_mm: 40, max_layers: 1}
stock:
  - {id: P12, material: test plate, thickness_mm: 12, width_mm: 1000, height_mm: 600, count: 2, cost: 50}
orders:
  - {id: K-1, shape: rectangle, width_mm: 120, height_mm: 80, quantity: 50, material: test plate, thickness_mm: 12, due: 2031-03-07}
  - {id: K-2, shape: rectangle, width_mm: 120, height_mm: 80, quantity: 20, material: test plate, thickness_mm: 12, due: 2031-03-03}
`

func TestLatenessDecidesBetweenWays(t *testing.T) {
	p := shelfPlan(t, lateText, Options{Effort: 1})
	g := &p.Groups[0]
	dearer := false // a cheaper way is passed over because it would be late
	for _, w := range g.Ways {
		dearer = dearer || w.Money < g.Ways[0].Money-moneyGrain && w.Late > 0
	}
	if !dearer {
		t.Errorf("no way is cheaper and late: lateness decided nothing, %+v", g.Ways)
	}
	for _, o := range p.Orders {
		if o.LateDays > 0 {
			t.Errorf("order %s is %d days late", o.Order, o.LateDays)
		}
	}
	if d := &g.Layouts[0]; g.Parts[d.Placements[0].Part].ID != "K-2" && g.Parts[d.Placements[len(d.Placements)-1].Part].ID != "K-2" {
		t.Error("the first layout does not carry what is due first")
	}
}

// Where lateness costs nothing, money alone decides.
func TestFreeLatenessIsIgnored(t *testing.T) {
	// A way that is cheaper even before its cuts are routed would have been chosen.
	p := shelfPlan(t, strings.Replace(lateText, "late_per_hour: 15", "late_per_hour: 0", 1), Options{Effort: 1})
	for _, w := range p.Groups[0].Ways {
		if w.Late != 0 || w.Money < p.Groups[0].Ways[0].Money-moneyGrain {
			t.Errorf("%q costs %v, lateness %v; %q is chosen", w.Name, w.Money, w.Late, p.Groups[0].Ways[0].Name)
		}
	}
}

// A group of many kinds is laid out window by window, and nothing is lost.
func TestManyKindsRoll(t *testing.T) {
	p := shelfPlan(t, manyKinds(130), Options{Effort: 1})
	if tk := gather(testJob(t, manyKinds(130)))[0]; !tk.rolling() {
		t.Fatal("130 kinds should roll")
	}
	for _, o := range p.Orders {
		if o.Placed != o.Wanted {
			t.Errorf("order %s: %d of %d", o.Order, o.Placed, o.Wanted)
		}
	}
	g := &p.Groups[0]
	if r := Judge(g); !r.OK() {
		t.Errorf("%s", r.Violations[0].Text)
	}
	if g.SheetsUsed() > 2*g.Bound.Sheets {
		t.Errorf("%d sheets, where %d might do: windows waste too much", g.SheetsUsed(), g.Bound.Sheets)
	}
	for _, fault := range Audit(p) {
		t.Error(fault)
	}
}

// What the jury settles on cannot be bettered by cutting one group another way:
// a group that paid for being in time is looked at again once another has paid.
// Here two groups of one machine are each late because of the other.
func TestJuryEndsWhereNoGroupGains(t *testing.T) {
	if testing.Short() {
		t.Skip("lays two groups of the demo week out, some seconds")
	}
	job := demoSteel(t)
	m := maker{job: job, o: filled(Options{Seed: 1, Effort: 0.05}), engine: nestEngine, tasks: gather(job)}
	m.meter = newMeter(nil, len(m.tasks))
	ctx := context.Background()
	if err := firstOf(m.first(ctx), m.improve(ctx)); err != nil {
		t.Fatal(err)
	}
	j := m.jury()
	if err := j.open(ctx); err != nil {
		t.Fatal(err)
	}
	before := j.now.money
	if err := j.hear(ctx); err != nil {
		t.Fatal(err)
	}
	if before == 0 || j.trials >= j.most {
		t.Fatalf("lateness weighs %v before, %d trials of %d: the case tests nothing", before, j.trials, j.most)
	}
	for i := range m.tasks {
		for _, c := range m.found[i] {
			trial := slices.Clone(j.chosen)
			trial[i] = c
			if c.care == rough || c.way.Short > j.chosen[i].way.Short {
				continue
			}
			v, err := j.lateness(trial)
			if err != nil {
				t.Fatal(err)
			}
			if c.way.Money+v.money < j.chosen[i].way.Money+j.now.money-moneyGrain {
				t.Errorf("group %d: %q at %.2f and %.2f late is better than the chosen %q at %.2f and %.2f",
					i, c.way.Name, c.way.Money, v.money, j.chosen[i].way.Name, j.chosen[i].way.Money, j.now.money)
			}
		}
	}
}

// demoSteel is the demo week with nothing but its mild steel.
func demoSteel(t *testing.T) *shop.Job {
	t.Helper()
	job, err := shop.Load(os.DirFS("../../testdata/week"), "week.yaml")
	if err != nil {
		t.Fatal(err)
	}
	job.Orders = slices.DeleteFunc(job.Orders, func(o shop.Order) bool { return o.Material != "mild steel" })
	return job
}
