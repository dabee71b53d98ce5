package nest

import (
	"context"

	"golang.org/x/sync/errgroup"
)

// The search runs a fixed number of lanes whatever the number of workers, so
// that the result does not depend on the machine. Each lane is a separator with
// its own random stream. Lanes run side by side for a fixed amount of work and
// then meet; the best layout, by length and then by lane, becomes the best of
// all. A lane whose own best was beaten drops what it was doing and goes on from
// the new one. Between two meetings lanes share only tables, and a table is the
// same whoever builds it.

// sepLaneCount trades the use of many cores against the time lanes wait for one
// another on few.
const sepLaneCount = 2

// sepRound is the most work a lane does between two meetings, and sepRounds the
// least number of meetings.
const (
	sepRound  = sepWorkPerEffort / 20
	sepRounds = 64
)

// sepWorkPerEffort is the work, in lookups and samples, of one unit of effort:
// about what one core does in a second.
const sepWorkPerEffort = 25_000_000

// A sepMeter tells how much of what the caller allows is spent: by work, where
// there is an effort, or by the caller's own measure, whichever is further.
type sepMeter struct {
	total int64 // work per lane; 0 is no limit
	at    int64 // work per lane so far
	spent func() float64
}

func sepNewMeter(o Options) sepMeter {
	if o.Effort == 0 && o.Spent == nil {
		o.Effort = 1
	}
	return sepMeter{total: int64(o.Effort * sepWorkPerEffort / sepLaneCount), spent: o.Spent}
}

// done is the share spent, 0 to 1.
func (m *sepMeter) done() float64 {
	done := 0.0
	if m.total > 0 {
		done = float64(m.at) / float64(m.total)
	}
	if m.spent != nil {
		done = max(done, m.spent())
	}
	return min(done, 1)
}

// next returns the work up to the next meeting.
func (m *sepMeter) next() int64 {
	step := int64(sepRound)
	if m.total > 0 {
		step = max(1, min(step, m.total/sepRounds))
	}
	m.at += step
	return m.at
}

// sepRun runs a task on every lane, workers at a time.
func sepRun(ctx context.Context, workers int, lanes []*sepLane, task func(l *sepLane)) {
	var g errgroup.Group
	g.SetLimit(max(1, workers))
	for _, l := range lanes {
		g.Go(func() error {
			if ctx.Err() == nil {
				l.over = func() bool { return ctx.Err() != nil }
				task(l)
			}
			return nil
		})
	}
	_ = g.Wait() // tasks return no errors
}

// sepShortest returns the lane with the shortest best layout, the first of
// equals.
func sepShortest(lanes []*sepLane) *sepLane {
	best := lanes[0]
	for _, l := range lanes[1:] {
		if l.length < best.length {
			best = l
		}
	}
	return best
}

// sepMeet hands the best layout to all lanes.
func sepMeet(lanes []*sepLane) {
	best := sepShortest(lanes)
	for _, l := range lanes {
		if best.length < l.length {
			l.length = best.length
			l.best.assign(&best.best)
			l.failed.empty()
			l.target, l.misses = 0, 0 // start afresh
		}
	}
}
