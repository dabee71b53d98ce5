package report

import (
	"math"
	"strconv"

	"gonum.org/v1/plot"
)

// roundTicks marks an axis in steps of 1, 2 or 5 times a power of ten, so that
// a reader can count between two marks.
type roundTicks struct{}

// mostRoundTicks is the greatest number of steps on an axis.
const mostRoundTicks = 8

// Ticks are the marks from low to high, each with its number; none where that
// is no range.
func (roundTicks) Ticks(low, high float64) []plot.Tick {
	if span := high - low; !(span > 0) || math.IsInf(span, 0) {
		return nil
	}
	step, decimals := roundStep((high - low) / mostRoundTicks)
	var out []plot.Tick
	for k := math.Ceil(low / step); k*step <= high; k++ {
		out = append(out, plot.Tick{Value: k * step, Label: strconv.FormatFloat(k*step, 'f', decimals, 64)})
	}
	return out
}

// roundStep is the least of 1, 2 and 5 times a power of ten that is not below
// least, and the decimals it takes to write its multiples.
func roundStep(least float64) (step float64, decimals int) {
	power := math.Floor(math.Log10(least))
	for _, digit := range []float64{1, 2, 5, 10} {
		step = digit * math.Pow(10, power)
		if step >= least {
			break
		}
	}
	return step, max(0, -int(math.Floor(math.Log10(step)+1e-9)))
}
