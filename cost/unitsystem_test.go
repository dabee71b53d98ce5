package cost

import (
	"testing"

	"pgregory.net/rapid"
)

func TestShowChecks(t *testing.T) {
	show := func(v float64, unit string) float64 {
		x, _ := US.Show(v, unit)
		return x
	}
	runChecks(t, []check{
		{"mm", "definition", show(25.4, "mm"), 1, 9},
		{"mm/min", "definition", show(413.1, "mm/min"), 16.26, 2},
		{"s/mm", "definition", show(1, "s/mm"), 25.4, 9},
		{"MPa", "definition", show(413.685, "MPa"), 60, 3},
		{"m/s", "definition", show(909.8, "m/s"), 2985, 0},
		{"L/min", "definition", show(3.785412, "L/min"), 1, 6},
		{"g/min", "definition", show(453.59237, "g/min"), 1, 9},
		{"kW", "definition", show(0.7457, "kW"), 1, 4},
		{"mm²", "definition", show(645.16, "mm²"), 1, 9},
		{"m²", "definition", show(1, "m²"), 10.764, 3},
		{"m³", "definition", show(1, "m³"), 264.172, 3},
		{"steel", "definition", show(7850, "kg/m³"), 490, 0},
	})
}

// What both systems share stays, and metric numbers are never touched.
func TestShowLeavesTheRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64().Draw(t, "v")
		unit := rapid.SampledFrom([]string{"s", "", "h", "kWh", "°", "EUR", "EUR/kg", "mm", "MPa", "%"}).Draw(t, "unit")
		if x, u := Metric.Show(v, unit); x != v || u != unit {
			t.Fatalf("metric: %v %s became %v %s", v, unit, x, u)
		}
		if _, known := customary[unit]; !known {
			if x, u := US.Show(v, unit); x != v || u != unit {
				t.Fatalf("us: %v %s became %v %s", v, unit, x, u)
			}
		}
	})
	for _, s := range append(UnitSystems(), "") {
		if u, err := ParseUnitSystem(s); err != nil || s != "" && u.String() != s {
			t.Errorf("%q is read as %v: %v", s, u, err)
		}
	}
	if _, err := ParseUnitSystem("cgs"); err == nil {
		t.Error("cgs is taken for a unit system")
	}
}
