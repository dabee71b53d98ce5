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
	rugged   bool // some outline has too many convex pieces to squeeze

	best   sepPlan // the shortest legal layout this lane knows
	length float64 // its length
	target float64 // strip length of the attempt under way
	failed sepPool
	narrow bool // compressing, not exploring
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
	}
	for i := range store.kinds {
		l.rugged = l.rugged || len(store.kinds[i].pieces) > sepMostPieces
	}
	return l
}
