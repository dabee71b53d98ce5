package cost

import (
	"math"
	"testing"
)

// Speeds that were published and that no constant of the model was fitted to.
// Each says how far the model is from it, as the natural logarithm of their
// quotient; nozzles that a source does not state are those of two usual sizes,
// their geometric mean taken.
var outOfSample = []struct {
	what, source string
	published    float64 // mm/min
	small, large AbrasiveCut
	off          float64 // ln model/published, as recorded in benchmarks/README.md
}{
	{"aluminium 101.6 mm, separate", "published, from memory, unverified; nozzle not stated", 107, nozzle(213, 101.6, 1, false), nozzle(213, 101.6, 1, true), -0.005},
	{"aluminium 101.6 mm, fine", "published, from memory, unverified; nozzle not stated", 18, nozzle(213, 101.6, 5, false), nozzle(213, 101.6, 5, true), -0.073},
	{"mild steel 1.6 mm, fine", "Process Fundamentals of Industrial Laser Welding and Cutting, p. 117, from memory, unverified; grade and nozzle not stated", 500, nozzle(87, 1.6, 5, false), nozzle(87, 1.6, 5, true), 0.347},
}

func nozzle(nm, mm, q float64, large bool) AbrasiveCut {
	c := AbrasiveCut{Factor: 1, Machinability: nm, Index: q, PressureMPa: 345, OrificeMM: 0.28, AbrasiveGPerMin: 340, ThicknessMM: mm, TubeMM: 0.84}
	if large {
		c.PressureMPa, c.OrificeMM, c.AbrasiveGPerMin, c.TubeMM = 400, 0.38, 550, 1.14
	}
	return c
}

func TestOutOfSample(t *testing.T) {
	for _, c := range outOfSample {
		off := math.Log(math.Sqrt(AbrasiveSpeed(c.small)*AbrasiveSpeed(c.large)) / c.published)
		t.Logf("%s [%s]: %v mm/min published, model %.1f to %.1f, off %+.3f", c.what, c.source, c.published, AbrasiveSpeed(c.small), AbrasiveSpeed(c.large), off)
		if math.Abs(off-c.off) > 0.005 {
			t.Errorf("%s: off by %+.3f, recorded %+.3f", c.what, off, c.off)
		}
	}
}
