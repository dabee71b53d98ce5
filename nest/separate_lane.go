package nest

import "math/rand/v2"

// A sepLane is one separator with its own layout, weights and random stream.
// Lanes run side by side and meet at barriers; see separate_lanes.go.
type sepLane struct {
	*sepState
	mover    sepMover
	order    []int
	keep     sepPlan // the layout of least loss of the attempt under way
	attempt  sepAttempt
	squeezer sepSqueeze
	rugged   bool        // some outline has too many convex pieces to squeeze
	over     func() bool // time is up: a pass ends where it is; nil where it may go on

	best   sepPlan // the shortest legal layout this lane knows
	length float64 // its length
	target float64 // strip length of the attempt under way
	failed sepPool
	slice  float64 // share of the length that exploration cuts off
	misses int     // attempts stuck at the target under way
	narrow bool    // compressing, not exploring
}

// sepMostPieces is how many convex pieces an outline may have to take part in a
// squeeze.
const sepMostPieces = 40

func sepNewLane(store *sepStore, cast *sepCast, plan sepPlan, seed uint64, lane int) *sepLane {
	l := &sepLane{
		sepState: sepNewState(store, cast, plan),
		mover: sepMover{
			rng:  rand.New(rand.NewPCG(seed, uint64(lane)+1)),
			tune: sepCoarse,
		},
		slice: sepSlice,
	}
	for i := range store.kinds {
		l.rugged = l.rugged || len(store.kinds[i].pieces) > sepMostPieces
	}
	return l
}

// stopped tells whether time is up.
func (l *sepLane) stopped() bool { return l.over != nil && l.over() }

// insert adds an item of a kind, in no kit, as the last that moves.
func (l *sepLane) insert(at sepPick, kind int) {
	cast := &sepCast{free: l.free + 1, ground: l.ground}
	plan := sepPlan{boxes: l.boxes}
	put := func(i int) {
		plan.add(sepPick{form: l.form[i], sheet: l.sheet[i], angle: l.angle[i], x: l.x[i], y: l.y[i]})
		cast.add(int(l.kind[i]), l.kit[i])
	}
	for i := range l.free {
		put(i)
	}
	plan.add(at)
	cast.add(kind, -1)
	for i := l.free; i < l.n; i++ {
		put(i)
	}
	work := l.work
	l.sepState = sepNewState(l.store, cast, plan)
	l.work = work
}
