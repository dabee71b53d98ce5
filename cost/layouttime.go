package cost

import (
	"errors"
	"math"
)

// LayoutTime returns where the seconds of one run of w go: the motion of every
// stroke, the pierces, the rapid moves and the handling of s.Layers sheets. The
// error is that of [Setup.Check], or says that a coordinate is no number.
func LayoutTime(s Setup, w Work) (Time, error) {
	if err := s.Check(); err != nil {
		return Time{}, err
	}
	s = s.filled()
	t := s.cutTime(w, 0, 0)
	s.addRest(&t, w, shift{})
	return t, t.finite()
}

// finite reports a time that came of coordinates that are no numbers.
func (t Time) finite() error {
	if total := t.TotalSec(); math.IsNaN(total) || math.IsInf(total, 0) {
		return errors.New("a contour or rapid move has coordinates that are no finite numbers: read the drawing again")
	}
	return nil
}

// cutTime is the time of all strokes with the law's speed and the acceleration
// changed by the exponentials of law and accel.
func (s Setup) cutTime(w Work, law, accel float64) Time {
	v := s.speedWith(law)
	m := s.motion(v, accel)
	var t Time
	for _, k := range w.Strokes {
		n := float64(k.times())
		p := m.PathSeconds(k)
		t.CutSec += n * p.Sec
		t.CutMM += n * p.LengthMM
		t.LagSec += n * p.LagSec
		t.MotionSec += n * (p.LagSec + p.RampSec)
	}
	t.LawSec = t.CutMM / (v.Law / secPerMin)
	t.CapSec = max(0, t.CutSec-t.LawSec-t.MotionSec)
	return t
}

// speedWith is the speed with the law's part changed by exp(law).
func (s Setup) speedWith(law float64) Speed {
	v := s.lawOnly() * math.Exp(law)
	return s.bounded(v)
}

func (s Setup) motion(v Speed, accel float64) Motion {
	return Motion{
		FeedMMPerMin: v.MMPerMin, AccelMMPerS2: s.Machine.AccelMMPerS2 * math.Exp(accel),
		DeviationMM: s.Machine.CornerDeviationMM, Lag: s.lag(v.Law),
	}
}

// addRest fills in pierces, rapid moves and handling.
func (s Setup) addRest(t *Time, w Work, sh shift) {
	starts := 0
	for _, k := range w.Strokes {
		starts += k.times()
		if !k.FromEdge {
			t.Pierces += k.times()
		}
	}
	pierce := s.pierceSec(sh)
	if w.PreDrilled {
		pierce = 0
	}
	t.PierceSec = float64(t.Pierces)*pierce + float64(starts)*s.Machine.headSec()
	a := s.Machine.AccelMMPerS2 * math.Exp(sh.accel)
	for _, l := range w.RapidsMM {
		t.RapidSec += TrapezoidTime(l, s.Machine.RapidMMPerMin/secPerMin, a)
	}
	t.HandleSec = s.handleSec(w) * math.Exp(sh.handle)
}

// handleSec is the handling of one run: a single sheet is loaded and its parts
// taken off; a stack is squared and clamped, layer by layer, covers included.
func (s Setup) handleSec(w Work) float64 {
	n := float64(s.Depth())
	parts := s.Rates.UnloadSecPerPart * float64(w.Parts) * n
	if !s.isStack() {
		return s.Rates.LoadSecPerSheet + parts
	}
	return s.Rates.StackPrepSec + (n+float64(s.covers()))*s.Rates.StackLayerSec + parts
}
