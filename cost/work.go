package cost

import "kerfold/geom"

// A Stroke is one pierce, or a start from the edge, and the motion that follows without lifting the head.
type Stroke struct {
	LeadIn  geom.Path
	Contour geom.Contour
	LeadOut geom.Path
	// FromEdge says that the jet comes on off the sheet: nothing is pierced.
	FromEdge bool
	// Times is how often this very stroke occurs, turned or not; 0 means once.
	Times int
}

func (k Stroke) times() int { return max(1, k.Times) }

// Work is what the head does for one layout, however many layers lie there.
type Work struct {
	Strokes  []Stroke
	RapidsMM []float64 // each move with the jet off, mm
	// Parts is how many parts one layer yields.
	Parts int
	// PreDrilled starts need no pierce (holes drilled beforehand).
	PreDrilled bool
}

// Copies returns the work of so many copies of w side by side.
func (w Work) Copies(n int) Work {
	out := Work{Parts: n * w.Parts, PreDrilled: w.PreDrilled}
	for _, k := range w.Strokes {
		k.Times = n * k.times()
		out.Strokes = append(out.Strokes, k)
	}
	for range n {
		out.RapidsMM = append(out.RapidsMM, w.RapidsMM...)
	}
	return out
}

// A Time is where the seconds of one run of one layout go.
type Time struct {
	CutSec    float64 // head moving, jet on: contours and leads
	PierceSec float64 // piercing and the head's own delays
	RapidSec  float64
	HandleSec float64 // loading, clamping, taking parts off
	CutMM     float64 // contours and leads
	Pierces   int
	// LawSec is what CutSec would be by the power law alone; CapSec what the
	// feed caps add to it; MotionSec what corners, arcs and acceleration add.
	LawSec, CapSec, MotionSec float64
	// LagSec is the part of MotionSec that comes of slowing arcs and corners
	// down, so that the trailing jet keeps their edge as good as was asked; the
	// rest is the acceleration's.
	LagSec float64
}

// HeadSec is the time the head is busy: cutting, piercing and rapid moves.
func (t Time) HeadSec() float64 { return t.CutSec + t.PierceSec + t.RapidSec }

// JetSec is the time the jet is on.
func (t Time) JetSec() float64 { return t.CutSec + t.PierceSec }

// TotalSec is head and handling one after the other.
func (t Time) TotalSec() float64 { return t.HeadSec() + t.HandleSec }

// OccupiedSec is how long a run holds the machine: with two tables the next
// sheet is handled while this one is cut.
func (t Time) OccupiedSec(tables int) float64 {
	if tables >= 2 {
		return max(t.HeadSec(), t.HandleSec)
	}
	return t.TotalSec()
}

// capNoise is the share of CutSec below which CapSec is rounding.
const capNoise = 1e-6

// StraightSec is what CutSec would be on one straight line at full feed.
func (t Time) StraightSec() float64 { return t.LawSec + t.CapSec }

// AccelSec is what the acceleration adds to CutSec: speeding up and slowing
// down, and the pull in bends.
func (t Time) AccelSec() float64 { return t.MotionSec - t.LagSec }

// Limit names what takes the largest share of CutSec: arcs and corners slowed
// for the edge, acceleration, or the straight line's feed; the latter by the
// feed cap where one is at work, else by the power law.
func (t Time) Limit() Limit {
	straight, accel := t.StraightSec(), t.AccelSec()
	switch {
	case t.LagSec > straight && t.LagSec >= accel:
		return LimitBends
	case accel > straight:
		return LimitMotion
	case t.CapSec > capNoise*t.CutSec:
		return LimitMachine
	}
	return LimitLaw
}

// LimitShare is the share of CutSec, 0 to 1, that goes to what Limit names: all
// of the straight line's time for a law or cap.
func (t Time) LimitShare() float64 {
	switch t.Limit() {
	case LimitBends:
		return share(t.LagSec, t.CutSec)
	case LimitMotion:
		return share(t.AccelSec(), t.CutSec)
	}
	return share(t.StraightSec(), t.CutSec)
}
