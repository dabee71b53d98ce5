package cost

import "math"

// A Motion is how fast the head may go along a path.
type Motion struct {
	FeedMMPerMin float64 // on a straight line, caps applied
	AccelMMPerS2 float64 // along the path, and towards a bend's centre
	DeviationMM  float64 // from the path at a corner
	Lag          *Lag    // nil: arcs and corners are not slowed for the jet's lag
}

// A PathTime is what one continuous motion from rest to rest takes.
type PathTime struct {
	Sec, LengthMM float64
	// LagSec is what slowing arcs and corners for the jet's lag adds to LengthMM
	// at full feed; RampSec what the acceleration adds to that, by speeding up,
	// slowing down and the pull in bends.
	LagSec, RampSec float64
}

// mergeShare is the share of the corner deviation below which a line is merged
// into the next one: joining moves the path by at most that much.
const mergeShare = 0.25

// PathSeconds returns the time of one stroke from rest to rest, by a look-ahead
// over the whole of it: every line and arc has a greatest feed, every joint a
// greatest speed, and one pass backward and one forward keep the acceleration.
// Where a coordinate is no number, neither is the time.
func (m Motion) PathSeconds(k Stroke) PathTime {
	spans := strokeSpans(k, mergeShare*m.DeviationMM)
	if l := length(spans); l == 0 || math.IsNaN(l) || math.IsInf(l, 0) {
		return PathTime{Sec: l, LengthMM: l}
	}
	p := m.plan(spans)
	p.lookAhead(m.AccelMMPerS2)
	return p.total(m.FeedMMPerMin/secPerMin, m.AccelMMPerS2)
}

// A profile is a path cut into pieces of one greatest feed each: held is what
// the cut allows, feed what the acceleration leaves of it in a bend. speed[i]
// is the speed at the start of piece i, and the last one that at the path's end.
type profile struct {
	mm         []float64
	held, feed []float64 // mm/s
	speed      []float64 // mm/s
}

func newProfile(n int) *profile {
	return &profile{mm: make([]float64, 0, n), held: make([]float64, 0, n), feed: make([]float64, 0, n), speed: make([]float64, 0, n+1)}
}

// add appends a piece that must not be entered faster than entry.
func (p *profile) add(mm, held, feed, entry float64) {
	if mm <= 0 {
		return
	}
	entry = min(entry, feed)
	if n := len(p.feed); n > 0 {
		entry = min(entry, p.feed[n-1])
	}
	p.mm, p.speed = append(p.mm, mm), append(p.speed, entry)
	p.held, p.feed = append(p.held, held), append(p.feed, feed)
}

// lookAhead lowers the joint speeds until every piece can be run within the
// acceleration a, starting and ending at rest.
func (p *profile) lookAhead(a float64) {
	n := len(p.mm)
	p.speed[0] = 0
	p.speed = append(p.speed[:n], 0)
	for i := n - 1; i > 0; i-- {
		p.speed[i] = min(p.speed[i], reach(p.speed[i+1], a, p.mm[i]))
	}
	for i := range n {
		p.speed[i+1] = min(p.speed[i+1], reach(p.speed[i], a, p.mm[i]))
	}
}

// reach is the speed after l mm of acceleration a from speed v.
func reach(v, a, l float64) float64 { return math.Sqrt(v*v + 2*a*l) }

func (p *profile) total(feed, a float64) PathTime {
	var t PathTime
	cruise := 0.0
	for i, l := range p.mm {
		t.LengthMM += l
		cruise += l / p.held[i]
		t.Sec += rampTime(l, p.speed[i], p.speed[i+1], p.feed[i], a)
	}
	t.LagSec = max(0, cruise-t.LengthMM/feed)
	t.RampSec = max(0, t.Sec-cruise)
	return t
}
