package cost

import (
	"math"
	"sort"
)

// A response answers how long a run takes when its uncertain inputs move,
// without planning every motion anew: the cutting time is planned at a few
// speeds of the power law and interpolated between, and its dependence on the
// acceleration is taken as a power. The plans away from the likely values are
// made when they are first asked for.
type response struct {
	s        Setup
	w        Work
	law, sec []float64 // ln of the law's change, ln of the cutting seconds
	accel    float64   // d ln sec / d ln a
	likely   Time
}

// lawSteps covers three standard deviations of the widest built-in spread.
var lawSteps = []float64{-1.5, -0.75, -0.4, -0.2, 0, 0.2, 0.4, 0.75, 1.5}

const accelStep = 0.2

func newResponse(s Setup, w Work) *response {
	r := &response{s: s.filled(), w: w}
	r.likely = r.s.cutTime(w, 0, 0)
	return r
}

// plan works the run out away from its likely values, once.
func (r *response) plan() {
	if r.law != nil {
		return
	}
	for _, l := range lawSteps {
		r.law = append(r.law, l)
		r.sec = append(r.sec, math.Log(r.s.cutTime(r.w, l, 0).CutSec))
	}
	up, down := r.s.cutTime(r.w, 0, accelStep).CutSec, r.s.cutTime(r.w, 0, -accelStep).CutSec
	r.accel = math.Log(up/down) / (2 * accelStep)
}

// time is the run's time under a shift.
func (r *response) time(sh shift) Time {
	t := r.likely
	if t.CutSec > 0 && sh != (shift{}) {
		r.plan()
		law := sh.lawAt(r.s, r.s.SolidMM())
		if r.s.isStack() {
			law += sh.clamp
		}
		t.CutSec = math.Exp(r.interpolate(law) + r.accel*sh.accel)
	}
	r.s.addRest(&t, r.w, sh)
	return t
}

// interpolate is linear between the planned speeds and goes on straight beyond.
func (r *response) interpolate(law float64) float64 {
	i := sort.SearchFloat64s(r.law, law)
	i = min(max(i, 1), len(r.law)-1)
	x0, x1, y0, y1 := r.law[i-1], r.law[i], r.sec[i-1], r.sec[i]
	return y0 + (y1-y0)*(law-x0)/(x1-x0)
}

func (r *response) ledger(sh shift, sheetMoney float64) Ledger {
	return r.s.ledger(r.time(sh), sh, sheetMoney)
}
