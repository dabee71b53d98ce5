package cost

// A StackForecast is one depth of a stack table with what makes it uncertain.
type StackForecast struct {
	StackChoice
	SecondsEstimate Estimate // all runs, machine occupied
	MoneyEstimate   Estimate // all runs, sheets included
	// Wins is the probability that this depth is cheaper than single sheets.
	Wins float64
}

// ForecastStacks is [StackTable] with an estimate of every allowed depth and
// the probability that it beats single sheets. Both are computed with the same
// pump, material and handling, so that what they share cancels. The error is that
// of [StackTable].
func ForecastStacks(s Setup, w Work, repeats int, sheetMoney float64) ([]StackForecast, int, error) {
	table, best, err := StackTable(s, w, repeats, sheetMoney)
	if err != nil {
		return nil, 0, err
	}
	runs := runEstimates{s: s, w: w, sheetMoney: sheetMoney, at: map[int]RunEstimate{}}
	out := make([]StackForecast, len(table))
	for i, c := range table {
		out[i] = StackForecast{StackChoice: c}
		if !c.Allowed() {
			continue
		}
		all := runs.get(c.Depth).Times(float64(c.Runs)).Plus(runs.get(c.Remainder))
		out[i].SecondsEstimate, out[i].MoneyEstimate = all.OccupiedSec, all.Money
		if c.Depth > 1 {
			out[i].Wins = all.Money.Minus(out[0].MoneyEstimate).BelowZero()
		}
	}
	return out, best, nil
}

// runEstimates remembers the estimate of a run by its depth.
type runEstimates struct {
	s          Setup
	w          Work
	sheetMoney float64
	at         map[int]RunEstimate
}

func (r *runEstimates) get(depth int) RunEstimate {
	if depth == 0 {
		return RunEstimate{}
	}
	e, known := r.at[depth]
	if !known {
		e = newResponse(r.s.At(depth), r.w).estimate(r.sheetMoney)
		r.at[depth] = e
	}
	return e
}
