package week

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"kerfold/nest"
)

// gasketText is a job of 2,000 ring gaskets of six kinds from one material, the
// share of each kind drawn by the seed. Sizes are as flange gaskets have them;
// all figures are demo values.
func gasketText(seed uint64) string {
	rng := rand.New(rand.NewPCG(seed, 0))
	sizes := [][2]int{{71, 34}, {92, 49}, {107, 61}, {142, 89}, {168, 115}, {218, 169}}
	weight := make([]float64, len(sizes))
	sum := 0.0
	for i := range weight {
		weight[i] = 0.5 + rng.Float64()
		sum += weight[i]
	}
	var b strings.Builder
	b.WriteString(gasketHead)
	left := 2000
	for i, s := range sizes {
		n := int(2000 * weight[i] / sum)
		if i == len(sizes)-1 {
			n = left
		}
		left -= n
		fmt.Fprintf(&b, "  - {id: R-%d, shape: ring, diameter_mm: %d, bore_mm: %d, quantity: %d, material: fibre sheet, thickness_mm: 2, due: 2031-03-07}\n",
			i+1, s[0], s[1], n)
	}
	return b.String()
}

const gasketHead = `version: 1
name: ring gaskets
start: 2031-03-03
days: 5
materials:
  - {name: fibre sheet, process: abrasive, family: composite, machinability: 420, density_kg_per_m3: 1700, spacing_mm: 1.5, source: demo}
rates:
  {source: demo, currency: EUR, machine_per_hour: 60, labour_per_hour: 40, abrasive_per_kg: 0.5, power_per_kwh: 0.2,
   water_per_m3: 4, disposal_per_kg: 0.2, tube_price: 100, orifice_price: 20, tube_life_h: 70, orifice_life_h: 70,
   load_per_sheet_s: 240, stack_prep_s: 180, stack_layer_s: 60, setup_min: 10, unload_per_part_s: 1}
machines:
  - {id: jet 1, process: abrasive, pressure_mpa: 380, motor_kw: 37, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400,
     feed_cap: 4 m/min, table_x_mm: 3000, table_y_mm: 1500, hours_per_day: 16, max_stack_mm: 20, max_layers: 6}
stock:
  - {id: F2, material: fibre sheet, thickness_mm: 2, width_mm: 2000, height_mm: 1500, count: 60, cost: 60}
orders:
`

// The integer plan of 2,000 gaskets comes near the best of the layouts found, in
// few layouts. Run with -v for the gap to what no plan can beat. It takes about
// half a minute.
func TestGaskets(t *testing.T) {
	if testing.Short() {
		t.Skip("plans 2,000 gaskets, about a minute")
	}
	p, err := Make(context.Background(), testJob(t, gasketText(1)), Options{Seed: 1, Effort: 4, Workers: 2, MostLayouts: 10})
	if err != nil {
		t.Fatal(err)
	}
	g := &p.Groups[0]
	tellGaskets(t, g)
	if len(g.Layouts) > 10 || g.Bound.MixGap() > 0.05 || g.Ways[0].Short > 0 || g.Ways[0].Money < g.Bound.Money {
		t.Errorf("%d layouts, %d missing, %.1f %% above the layouts' linear bound", len(g.Layouts), g.Ways[0].Short, 100*g.Bound.MixGap())
	}
	if p.Status != nest.Finished {
		t.Errorf("status %s", StatusWord(p.Status))
	}
}

func tellGaskets(t *testing.T, g *Group) {
	t.Helper()
	for i := range g.Parts {
		t.Logf("%s: %d", g.Parts[i].ID, g.Parts[i].Quantity)
	}
	for _, w := range g.Ways {
		t.Logf("%-40s %3d layouts %3d sheets %4d surplus %8.2f money", w.Name, w.Layouts, w.Sheets, w.Surplus, w.Money)
	}
	t.Logf("yield %.3f, material %.2f of %.2f; %+v", g.Yield(), g.Ledger.Money.Material, g.Ledger.Money.Total(), g.Bound)
	t.Logf("gap to the bound %.2f %%, to the mix's %.2f %%; %d layouts", 100*g.Bound.Gap(g.Ways[0].Money), 100*g.Bound.MixGap(), len(g.Layouts))
}
