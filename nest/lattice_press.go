package nest

import "context"

// latPatience is the patience for pressing in one more copy.
var latPatience = sepPatience{passes: 60, strikes: 2}

const (
	latPressItems = 250 // most copies on a sheet that one more is pressed into
	latPressFails = 40  // failures in a row that end it
	latPressShare = 0.8 // of the effort, at most, is spent when it ends
)

// press tries to lay one more copy on a full sheet, again and again: it is
// thrown in anywhere and the sheet separated.
func (l *latSearcher) press(ctx context.Context, f *latFull) {
	if len(f.picks) == 0 || len(f.picks) > latPressItems {
		return
	}
	for fails := 0; fails < latPressFails && l.mayPress(ctx); {
		lane := f.sheet.lane(f.picks, uint64(fails)+100)
		from := f.picks[lane.mover.rng.IntN(len(f.picks))]
		lane.insert(from, f.sheet.kind)
		solved := l.pressOne(ctx, lane)
		l.moves += lane.mover.moves
		if !solved {
			fails++
			continue
		}
		f.picks = latPicks(lane)
		fails = 0
	}
}

func (l *latSearcher) mayPress(ctx context.Context) bool {
	return ctx.Err() == nil && l.meter.done() < l.pressUntil
}

// pressOne separates the sheet while there is effort for it.
func (l *latSearcher) pressOne(ctx context.Context, lane *sepLane) bool {
	lane.begin(latPatience)
	for l.mayPress(ctx) {
		before := lane.work
		outcome := lane.step()
		l.meter.at += (lane.work - before) / sepLaneCount
		if outcome != sepRunning {
			return outcome == sepSolved
		}
	}
	return false
}
