package week

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// juryText is a week in which hours are short: what the groups' ways cost each
// by itself does not tell what they cost together.
func juryText(rng *rand.Rand) string {
	day := func() int { return 3 + rng.IntN(3) }
	return fmt.Sprintf(`version: 1
name: short hours
start: 2031-03-03
days: 5
`+plateRates+`   load_per_sheet_s: 240, stack_prep_s: 120, stack_layer_s: 30, setup_min: 10, unload_per_part_s: 1, late_per_hour: 9}
machines:
  - {id: jet 1, process: abrasive, pressure_mpa: 380, motor_kw: 37, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400,
     table_x_mm: 3000, table_y_mm: 1500, tables: 2, hours_per_day: %.1f, max_stack_mm: 40, max_layers: 4}
  - {id: jet 2, process: abrasive, pressure_mpa: 300, motor_kw: 37, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400,
     table_x_mm: 3000, table_y_mm: 1500, hours_per_day: %.1f, max_stack_mm: 40, max_layers: 2}
stock:
  - {id: P3, material: test plate, thickness_mm: 3, width_mm: 1000, height_mm: 600, count: 9, cost: 50}
  - {id: P5, material: test plate, thickness_mm: 5, width_mm: 1000, height_mm: 600, count: 9, cost: 70}
  - {id: P8, material: test plate, thickness_mm: 8, width_mm: 800, height_mm: 600, count: 9, cost: 80}
orders:
  - {id: K-1, shape: rectangle, width_mm: 200, height_mm: 100, quantity: %d, material: test plate, thickness_mm: 3, due: 2031-03-0%d}
  - {id: K-2, shape: rectangle, width_mm: 90, height_mm: 80, quantity: %d, material: test plate, thickness_mm: 3, due: 2031-03-0%d}
  - {id: K-3, shape: rectangle, width_mm: 180, height_mm: 110, quantity: %d, material: test plate, thickness_mm: 5, due: 2031-03-0%d}
  - {id: K-4, shape: rectangle, width_mm: 60, height_mm: 60, quantity: %d, material: test plate, thickness_mm: 5, due: 2031-03-0%d}
  - {id: K-5, shape: rectangle, width_mm: 150, height_mm: 90, quantity: %d, material: test plate, thickness_mm: 8, due: 2031-03-0%d}
  - {id: K-6, shape: rectangle, width_mm: 70, height_mm: 70, quantity: %d, material: test plate, thickness_mm: 8, due: 2031-03-0%d}
`, 0.4+rng.Float64()/2, 0.3+rng.Float64()/2,
		20+rng.IntN(30), day(), 20+rng.IntN(30), day(), 20+rng.IntN(20), day(), 10+rng.IntN(60), day(), 10+rng.IntN(20), day(), 10+rng.IntN(40), day())
}

// shelfMaker is a plan in the making, its ways compared by themselves.
func shelfMaker(t *testing.T, text string) *maker {
	t.Helper()
	job := testJob(t, text)
	m := &maker{job: job, o: filled(Options{Seed: 3, Remnants: ruleFor(RemnantRule{}, job)}), engine: shelfEngine, tasks: gather(job)}
	m.meter = newMeter(nil, len(m.tasks))
	for _, step := range []func(context.Context) error{m.first, m.improve} {
		if err := step(context.Background()); err != nil {
			t.Fatal(err)
		}
	}
	return m
}

// What the trial calendars choose is held against every choice there is, each on
// a calendar of its own.
func TestJuryAgainstEnumeration(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	cases := 8 // some seconds
	if testing.Short() {
		cases = 3
	}
	best, better := 0, 0
	for n := range cases {
		m := shelfMaker(t, juryText(rng))
		j := &jury{m: m, trials: 1}
		for i := range m.tasks {
			for _, c := range m.found[i] {
				if err := j.look(context.Background(), i, c); err != nil {
					t.Fatal(err)
				}
			}
			slices.SortStableFunc(m.found[i], closer)
		}
		cheapest := []*candidate{m.found[0][0], m.found[1][0], m.found[2][0]}
		alone := j.try(cheapest, nil, firstShakes).total()
		if err := m.deliberate(context.Background()); err != nil {
			t.Fatal(err)
		}
		chosen := cheapest
		if m.chosen != nil {
			chosen = m.chosen
		}
		got, least := j.try(chosen, nil, firstShakes).total(), math.Inf(1)
		for _, a := range m.found[0] {
			for _, b := range m.found[1] {
				for _, c := range m.found[2] {
					if a.way.Short+b.way.Short+c.way.Short == 0 {
						least = math.Min(least, j.try([]*candidate{a, b, c}, nil, firstShakes).total())
					}
				}
			}
		}
		w := j.try(chosen, nil, firstShakes)
		if runs := w.floor.money(w.floor.slots(w.queue)); math.Abs(runs+beside(chosen)-w.money) > 0.01 {
			t.Errorf("case %d: the calendar's runs cost %.2f and %.2f beside, the verdict says %.2f", n, runs, beside(chosen), w.money)
		}
		if got > alone*1.001 {
			t.Errorf("case %d: the choice costs %.2f, each group's cheapest way %.2f", n, got, alone)
		}
		if got <= least*1.001 {
			best++
		}
		if got < alone-0.01 {
			better++
		}
		t.Logf("case %d: cheapest ways %.2f, chosen %.2f, best of all %.2f", n, alone, got, least)
	}
	if best < cases-1 || better == 0 {
		t.Errorf("%d of %d choices are the best there is, %d better than each group's cheapest way", best, cases, better)
	}
}

// beside is what ways cost whatever the machines.
func beside(chosen []*candidate) float64 {
	sum := 0.0
	for _, c := range chosen {
		sum += c.besideRuns()
	}
	return sum
}
