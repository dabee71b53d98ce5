package cost

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// straight is a stroke along a line of l mm.
func straight(l float64) Stroke {
	return Stroke{LeadIn: geom.Path{{P: orb.Point{0, 0}}, {P: orb.Point{l, 0}}}}
}

// workedSetup is the worked stack example: aluminium 1 mm at medium grade, the
// second check nozzle (the table follows from that one), cap 3000 mm/min, φ 0.95, pierce (3 + 0.6H) s.
func workedSetup() Setup {
	m := BuiltinMap()["aluminium 6061"]
	return Setup{
		Machine: Machine{
			ID: "W1", Process: Abrasive, PressureMPa: 380, OrificeMM: 0.33, TubeMM: 1.02, AbrasiveGPerMin: 400,
			FeedCapMMPerMin: 3000, AccelMMPerS2: math.Inf(1), HeadSec: -1, Pierce: Stationary,
			PierceFixedSec: 3, PierceSecPerMM: 0.6,
		},
		Material: m, ThicknessMM: 1, Grade: Medium,
		Rates: Rates{LoadSecPerSheet: 60, StackPrepSec: 180, StackLayerSec: 30, ClampFactor: 0.95},
	}
}

func TestWorkedStackTable(t *testing.T) {
	s := workedSetup()
	w := Work{Strokes: []Stroke{straight(1500)}}
	for range 5 { // six pierces in all; the path length lies in the first stroke
		w.Strokes = append(w.Strokes, Stroke{})
	}
	var cs []check
	for i, n := range []int{2, 4, 10, 20} {
		table, _, err := StackTable(s, w, n, 0)
		if err != nil || len(table) != n {
			t.Fatalf("%d layers: %d rows, %v", n, len(table), err)
		}
		single, stack := table[0].Seconds, table[n-1].Seconds
		cs = append(
			cs,
			check{"singles s", computed, single, []float64{223.2, 446.4, 1116.0, 2232.0}[i], 1},
			check{"stack s", computed, stack, []float64{299.6, 408.7, 752.8, 1355.6}[i], 1},
			check{"ratio", computed, stack / single, []float64{1.342, 0.916, 0.675, 0.607}[i], 3},
		)
	}
	for i, n := range []int{2, 5, 10, 20} {
		cs = append(cs, check{"N^0.15", computed, CapBreakEven(n, ExpOuter, 1), []float64{1.110, 1.273, 1.413, 1.567}[i], 3})
	}
	runChecks(t, cs)
}
