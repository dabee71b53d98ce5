package week

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Sequencing decides which machine cuts which stack, and in what order.
//
// The goal is lexicographic: first the weighted lateness of orders, then the
// seconds lost to set-ups, then how early the stacks finish. An order is
// finished with the last stack that holds a part of it. The method is a list
// schedule by due date, improved by moving one stack or one run of stacks of a
// family, or exchanging two, and restarted from shaken copies of the best:
// iterated local search (Lourenço, Martin, Stützle 2003, "Iterated local
// search", Handbook of Metaheuristics). Small cases are checked against
// enumeration in the tests.

// A chore is one stack to cut.
type chore struct {
	seconds []float64 // by machine; +Inf where it cannot be cut
	family  int       // a change of family costs a set-up
	orders  []int     // orders with parts on it
}

// A promise is when an order is due and how much its lateness weighs.
type promise struct {
	due    float64 // on the clock of [bench.clock]
	weight float64
}

// A bench is a sequencing problem.
type bench struct {
	chores   []chore
	promises []promise
	machines int
	setup    float64 // seconds for a change of family, the first included
	// clock turns seconds of work on a machine into a time that can be compared
	// with due dates; it never falls.
	clock func(machine int, worked float64) float64
}

// A queue is the order of chores on each machine.
type queue [][]int

// A tally is what a queue is judged by, most important first.
type tally struct{ late, setup, flow float64 }

// tallyGrain is the step to which tallies are rounded before comparison, so
// that sums taken in another order do not decide. Seconds.
const tallyGrain = 1e-3

func (t tally) less(o tally) bool {
	if t.late != o.late {
		return t.late < o.late
	}
	if t.setup != o.setup {
		return t.setup < o.setup
	}
	return t.flow < o.flow
}

// A judge weighs queues; it keeps room for the orders' finishing times.
type judge struct {
	b      *bench
	finish []float64
}

func newJudge(b *bench) *judge { return &judge{b: b, finish: make([]float64, len(b.promises))} }

// weigh tallies a queue. Chores a machine cannot cut make it infinitely late.
func (j *judge) weigh(q queue) tally {
	for i := range j.finish {
		j.finish[i] = math.Inf(-1)
	}
	var t tally
	for m, line := range q {
		t.setup += j.walk(m, line, &t.flow)
	}
	for i, p := range j.b.promises {
		if over := j.finish[i] - p.due; over > 0 {
			t.late += p.weight * over
		}
	}
	return tally{grained(t.late), grained(t.setup), grained(t.flow)}
}

func grained(x float64) float64 { return math.Round(x/tallyGrain) * tallyGrain }

// walk runs one machine's line and returns its set-up seconds.
func (j *judge) walk(m int, line []int, flow *float64) (setups float64) {
	worked, family := 0.0, -1
	for _, c := range line {
		ch := &j.b.chores[c]
		if ch.family != family {
			family = ch.family
			setups += j.b.setup
			worked += j.b.setup
		}
		worked += ch.seconds[m]
		at := j.b.clock(m, worked)
		*flow += at
		for _, o := range ch.orders {
			j.finish[o] = math.Max(j.finish[o], at)
		}
	}
	return setups
}

// sequence finds a good queue. Shakes is how many times the best is shaken and
// improved again.
func sequence(b *bench, shakes int, rng *rand.Rand) queue {
	s := sequencer{judge: newJudge(b), b: b}
	best, tally := s.start()
	for range shakes {
		q := s.shake(best, rng)
		if t := s.descend(q); !tally.less(t) {
			best, tally = q, t
		}
	}
	return best
}

type sequencer struct {
	judge *judge
	b     *bench
}

// start improves two list schedules and returns the better.
func (s *sequencer) start() (queue, tally) {
	byDue := s.list(s.urgency())
	byFamily := s.list(s.familyUrgency())
	t, u := s.descend(byDue), s.descend(byFamily)
	if u.less(t) {
		return byFamily, u
	}
	return byDue, t
}

// urgency is the earliest due date of each chore's orders.
func (s *sequencer) urgency() []float64 {
	due := make([]float64, len(s.b.chores))
	for i := range s.b.chores {
		due[i] = math.Inf(1)
		for _, o := range s.b.chores[i].orders {
			due[i] = math.Min(due[i], s.b.promises[o].due)
		}
	}
	return due
}

// familyUrgency gives every chore its family's earliest due date, so that
// families stay together; the second key in list keeps them apart.
func (s *sequencer) familyUrgency() []float64 {
	due, first := s.urgency(), map[int]float64{}
	for i := range s.b.chores {
		f := s.b.chores[i].family
		if d, ok := first[f]; !ok || due[i] < d {
			first[f] = due[i]
		}
	}
	for i := range due {
		due[i] = first[s.b.chores[i].family]
	}
	return due
}

// list puts chores, most urgent first, on the machine that finishes them first.
func (s *sequencer) list(due []float64) queue {
	order := make([]int, len(due))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if due[a] != due[b] {
			if due[a] < due[b] {
				return -1
			}
			return 1
		}
		return s.b.chores[a].family - s.b.chores[b].family
	})
	q := make(queue, s.b.machines)
	for _, c := range order {
		m := s.soonest(q, c)
		q[m] = append(q[m], c)
	}
	return q
}

// soonest is the machine on which chore c, put last, ends first.
func (s *sequencer) soonest(q queue, c int) int {
	best, at := 0, math.Inf(1)
	for m := range q {
		worked, family := 0.0, -1
		for _, k := range append(slices.Clone(q[m]), c) {
			if f := s.b.chores[k].family; f != family {
				family, worked = f, worked+s.b.setup
			}
			worked += s.b.chores[k].seconds[m]
		}
		if t := s.b.clock(m, worked); t < at {
			best, at = m, t
		}
	}
	return best
}

// shake moves a few random chores to random places on a copy.
func (s *sequencer) shake(q queue, rng *rand.Rand) queue {
	c := cloneQueue(q)
	n := len(s.b.chores)
	if n == 0 {
		return c
	}
	for range 2 + rng.IntN(3) {
		m, i := locate(c, rng.IntN(n))
		to := rng.IntN(s.b.machines)
		if math.IsInf(s.b.chores[c[m][i]].seconds[to], 1) {
			to = m
		}
		k := c[m][i]
		c[m] = slices.Delete(c[m], i, i+1)
		c[to] = slices.Insert(c[to], rng.IntN(len(c[to])+1), k)
	}
	return c
}

// locate finds the n-th chore in machine order.
func locate(q queue, n int) (machine, index int) {
	for m := range q {
		if n < len(q[m]) {
			return m, n
		}
		n -= len(q[m])
	}
	return 0, 0
}

func cloneQueue(q queue) queue {
	c := make(queue, len(q))
	for m := range q {
		c[m] = slices.Clone(q[m])
	}
	return c
}
