package report

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// Marks are counted in steps of 1, 2 or 5 times a power of ten, there are enough
// to read by and not too many, and each bears the number it stands at.
func TestRoundTicks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-10, 10).Draw(t, "low")
		high := low + math.Exp(rapid.Float64Range(math.Log(1e-3), math.Log(1e6)).Draw(t, "ln span"))
		marks := roundTicks{}.Ticks(low, high)
		if n := len(marks); n < 3 || n > mostRoundTicks+1 {
			t.Fatalf("%d marks from %v to %v", n, low, high)
		}
		for i, m := range marks {
			said, err := strconv.ParseFloat(m.Label, 64)
			if err != nil || math.Abs(said-m.Value) > 1e-9*(1+math.Abs(m.Value)) || m.Value < low-1e-9 || m.Value > high {
				t.Fatalf("mark %q at %v, axis from %v to %v: %v", m.Label, m.Value, low, high, err)
			}
			if i > 0 {
				checkRound(t, m.Value-marks[i-1].Value)
			}
		}
	})
}

func checkRound(t *rapid.T, step float64) {
	digit := step / math.Pow(10, math.Floor(math.Log10(step*(1+1e-9))))
	for _, round := range []float64{1, 2, 5} {
		if math.Abs(digit-round) < 1e-4 {
			return
		}
	}
	t.Fatalf("a step of %v", step)
}

func TestRoundTicksOfAnEmptyAxis(t *testing.T) {
	for _, high := range []float64{0, math.NaN(), math.Inf(1)} {
		if n := len(roundTicks{}.Ticks(0, high)); n > 0 {
			t.Errorf("%d marks from 0 to %v", n, high)
		}
	}
}
