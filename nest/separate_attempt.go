package nest

// A sepAttempt is one try at freeing a layout of collisions: rounds of passes,
// each round starting again from the layout of least loss, until nothing
// collides or several rounds in a row made no headway. It is a value to step
// through, so that a lane can pause at any pass.
type sepAttempt struct {
	patience sepPatience
	best     float64 // least loss met
	before   float64 // least loss when the round began
	idle     int     // passes without headway
	strike   int     // rounds without headway
}

// sepPatience says when an attempt gives up.
type sepPatience struct{ passes, strikes int }

type sepOutcome int

const (
	sepRunning sepOutcome = iota
	sepSolved
	sepStuck
)

// sepHeadway is the share by which the loss must fall to count as headway.
const sepHeadway = 0.02

// begin starts an attempt at the layout as it stands.
func (l *sepLane) begin(p sepPatience) {
	l.calm()
	loss := l.loss()
	l.attempt = sepAttempt{patience: p, best: loss, before: loss}
	l.keep.assign(&l.sepPlan)
}

// step runs one pass. When the attempt ends the layout is the one of least
// loss.
func (l *sepLane) step() sepOutcome {
	a := &l.attempt
	if a.best == 0 {
		return sepSolved
	}
	a.idle++
	if loss := l.pass(); loss < a.best {
		if loss < a.best*(1-sepHeadway) {
			a.idle = 0
		}
		a.best = loss
		l.keep.assign(&l.sepPlan)
		if loss == 0 {
			return sepSolved
		}
	}
	if a.idle < a.patience.passes {
		return sepRunning
	}
	return l.nextRound()
}

func (l *sepLane) nextRound() sepOutcome {
	a := &l.attempt
	l.adopt(&l.keep)
	a.idle = 0
	a.strike++
	if a.best < a.before*(1-sepHeadway) {
		a.strike = 0
	}
	a.before = a.best
	if a.strike >= a.patience.strikes {
		return sepStuck
	}
	return sepRunning
}
