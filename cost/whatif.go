package cost

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// A WhatIf is the choice of a stack with one assumed number taken otherwise. The
// intervals say how sure the figures are; this says what the choice hangs on.
type WhatIf struct {
	Change string // empty: everything as assumed
	Best   int    // the cheapest then of the depths that the study compares
	// MoneySaved and SecondsSaved are the shares of money and of machine time that
	// the study's Stack saves against single sheets then; below 0 it loses.
	MoneySaved, SecondsSaved float64
	Refusal                  string // why the stack is not allowed then
}

// A change takes one number of a setup otherwise. By how much is judgement
// [Derived]: half or twice for what a machine's sheet seldom says, the ends of
// the usual range or the tabled spread for the rest.
type change struct {
	name string
	set  func(*Setup)
}

const (
	clampStep    = 0.05 // half the usual range of the clamp factor, 0.85 to 0.95
	exponentStep = 0.15 // from the published thickness exponent, 1.15, to 1
)

// moreAirMM is air between layers that do not lie flat.
var moreAirMM = Quantity{Value: 0.2, Source: Derived}

// changes are what a setup's stack may hang on.
func changes() []change {
	return []change{
		{"", func(*Setup) {}},
		{"acceleration half as great", func(s *Setup) { s.Machine.AccelMMPerS2 /= 2 }},
		{"acceleration twice as great", func(s *Setup) { s.Machine.AccelMMPerS2 *= 2 }},
		{"fastest cutting feed half as great", func(s *Setup) { s.capFeed(0.5) }},
		{"fastest cutting feed twice as great", func(s *Setup) { s.capFeed(2) }},
		{"head's delay at a pierce half as long", func(s *Setup) { s.Machine.HeadSec /= 2 }},
		{"head's delay at a pierce twice as long", func(s *Setup) { s.Machine.HeadSec *= 2 }},
		{"arcs and corners may stray half as far", func(s *Setup) { s.strayBy(0.5) }},
		{"arcs and corners may stray twice as far", func(s *Setup) { s.strayBy(2) }},
		{fmt.Sprintf("clamp factor %.2f lower", clampStep), func(s *Setup) { s.Rates.ClampFactor -= clampStep }},
		{fmt.Sprintf("clamp factor %.2f higher", clampStep), func(s *Setup) { s.Rates.ClampFactor = min(1, s.Rates.ClampFactor+clampStep) }},
		{fmt.Sprintf("%.1f mm more air between the layers", moreAirMM.Value), func(s *Setup) { s.Rates.LayerGapMM += moreAirMM.Value }},
		{fmt.Sprintf("thickness exponent %.2f lower", exponentStep), func(s *Setup) { s.turnExponent(-exponentStep) }},
		{fmt.Sprintf("thickness exponent %.2f higher", exponentStep), func(s *Setup) { s.turnExponent(exponentStep) }},
		{"material cuts slower by its spread", func(s *Setup) { s.Material.harder(1) }},
		{"material cuts faster by its spread", func(s *Setup) { s.Material.harder(-1) }},
		{"handling a stack takes half as long", func(s *Setup) { s.Rates.stackHandling(0.5) }},
		{"handling a stack takes twice as long", func(s *Setup) { s.Rates.stackHandling(2) }},
	}
}

func (s *Setup) capFeed(by float64) {
	s.Machine.FeedCapMMPerMin *= by
	s.Material.FeedCapMMPerMin.Value *= by
}

// strayBy scales the edge error allowed on arcs and corners, where no order has
// set it.
func (s *Setup) strayBy(by float64) { s.Machine.ArcErrorMM = by * s.errorMM() }

// harder moves the material's own number by so many of its deviations.
func (m *Material) harder(deviations float64) {
	f := math.Exp(-deviations * m.coefficient().RelStdDev)
	m.Machinability.Value *= f
	m.PlainK.Value *= f
}

// turnExponent changes the thickness exponent and leaves the speed of a single
// sheet, which a shop knows, as it is.
func (s *Setup) turnExponent(by float64) {
	s.Material.ThicknessExponent.Value += by
	s.Material.PlainK.Value *= math.Pow(s.ThicknessMM, by)
	s.Material.Machinability.Value *= math.Pow(s.ThicknessMM/PivotMM.Value, by/ExpOuter)
}

func (r *Rates) stackHandling(by float64) {
	r.StackPrepSec *= by
	r.StackLayerSec *= by
}

// whatIfs compares a depth with single sheets, and with all depths to most, under
// every change: first as assumed, then what moves the money most.
func (j PartJob) whatIfs(depth, most int) []WhatIf {
	if depth < 2 {
		return nil
	}
	var out []WhatIf
	for _, c := range changes() {
		other := j
		other.Setup = j.Setup.filled()
		c.set(&other.Setup)
		if w, ok := other.whatIf(depth, most); ok {
			w.Change = c.name
			out = append(out, w)
		}
	}
	assumed := out[0].MoneySaved
	slices.SortStableFunc(out[1:], func(a, b WhatIf) int {
		x, y := math.Abs(a.MoneySaved-assumed), math.Abs(b.MoneySaved-assumed)
		if math.Abs(x-y) < sameMove {
			return 0
		}
		return cmp.Compare(y, x)
	})
	return out
}

// sameMove is how little two changes of a saved share may differ to be equal.
const sameMove = 1e-9

// whatIf compares a depth with single sheets in this job; not ok where not even
// a single sheet can be cut.
func (j PartJob) whatIf(depth, most int) (w WhatIf, ok bool) {
	p := newPartRuns(j)
	single := p.depth(1, j.Quantity)
	if !single.Allowed() {
		return w, false
	}
	w.Best = 1
	best := single
	for d := 2; d <= most; d++ {
		row := p.depth(d, j.Quantity)
		if !row.Allowed() {
			break
		}
		if row.better(best) {
			best, w.Best = row, d
		}
	}
	stack := p.depth(depth, j.Quantity)
	w.Refusal = stack.Refusal
	if stack.Allowed() {
		w.MoneySaved = 1 - share(stack.Money(), single.Money())
		w.SecondsSaved = 1 - share(stack.Seconds(), single.Seconds())
	}
	return w, true
}

// cheapestStack is the cheapest allowed depth of more than one layer, or 0.
func cheapestStack(rows []PartDepth) int {
	best := 0
	for i := 1; i < len(rows) && rows[i].Allowed(); i++ {
		if best == 0 || rows[i].better(rows[best-1]) {
			best = rows[i].Depth
		}
	}
	return best
}
