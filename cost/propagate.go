package cost

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// A quantityOf is some time or price as a function of the uncertain inputs.
type quantityOf func(shift) float64

// propagate is the delta method: the effect of each assumption alone, by a
// central difference over one standard deviation either way.
func propagate(as []Assumption, f quantityOf) Estimate {
	e := Estimate{Likely: f(shift{})}
	for _, a := range as {
		up, down := f(shift{}.plus(a.effect, 1)), f(shift{}.plus(a.effect, -1))
		if d := (up - down) / 2; math.Abs(d) > rounding*math.Abs(e.Likely) {
			e.Parts = append(e.Parts, Contribution{a.Key, d})
		}
	}
	return e
}

// draw samples the assumptions together.
func draw(as []Assumption, normal distuv.Normal) shift {
	var sh shift
	for _, a := range as {
		sh = sh.plus(a.effect, normal.Rand())
	}
	return sh
}

// sampled is the Monte Carlo method: the interval between the quantiles of n
// draws of all assumptions together.
func sampled(as []Assumption, f quantityOf, level float64, n int, src rand.Source) Interval {
	normal := distuv.Normal{Mu: 0, Sigma: 1, Src: src}
	v := make([]float64, n)
	for i := range v {
		v[i] = f(draw(as, normal))
	}
	slices.Sort(v)
	q := func(p float64) float64 { return stat.Quantile(p, stat.LinInterp, v, nil) }
	return Interval{Low: q((1 - level) / 2), Likely: f(shift{}), High: q((1 + level) / 2), Level: level}
}

// A RunEstimate is a run's time and price with what makes them uncertain.
type RunEstimate struct {
	HeadSec, OccupiedSec, Money Estimate
}

// Plus adds runs up, common causes kept.
func (r RunEstimate) Plus(o RunEstimate) RunEstimate {
	return RunEstimate{r.HeadSec.Plus(o.HeadSec), r.OccupiedSec.Plus(o.OccupiedSec), r.Money.Plus(o.Money)}
}

// Times returns n equal runs.
func (r RunEstimate) Times(n float64) RunEstimate {
	return RunEstimate{r.HeadSec.Times(n), r.OccupiedSec.Times(n), r.Money.Times(n)}
}

// EstimateRun returns the time and price of one run of w by the delta method;
// sheetMoney is the price of one layer's sheet. The error is that of [LayoutTime].
func EstimateRun(s Setup, w Work, sheetMoney float64) (RunEstimate, error) {
	if err := s.Check(); err != nil {
		return RunEstimate{}, err
	}
	r := newResponse(s, w)
	if err := r.time(shift{}).finite(); err != nil {
		return RunEstimate{}, err
	}
	return r.estimate(sheetMoney), nil
}

func (r *response) estimate(sheetMoney float64) RunEstimate {
	as := Assumptions(r.s)
	return RunEstimate{
		HeadSec:     propagate(as, func(sh shift) float64 { return r.time(sh).HeadSec() }),
		OccupiedSec: propagate(as, func(sh shift) float64 { return r.time(sh).OccupiedSec(r.s.Machine.Tables) }),
		Money:       propagate(as, func(sh shift) float64 { return r.ledger(sh, sheetMoney).Money.Total() }),
	}
}

// SampleRun returns intervals of the head's seconds and of the money of one run
// by n Monte Carlo draws from src, each holding the true value with probability
// level, 0 to 1. It is the check on [EstimateRun] where caps and corners bend the
// response. The error is that of [LayoutTime].
func SampleRun(s Setup, w Work, sheetMoney, level float64, n int, src rand.Source) (headSec, money Interval, err error) {
	if err := s.Check(); err != nil {
		return Interval{}, Interval{}, err
	}
	r := newResponse(s, w)
	if err := r.time(shift{}).finite(); err != nil {
		return Interval{}, Interval{}, err
	}
	as := Assumptions(r.s)
	headSec = sampled(as, func(sh shift) float64 { return r.time(sh).HeadSec() }, level, n, src)
	money = sampled(as, func(sh shift) float64 { return r.ledger(sh, sheetMoney).Money.Total() }, level, n, src)
	return headSec, money, nil
}

// SpeedInterval returns the range of the straight-line feed in mm/min that holds
// the true one with probability level, 0 to 1. Feed caps cut it off. The error is
// that of [Setup.Check].
func SpeedInterval(s Setup, level float64) (Interval, error) {
	if err := s.Check(); err != nil {
		return Interval{}, err
	}
	s = s.filled()
	law := propagate(Assumptions(s), func(sh shift) float64 {
		d := sh.lawAt(s, s.SolidMM())
		if s.isStack() {
			d += sh.clamp
		}
		return d
	})
	z := distuv.UnitNormal.Quantile((1+level)/2) * law.StdDev()
	at := func(d float64) float64 { return s.bounded(s.lawOnly() * math.Exp(d)).MMPerMin }
	return Interval{Low: at(-z), Likely: at(0), High: at(z), Level: level}, nil
}
