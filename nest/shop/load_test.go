package shop

import (
	"testing"
	"testing/fstest"
)

// base is a small sound job; tests add to it or break it.
const base = `version: 1
name: a small week
start: 2026-11-30
days: 5
materials:
  - {name: test steel, process: abrasive, family: metal, machinability: 87, density_kg_per_m3: 7850, source: demo}
  - {name: test rubber, process: plain, family: rubber, plain_k: 30, density_kg_per_m3: 1300, source: demo}
rates:
  currency: EUR
  machine_per_hour: 60
  labour_per_hour: 40
  abrasive_per_kg: 0.5
  power_per_kwh: 0.2
  water_per_m3: 4
  disposal_per_kg: 0.2
  tube_price: 100
  orifice_price: 20
  tube_life_h: 70
  orifice_life_h: 70
  load_per_sheet_s: 240
  stack_prep_s: 180
  stack_layer_s: 60
  setup_min: 10
  unload_per_part_s: 3
machines:
  - {id: jet 1, process: abrasive, pressure: 55 ksi, motor_hp: 50, orifice: 0.013 in, tube_mm: 1.02, abrasive_g_per_min: 350,
     table_x_mm: 3000, table_y_mm: 1500, hours_per_day: 8}
stock:
  - {id: S6, material: test steel, thickness_mm: 6, width_mm: 2000, height_mm: 1000, count: 3, cost: 150}
`

const oneOrder = `orders:
  - {id: K-1, shape: disc, diameter_mm: 90, quantity: 10, material: test steel, thickness_mm: 6, due: 2026-12-02}
`

func load(text string, more ...string) (*Job, error) {
	fsys := fstest.MapFS{"week.yaml": {Data: []byte(text)}}
	for i := 0; i < len(more); i += 2 {
		fsys[more[i]] = &fstest.MapFile{Data: []byte(more[i+1])}
	}
	return Load(fsys, "week.yaml")
}

func mustLoad(t *testing.T, text string, more ...string) *Job {
	t.Helper()
	j, err := load(text, more...)
	if err != nil {
		t.Fatalf("unexpected problems:\n%v", err)
	}
	return j
}

func TestLoadSmallJob(t *testing.T) {
	j := mustLoad(t, base+oneOrder)
	if len(j.Warnings) != 0 {
		t.Errorf("warnings: %q", j.Warnings)
	}
	if len(j.Orders) != 1 || j.Orders[0].Quantity != 10 || len(j.Days) != 5 {
		t.Errorf("got %+v", j)
	}
}
