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

// sepRoundOf is the work between meetings when a lane does total in all.
func sepRoundOf(total int64) int64 { return max(1, min(sepRound, total/sepRounds)) }

// sepWorkPerEffort is the work, in lookups and samples, of one unit of effort:
// about what one core does in a second.
const sepWorkPerEffort = 25_000_000

// run lets every lane work up to the quota.
func sepRun(ctx context.Context, workers int, lanes []*sepLane, task func(l *sepLane)) {
	var g errgroup.Group
	g.SetLimit(max(1, workers))
	for _, l := range lanes {
		g.Go(func() error {
			if ctx.Err() == nil {
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
			l.target = 0 // start afresh
		}
	}
}
