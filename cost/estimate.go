package cost

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"
)

// An Interval is a range that holds the true value with probability Level.
type Interval struct {
	Low, Likely, High float64
	Level             float64
}

// DefaultLevel is the probability of the intervals in reports.
const DefaultLevel = 0.90

// A Contribution is what one uncertain input adds to an estimate: the change
// of the value when the input moves up by one standard deviation. Contributions
// of the same Key move together wherever they occur; different keys are
// independent.
type Contribution struct {
	Key   string // e.g. "pressure W1"
	Delta float64
}

// An Estimate is a likely value and what makes it uncertain. Estimates add up
// with their common causes kept, so that the sum of a week's times is as
// uncertain as one pump and one batch of plate make it.
type Estimate struct {
	Likely float64
	Parts  []Contribution // by key, ascending
}

// Exact is an estimate without uncertainty.
func Exact(v float64) Estimate { return Estimate{Likely: v} }

// Plus returns e + o.
func (e Estimate) Plus(o Estimate) Estimate { return e.combine(o, 1) }

// Minus returns e − o. Causes that both share cancel.
func (e Estimate) Minus(o Estimate) Estimate { return e.combine(o, -1) }

// Times returns n·e.
func (e Estimate) Times(n float64) Estimate {
	out := Estimate{Likely: n * e.Likely, Parts: make([]Contribution, len(e.Parts))}
	for i, p := range e.Parts {
		out.Parts[i] = Contribution{p.Key, n * p.Delta}
	}
	return out
}

func (e Estimate) combine(o Estimate, sign float64) Estimate {
	out := Estimate{Likely: e.Likely + sign*o.Likely}
	i, j := 0, 0
	for i < len(e.Parts) || j < len(o.Parts) {
		switch order(e.Parts, i, o.Parts, j) {
		case -1:
			out.Parts = append(out.Parts, e.Parts[i])
			i++
		case 1:
			out.Parts = append(out.Parts, Contribution{o.Parts[j].Key, sign * o.Parts[j].Delta})
			j++
		default:
			out.Parts = append(out.Parts, Contribution{e.Parts[i].Key, e.Parts[i].Delta + sign*o.Parts[j].Delta})
			i, j = i+1, j+1
		}
	}
	return out
}

// order compares the heads of two lists of contributions; an ended list is last.
func order(a []Contribution, i int, b []Contribution, j int) int {
	switch {
	case i == len(a):
		return 1
	case j == len(b):
		return -1
	}
	return strings.Compare(a[i].Key, b[j].Key)
}

// StdDev is the standard deviation of e.
func (e Estimate) StdDev() float64 {
	sum := 0.0
	for _, p := range e.Parts {
		sum += p.Delta * p.Delta
	}
	return math.Sqrt(sum)
}

// Interval returns the range that holds the value with probability level. A
// positive estimate is taken as log-normal with its likely value as median,
// which keeps its low end above zero; any other as normal.
func (e Estimate) Interval(level float64) Interval {
	z := distuv.UnitNormal.Quantile((1 + level) / 2)
	sd := e.StdDev()
	if e.Likely <= 0 {
		return Interval{e.Likely - z*sd, e.Likely, e.Likely + z*sd, level}
	}
	f := math.Exp(z * sd / e.Likely)
	return Interval{e.Likely / f, e.Likely, e.Likely * f, level}
}

// BelowZero returns the probability that e is negative.
func (e Estimate) BelowZero() float64 {
	sd := e.StdDev()
	switch {
	case sd > 0:
		return distuv.UnitNormal.CDF(-e.Likely / sd)
	case e.Likely < 0:
		return 1
	}
	return 0
}

// Causes returns the contributions by size, largest first.
func (e Estimate) Causes() []Contribution {
	out := slices.Clone(e.Parts)
	slices.SortStableFunc(out, func(a, b Contribution) int {
		switch x, y := math.Abs(a.Delta), math.Abs(b.Delta); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return out
}
