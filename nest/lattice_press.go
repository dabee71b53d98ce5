package nest

import (
	"context"
	"math/rand/v2"
	"slices"
)

// Pressing lays more copies on a sheet than clipped lattices and their rims hold:
// from a layout of one copy more, in which some overlap, the copies are pushed
// apart. Such layouts come from three sources: the fullest layout with a copy thrown
// in; another of the full layouts, of another structure, with as many thrown in as it
// lacks; and windows, in which copies near one another, mostly at the rim, move to
// make room for one more while all others stay (see lattice_window.go). On a sheet of
// hundreds of copies only windows are tried: a crowd there does not spread far.
//
// A fixed number of lanes press side by side for a fixed amount of work and then
// meet; the first with a layout of more copies hands it to all. So the result does
// not depend on the number of workers.

const (
	latPressItems = sepMostItems / 2 // most copies on a sheet that more are pressed into
	latPressWhole = 250              // most copies on a sheet that is pressed as a whole
	latPressTurns = 3                // on such a sheet a window is tried every so many times
	latPressFails = 2000             // tries without success that end it
	latPressCost  = 5                // how many of them one of the whole sheet counts as
	latLack       = 0.03             // share of the copies that another layout may lack
)

// latPressShare is the share of the effort that is spent, at most, when pressing
// ends: the rest is for other parts, of which there may be none.
func latPressShare(p Problem) float64 {
	if kindsOf(p) == 1 {
		return 0.95
	}
	return 0.8
}

// latPatience is the patience for pushing a whole sheet apart, with one strike or
// two by lot: some sheets yield to many short tries, some to fewer long ones.
// latWindowPatience is that for a window.
var (
	latPatience       = sepPatience{passes: 60, strikes: 1}
	latWindowPatience = sepPatience{passes: 40, strikes: 2}
)

// A latPresser presses copies into one sheet.
type latPresser struct {
	*latSearcher
	full  *latFull
	lanes []*latPressLane
}

func (l *latSearcher) press(ctx context.Context, f *latFull) {
	if len(f.picks) == 0 || len(f.picks) > latPressItems {
		return
	}
	p := &latPresser{latSearcher: l, full: f}
	for i := range sepLaneCount {
		p.lanes = append(p.lanes, &latPressLane{presser: p, index: i, rng: rand.New(rand.NewPCG(l.options.Seed, latPressStream+uint64(i)))})
	}
	for l.mayPress(ctx) && !p.spent() && len(f.picks) < l.problem.Parts[f.sheet.kind].Quantity {
		p.round(ctx)
	}
	for _, lane := range p.lanes {
		l.moves += lane.moves
	}
}

const latPressStream = 1 << 34

func (l *latSearcher) mayPress(ctx context.Context) bool {
	return ctx.Err() == nil && l.meter.done() < l.pressUntil
}

// spent tells whether too many tries in a row came to nothing.
func (p *latPresser) spent() bool {
	fails := 0
	for _, lane := range p.lanes {
		fails += lane.fails
	}
	return fails >= latPressFails
}

// round lets all lanes work for a while and takes the first layout found.
func (p *latPresser) round(ctx context.Context) {
	before := p.meter.at
	quota := p.meter.next() - before
	sideBySide(p.options.Workers, p.lanes, func(_ int, lane *latPressLane) { lane.work(ctx, quota) })
	for _, lane := range p.lanes {
		if lane.found != nil {
			p.take(lane.found)
			return
		}
	}
}

// take makes a layout the sheet's, after what fits its rim without pushing.
func (p *latPresser) take(picks []sepPick) {
	f := p.full
	f.others = append(f.others, f.picks)
	f.picks = f.sheet.exactRim(picks)
	f.others = slices.DeleteFunc(f.others, func(o []sepPick) bool { return float64(len(o)) < float64(len(f.picks)+1)*(1-latLack) })
	p.restart()
}

// restart lets all lanes begin from the sheet's layout.
func (p *latPresser) restart() {
	for _, lane := range p.lanes {
		lane.job, lane.found = nil, nil
		lane.fails, lane.others = 0, 0
	}
}

// A latPressLane tries one layout after another.
type latPressLane struct {
	presser *latPresser
	index   int
	rng     *rand.Rand
	job     *latPressJob // under way, if any
	found   []sepPick    // a layout of more copies
	turn    int          // tries in all
	fails   int          // weight of the tries since the sheet's layout changed
	others  int          // other layouts tried since then
	moves   int64
}

// A latPressJob is a layout being pushed apart: the free items of the lane, and
// copies that are not in it.
type latPressJob struct {
	*sepLane
	rest []sepPick
}

// work tries layouts until a quota of work is done or one is found.
func (l *latPressLane) work(ctx context.Context, quota int64) {
	for done := int64(0); done < quota && l.found == nil && ctx.Err() == nil; {
		if l.job == nil {
			var cost int64
			l.job, cost = l.begin()
			done += cost
			continue
		}
		before := l.job.work
		l.job.over = func() bool { return ctx.Err() != nil }
		out := l.job.step()
		done += l.job.work - before
		if out == sepSolved {
			l.found = append(latPicks(l.job.sepLane), l.job.rest...)
		}
		if out != sepRunning {
			l.moves += l.job.mover.moves
			l.job = nil
		}
	}
}

// begin makes the next layout to push apart, or none where a window has no room.
func (l *latPressLane) begin() (job *latPressJob, cost int64) {
	l.turn++
	if l.turn%latPressTurns == 0 || len(l.presser.full.picks) > latPressWhole {
		l.fails++
		return l.window()
	}
	l.fails += latPressCost
	lane, patience := l.whole(), latPatience
	patience.strikes += l.rng.IntN(2)
	lane.begin(patience)
	return &latPressJob{sepLane: lane}, lane.work
}

// whole makes a layout of the whole sheet with one copy more than there are.
func (l *latPressLane) whole() *sepLane {
	f := l.presser.full
	from := f.picks
	if at := l.others*len(l.presser.lanes) + l.index; l.turn%2 == 1 && at < len(f.others) {
		from = f.others[at]
		l.others++
	}
	lane := f.sheet.lane(from, l.rng.Uint64())
	for lane.free <= len(f.picks) {
		i := lane.mover.rng.IntN(lane.free)
		lane.insert(sepPick{form: lane.form[i], angle: lane.angle[i], sheet: lane.sheet[i], x: lane.x[i], y: lane.y[i]}, f.sheet.kind)
	}
	return lane
}
