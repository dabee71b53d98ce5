package nest

// The effort is spent in cycles that grow in length. Each cycle explores and
// then compresses, so that the best layout is a compressed one whenever the
// search is stopped, and most of a long search still goes into one long
// exploration.

// sepFirstCycle is the share of the effort spent when the first cycle ends.
const sepFirstCycle = 1.0 / 16

// sepCycleGrowth is how much later a cycle ends than the one before it.
const sepCycleGrowth = 4

// sepExplored is the share of a cycle spent exploring.
const sepExplored = 0.75

// sepPhase says what to do when the given share of the effort is spent: explore
// or compress, and how far through the compression.
func sepPhase(done float64) (narrow bool, share float64) {
	from, to := 0.0, sepFirstCycle
	for done >= to && to < 1 {
		from, to = to, to*sepCycleGrowth
	}
	turn := from + (to-from)*sepExplored
	if done < turn {
		return false, 0
	}
	return true, min(1, (done-turn)/(to-turn))
}
