package shop

import (
	"strings"
	"testing"
	"testing/fstest"
)

// Warnings go with their orders: of those left out nothing is told, of what all
// orders share everything is.
func TestKeepDropsOtherOrdersWarnings(t *testing.T) {
	const text = `version: 1
name: keep
start: 2031-03-03
machines:
  - {id: jet, process: abrasive, pressure_mpa: 380, motor_kw: 37, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400, table_x_mm: 3000, table_y_mm: 1500, hours_per_day: 8}
stock:
  - {id: P, material: mild steel, thickness_mm: 6, width_mm: 300, height_mm: 200, cost: 50}
orders:
  - {id: A, part: plate, shape: rectangle, width_mm: 90, height_mm: 80, quantity: 30, material: mild steel, thickness_mm: 6, due: 2031-03-01}
  - {id: A-2, shape: disc, diameter_mm: 50, quantity: 1, material: mild steel, thickness_mm: 6, due: 2031-03-02}
`
	load := func() *Job {
		j, err := Load(fstest.MapFS{"job.yaml": {Data: []byte(text)}}, "job.yaml")
		if err != nil {
			t.Fatal(err)
		}
		return j
	}
	has := func(j *Job, word string) bool { return strings.Contains(strings.Join(j.Warnings, "\n"), word) }
	j := load()
	for _, word := range []string{"order A (plate)", "order A-2", "orders in mild steel", "no rates"} {
		if !has(j, word) {
			t.Fatalf("no warning of %q: %q", word, j.Warnings)
		}
	}
	for _, c := range []struct {
		keep      []int
		want, not []string
	}{
		{[]int{0, 1}, []string{"order A (plate)", "order A-2", "orders in mild steel", "no rates"}, nil},
		{[]int{1}, []string{"order A-2", "no rates"}, []string{"order A (plate)", "orders in"}},
		{[]int{0}, []string{"order A (plate)", "no rates"}, []string{"order A-2", "orders in"}},
		{nil, []string{"no rates"}, []string{"order A", "orders in"}},
	} {
		j := load()
		j.Keep(c.keep)
		if len(j.Orders) != len(c.keep) {
			t.Errorf("%v: %d orders", c.keep, len(j.Orders))
		}
		for _, word := range c.want {
			if !has(j, word) {
				t.Errorf("%v: %q is missing in %q", c.keep, word, j.Warnings)
			}
		}
		for _, word := range c.not {
			if has(j, word) {
				t.Errorf("%v: %q is told in %q", c.keep, word, j.Warnings)
			}
		}
	}
}
