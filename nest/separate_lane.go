package nest

import "math/rand/v2"

// A sepLane is one separator with its own layout, weights and random stream.
// Lanes run side by side and meet at barriers; see separate_lanes.go.
type sepLane struct {
	*sepState
	mover   sepMover
	order   []int
	keep    sepPlan // the layout of least loss of the attempt under way
	attempt sepAttempt

	best    sepPlan // the shortest legal layout this lane knows
	length  float64 // its length
	target  float64 // strip length of the attempt under way
	failed  sepPool
	narrow  bool // compressing, not exploring
	narrows float64
}

func sepNewLane(store *sepStore, plan sepPlan, free int, seed uint64, lane int) *sepLane {
	return &sepLane{
		sepState: sepNewState(store, plan, free),
		mover: sepMover{
			rng:  rand.New(rand.NewPCG(seed, uint64(lane)+1)),
			tune: sepCoarse,
		},
	}
}

func (s *sepState) kindOf(i int) *sepKind { return &s.store.kinds[s.store.forms[s.form[i]].kind] }

// confine moves an item into its sheet's box.
func (s *sepState) confine(i int) {
	f := s.store.inner(s.boxes[s.sheet[i]], s.form[i])
	s.x[i] = max(min(s.x[i], f.x1), f.x0)
	s.y[i] = max(min(s.y[i], f.y1), f.y0)
}
