package week

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// Sequencing decides which machine cuts which stack, and in what order.
//
// The goal is lexicographic: first the days that orders are late, each begun day
// a whole one, weighted by the order's priority; then the seconds they are late;
// then, where the bench knows prices, money; then the seconds lost to set-ups;
// then how early the stacks finish. An order is
// finished when as many copies as are wanted have been cut. The method is a list
// schedule by due date, improved by moving one stack or one run of stacks of a
// family, or exchanging two, and restarted from shaken copies of the best:
// iterated local search (Lourenço, Martin, Stützle 2003, "Iterated local
// search", Handbook of Metaheuristics). Small cases are checked against
// enumeration in the tests.

// A chore is a batch of equal stacks to cut.
type chore struct {
	on     []span // by machine; the body is +Inf where it cannot be cut
	family int    // a change of family costs a set-up
	orders []cutOf
}

// A cutOf is how many copies of an order a chore makes.
type cutOf struct{ order, copies int }

// can reports whether machine m can do the chore.
func (c *chore) can(m int) bool { return !math.IsInf(c.on[m].body, 1) }

// A promise is when an order is due and how much its lateness weighs.
type promise struct {
	due    float64 // on the clock of [openHours.clock]
	weight float64
	spare  int // copies cut beyond those wanted; the last of them are not waited for
}

// A bench is a sequencing problem.
type bench struct {
	chores   []chore
	promises []promise
	setup    float64 // seconds for a change of family, the first included
	hours    []*openHours
	generous []int // orders with copies to spare
	// prices, where known, put money between lateness and set-ups.
	prices *prices
}

// prices are what chores cost on each machine beside the hours they hold it, a
// change of family, and a second that a machine is held.
type prices struct {
	chore [][]float64
	setup float64
	held  float64
}

// seal lists what is worked out once for all.
func (b *bench) seal() *bench {
	b.generous = nil
	for i, p := range b.promises {
		if p.spare > 0 {
			b.generous = append(b.generous, i)
		}
	}
	return b
}

// A queue is the order of chores on each machine.
type queue [][]int

// A tally is what a queue is judged by, most important first.
type tally struct{ days, late, money, setup, flow float64 }

// tallyGrain is the step to which tallies are rounded before comparison, so
// that sums taken in another order do not decide. Seconds.
const tallyGrain = 1e-3

func (t tally) less(o tally) bool {
	return cmp.Or(t.compareLate(o), cmp.Compare(t.money, o.money), cmp.Compare(t.setup, o.setup), cmp.Compare(t.flow, o.flow)) < 0
}

// compareLate compares what customers notice.
func (t tally) compareLate(o tally) int {
	return cmp.Or(cmp.Compare(t.days, o.days), cmp.Compare(t.late, o.late))
}

// A judge weighs queues. What the lines that stay as they are contribute can be
// kept, so that one line can be tried in many forms.
type judge struct {
	b          *bench
	kept, with contribution
}

// A contribution is what some machines' lines add to a tally.
type contribution struct {
	finish             []float64    // of each order
	made               [][]cutShare // of the orders with copies to spare
	money, setup, flow float64
	never              bool // a chore is on a machine that cannot do it
}

// A cutShare is copies of an order cut at a time.
type cutShare struct {
	at     float64
	copies int
}

func newJudge(b *bench) *judge {
	return &judge{b: b, kept: newContribution(len(b.promises)), with: newContribution(len(b.promises))}
}

func newContribution(orders int) contribution {
	c := contribution{finish: make([]float64, orders), made: make([][]cutShare, orders)}
	c.clear()
	return c
}

func (c *contribution) clear() {
	c.money, c.setup, c.flow, c.never = 0, 0, 0, false
	for i := range c.finish {
		c.finish[i], c.made[i] = math.Inf(-1), c.made[i][:0]
	}
}

// set makes c a copy of o.
func (c *contribution) set(b *bench, o *contribution) {
	c.money, c.setup, c.flow, c.never = o.money, o.setup, o.flow, o.never
	copy(c.finish, o.finish)
	for _, i := range b.generous {
		c.made[i] = append(c.made[i][:0], o.made[i]...)
	}
}

// weigh tallies a queue. Chores a machine cannot cut make it infinitely late.
func (j *judge) weigh(q queue) tally {
	j.keep(q, -1, -1)
	return j.tally(&j.kept)
}

// keep remembers what all lines but two add.
func (j *judge) keep(q queue, but, and int) {
	j.kept.clear()
	for m, line := range q {
		if m != but && m != and {
			j.walk(m, line, &j.kept)
		}
	}
}

// try tallies what is kept with one more line.
func (j *judge) try(m int, line []int) tally {
	j.with.set(j.b, &j.kept)
	j.walk(m, line, &j.with)
	return j.tally(&j.with)
}

// tryBoth tallies what is kept with two more lines.
func (j *judge) tryBoth(q queue, m, n int) tally {
	j.with.set(j.b, &j.kept)
	j.walk(m, q[m], &j.with)
	if n != m {
		j.walk(n, q[n], &j.with)
	}
	return j.tally(&j.with)
}

func (j *judge) tally(c *contribution) tally {
	for _, i := range j.b.generous {
		c.finish[i] = finished(c.made[i], j.b.promises[i].spare)
	}
	t := tally{money: c.money, setup: c.setup, flow: c.flow}
	if c.never {
		return tally{days: math.Inf(1)}
	}
	for i, p := range j.b.promises {
		if over := c.finish[i] - p.due; over > 0 {
			t.days += p.weight * daysOver(over)
			t.late += p.weight * over
		}
	}
	return tally{grained(t.days), grained(t.late), grained(t.money), grained(t.setup), grained(t.flow)}
}

// daysOver counts the days begun in so many seconds after a due date.
func daysOver(over float64) float64 { return math.Ceil(over / daySec) }

// finished is when all copies but the spare ones have been cut.
func finished(made []cutShare, spare int) float64 {
	slices.SortFunc(made, func(a, b cutShare) int { return cmp.Compare(b.at, a.at) })
	for _, c := range made {
		if spare -= c.copies; spare < 0 {
			return c.at
		}
	}
	return math.Inf(-1)
}

func grained(x float64) float64 { return math.Round(x/tallyGrain) * tallyGrain }

// walk adds what one machine's line contributes.
func (j *judge) walk(m int, line []int, to *contribution) {
	if j.b.prices != nil {
		to.money += j.b.lineMoney(m, line)
	}
	hours := j.b.hours[m]
	tape, cut, family, day := hours.taken, 0.0, -1, 0
	for _, c := range line {
		ch := &j.b.chores[c]
		if ch.family != family {
			family = ch.family
			to.setup += j.b.setup
			tape += j.b.setup
		}
		if !ch.can(m) {
			to.never = true
			return
		}
		tape += ch.on[m].after(cut)
		cut = ch.on[m].tail
		at := hours.clock(tape, &day)
		to.flow += at
		for _, o := range ch.orders {
			if j.b.promises[o.order].spare > 0 {
				to.made[o.order] = append(to.made[o.order], cutShare{at, o.copies})
			} else if at > to.finish[o.order] {
				to.finish[o.order] = at
			}
		}
	}
}

// sequence finds a good queue. Shakes is how many times the best is shaken and
// improved again.
func sequence(b *bench, shakes int, rng *rand.Rand) queue {
	s := sequencer{judge: newJudge(b), b: b}
	best, t := s.start()
	return s.shaken(best, t, shakes, rng)
}

// resequence is sequence from a queue that is known to be good. It also returns
// the work done.
func resequence(b *bench, from queue, shakes int, rng *rand.Rand) (queue, int) {
	s := sequencer{judge: newJudge(b), b: b}
	best := cloneQueue(from)
	t := s.descend(best)
	best = s.shaken(best, t, shakes, rng)
	return best, s.work
}

// shaken shakes and improves the best queue so many times.
func (s *sequencer) shaken(best queue, t tally, shakes int, rng *rand.Rand) queue {
	for range shakes {
		if s.work > mostLooks {
			break
		}
		q := s.shake(best, rng)
		if u := s.descend(q); !t.less(u) {
			best, t = q, u
		}
	}
	return best
}

type sequencer struct {
	judge *judge
	b     *bench
	work  int // orders and chores looked at so far
}

// mostLooks bounds a sequencing: some seconds of work, which a week of some
// hundred orders never needs. With thousands, what has been found by then counts.
const mostLooks = 400_000_000

// tired counts one more trial and reports whether the work is spent.
func (s *sequencer) tired() bool {
	s.work += len(s.b.promises) + len(s.b.chores)
	return s.work > mostLooks
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
			due[i] = math.Min(due[i], s.b.promises[o.order].due)
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
	q := make(queue, len(s.b.hours))
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
		if t := s.endOf(m, append(slices.Clone(q[m]), c)); t < at {
			best, at = m, t
		}
	}
	return best
}

// endOf is when a machine's line is done.
func (s *sequencer) endOf(m int, line []int) float64 {
	tape, cut, family, day := s.b.hours[m].taken, 0.0, -1, 0
	for _, k := range line {
		ch := &s.b.chores[k]
		if ch.family != family {
			family, tape = ch.family, tape+s.b.setup
		}
		tape += ch.on[m].after(cut)
		cut = ch.on[m].tail
	}
	return s.b.hours[m].clock(tape, &day)
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
		to := rng.IntN(len(s.b.hours))
		if !s.b.chores[c[m][i]].can(to) {
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
