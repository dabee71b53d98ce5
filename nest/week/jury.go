package week

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"golang.org/x/sync/errgroup"
)

// What a way costs each by itself is not what it costs the week: its runs may be
// put on a machine where they cost more because the cheapest is wanted for
// something urgent, a set-up more may be needed, and orders may be late, which
// has a price too (cost.Rates.LatePerHour). So the choice between the groups'
// ways is made again on trial calendars, group by group, until none changes.

// weekTrials bounds the trial calendars of a plan, and trialsPer adds to it for
// each unit of effort, up to manyTrials; weekChores bounds the stacks they
// sequence in all, weekLooks the work if all took as much as the first.
const (
	weekTrials  = 200
	trialsPer   = 100
	manyTrials  = 1500
	weekChores  = 40000
	mostRivals  = 16 // ways of a group tried at a time
	leastRivals = 4  // the same where little effort is asked for
	pairsAtOnce = 16 // pairs of ways tried at a time
	likeShakes  = 4  // of a trial that begins with a queue much the same
	firstShakes = 20 // of the first, and of each that is adopted
	weekLooks   = 3 * mostLooks
)

// A verdict is what a choice of candidates costs on its trial calendar.
type verdict struct {
	money float64 // runs where the calendar puts them, set-ups, and what lies beside the runs
	late  float64 // what lateness weighs
}

func (v verdict) total() float64 { return v.money + v.late }

// A jury holds a choice of candidates, one per group, and what it costs.
type jury struct {
	m      *maker
	chosen []*candidate
	stands trialWeek // of the choice
	trials int
	most   int // trials; fewer the more stacks there are to sequence
}

// deliberate chooses among the ways still in the running by what the whole week
// costs with each, the other groups cut as chosen so far. Ways whose money alone
// is beyond what a better calendar could make up are not tried.
func (m *maker) deliberate(ctx context.Context) error {
	if m.o.Plain {
		return nil
	}
	j := &jury{m: m, trials: 1}
	layouts := 1
	for i := range m.tasks {
		j.chosen = append(j.chosen, m.preferred(i)[0])
		layouts += len(j.chosen[i].laid)
	}
	most := min(manyTrials, weekTrials+int(trialsPer*math.Max(0, m.o.Effort)))
	if m.timed() {
		most = manyTrials
	}
	if j.most = min(most, weekChores/layouts); j.most < 2 || !m.choice() {
		return nil
	}
	err := m.each(func(i int, t *task) error { return j.look(ctx, i, j.chosen[i]) })
	if err != nil {
		return err
	}
	j.stands = j.try(j.chosen, nil, firstShakes)
	j.most = min(j.most, 1+weekLooks/max(1, j.stands.work))
	for changed := true; changed && j.open(ctx); {
		if err = j.descend(ctx); err != nil {
			return err
		}
		changed = j.open(ctx) && j.pairs(ctx)
	}
	if j.trials > 1 {
		m.chosen = j.chosen
	}
	return nil
}

// open tells whether more trials may be made.
func (j *jury) open(ctx context.Context) bool { return j.trials < j.most && ctx.Err() == nil }

// descend tries the ways of one group after the other until no change helps.
func (j *jury) descend(ctx context.Context) error {
	for changed := true; changed && j.open(ctx); {
		changed = false
		for i := range j.m.tasks {
			if !j.open(ctx) {
				break
			}
			better, err := j.group(ctx, i)
			if err != nil {
				return err
			}
			changed = changed || better
		}
	}
	return nil
}

// A swap is other ways for two groups.
type swap struct {
	groups [2]int
	ways   [2]*candidate
	money  float64 // it adds, each way by itself
}

// pairs tries other ways for two groups at once, those first that cost least by
// themselves, until one helps: hours that one gives up another may need.
func (j *jury) pairs(ctx context.Context) bool {
	swaps := j.swaps()
	for len(swaps) > 0 && j.open(ctx) {
		n := min(pairsAtOnce, len(swaps), j.most-j.trials)
		trials := make([]trialWeek, n)
		chosen := make([][]*candidate, n)
		parallel(j.m.o.Workers, n, func(k int) error {
			chosen[k] = slices.Clone(j.chosen)
			for side, i := range swaps[k].groups {
				chosen[k][i] = swaps[k].ways[side]
			}
			trials[k] = j.try(chosen[k], &j.stands, likeShakes)
			return nil
		})
		j.trials += n
		swaps = swaps[n:]
		best := -1
		for k := range trials {
			if j.helps(&trials[k]) && (best < 0 || trials[k].total() < trials[best].total()) {
				best = k
			}
		}
		if best >= 0 {
			j.adopt(chosen[best], &trials[best])
			return true
		}
	}
	return false
}

// swaps lists the pairs of ways that a calendar could bring forward.
func (j *jury) swaps() []swap {
	slack := j.slack() - moneyGrain
	more := make([][]*candidate, len(j.chosen))
	for i, c := range j.chosen {
		for _, r := range j.m.found[i] {
			if r != c && r.trial != nil && r.way.Short <= c.way.Short {
				more[i] = append(more[i], r)
			}
		}
		slices.SortStableFunc(more[i], better)
		more[i] = j.unlike(i, more[i])
	}
	adds := func(i int, c *candidate) float64 { return c.way.Money - j.chosen[i].way.Money }
	var out []swap
	for i := range more {
		for k := range i {
			for _, a := range more[k] {
				for _, b := range more[i] {
					if money := adds(k, a) + adds(i, b); money < slack {
						out = append(out, swap{[2]int{k, i}, [2]*candidate{a, b}, money})
					}
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b swap) int { return cmp.Compare(a.money, b.money) })
	return out
}

// choice tells whether any group has more than one way in the running.
func (m *maker) choice() bool {
	for i := range m.found {
		if len(m.found[i]) > 1 {
			return true
		}
	}
	return false
}

// look works out the cuts of a candidate, and its stacks, if nobody has yet.
func (j *jury) look(ctx context.Context, i int, c *candidate) (err error) {
	if c.care == rough {
		if err := c.price(ctx, j.m.tasks[i], j.m.o.Remnants, routed); err != nil {
			return err
		}
	}
	if c.trial == nil {
		c.trial, err = j.m.tasks[i].stackJobsFor(c, true)
	}
	return err
}

// slack is what the choice costs beyond what no calendar can save: by so much
// at most can a way that costs more by itself be the better one.
func (j *jury) slack() float64 {
	least := 0.0
	for _, c := range j.chosen {
		least += c.way.Money
	}
	families := map[int]bool{}
	for i, f := range familiesOf(j.m.groups()) {
		if len(j.chosen[i].laid) > 0 {
			families[f] = true
		}
	}
	p := j.stands.floor.prices()
	return j.stands.total() - least - float64(len(families))*p.setup + j.hidden()*p.held
}

// hidden is how many seconds of loading, beyond their own cuts, the chosen runs
// could have hidden behind the cuts before them.
func (j *jury) hidden() float64 {
	sum := 0.0
	for _, c := range j.chosen {
		for _, job := range c.trial {
			most := 0.0
			for m, w := range job.work {
				if w.ok && j.m.job.Machines[m].Tables >= 2 {
					most = math.Max(most, w.occupied-w.time.HeadSec())
				}
			}
			sum += most
		}
	}
	return sum
}

func (m *maker) groups() []Group {
	var out []Group
	for _, t := range m.tasks {
		out = append(out, t.group)
	}
	return out
}

// group tries the other ways of a group and keeps the best; it tells whether
// that is another than before.
func (j *jury) group(ctx context.Context, i int) (changed bool, err error) {
	rivals, err := j.rivals(ctx, i)
	if err != nil || len(rivals) == 0 {
		return false, err
	}
	trials := make([]trialWeek, len(rivals))
	err = parallel(j.m.o.Workers, len(rivals), func(k int) error {
		chosen := slices.Clone(j.chosen)
		chosen[i] = rivals[k]
		trials[k] = j.try(chosen, &j.stands, likeShakes)
		return nil
	})
	j.trials += len(rivals)
	tried, verdicts := append([]*candidate{j.chosen[i]}, rivals...), []verdict{j.stands.verdict}
	best := -1
	for k := range trials {
		verdicts = append(verdicts, trials[k].verdict)
		if j.helps(&trials[k]) && (best < 0 || trials[k].total() < trials[best].total()) {
			best = k
		}
	}
	charge(tried, verdicts)
	if best < 0 || err != nil {
		return false, err
	}
	chosen := slices.Clone(j.chosen)
	chosen[i] = rivals[best]
	j.adopt(chosen, &trials[best])
	return true, nil
}

// helps tells whether a trial is better than what stands.
func (j *jury) helps(w *trialWeek) bool { return w.total() < j.stands.total()-moneyGrain }

// adopt makes a trial what stands, with more care for its calendar.
func (j *jury) adopt(chosen []*candidate, w *trialWeek) {
	j.trials++
	j.chosen, j.stands = chosen, *w
	if again := j.try(chosen, w, firstShakes); j.helps(&again) {
		j.stands = again
	}
}

// parallel runs f for 0 to n−1, some at a time, and returns the first error in
// that order.
func parallel(workers, n int, f func(k int) error) error {
	var g errgroup.Group
	g.SetLimit(workers)
	errs := make([]error, n)
	for k := range n {
		g.Go(func() error {
			errs[k] = f(k)
			return nil
		})
	}
	g.Wait()
	return errors.Join(errs...)
}

// charge notes what ways cost on their calendars, beyond the least any of them
// makes unavoidable.
func charge(tried []*candidate, verdicts []verdict) {
	late, moved := math.Inf(1), math.Inf(1)
	for k, c := range tried {
		late, moved = math.Min(late, verdicts[k].late), math.Min(moved, verdicts[k].money-c.way.Money)
	}
	for k, c := range tried {
		c.way.LateKnown = true
		c.way.Late, c.way.Moved = verdicts[k].late-late, verdicts[k].money-c.way.Money-moved
	}
}

// charged is a candidate's money with what its calendar adds.
func charged(c *candidate) float64 { return c.way.Charged() }

// rivals lists the group's ways that a calendar could bring forward.
func (j *jury) rivals(ctx context.Context, i int) ([]*candidate, error) {
	out := slices.Clone(j.m.found[i])
	drop := func() {
		below := j.chosen[i].way.Money + j.slack() - moneyGrain
		out = slices.DeleteFunc(out, func(c *candidate) bool {
			return c == j.chosen[i] || c.way.Short > j.chosen[i].way.Short || c.way.Money >= below
		})
	}
	drop()
	err := parallel(j.m.o.Workers, len(out), func(k int) error { return j.look(ctx, i, out[k]) })
	drop()
	slices.SortStableFunc(out, better)
	out = j.unlike(i, out)
	return out[:min(len(out), j.m.mostRivals(), j.most-j.trials)], err
}

// unlike leaves out ways that cut the same parts on the same sheets as a way that
// costs no more: a calendar does not tell them apart. The list is by money.
func (j *jury) unlike(i int, ways []*candidate) []*candidate {
	seen := map[string]bool{}
	was := j.chosen[i]
	return slices.DeleteFunc(ways, func(c *candidate) bool {
		key := c.cuts()
		again := seen[key] || key == was.cuts() && c.way.Money >= was.way.Money
		seen[key] = true
		return again
	})
}

// cuts tells ways apart by what lies on their sheets, wherever it lies.
func (c *candidate) cuts() string {
	var sheets []string
	for i := range c.laid {
		sheets = append(sheets, fmt.Sprint(c.laid[i].sheet, c.laid[i].repeats, c.laid[i].counts(len(c.placed))))
	}
	slices.Sort(sheets)
	return strings.Join(sheets, ";")
}

// mostRivals is how many ways of a group are tried at a time.
func (m *maker) mostRivals() int { return max(leastRivals, int(mostRivals*m.o.ease())) }

// A trialWeek is the calendar of a choice of candidates.
type trialWeek struct {
	verdict
	floor *floor
	queue queue
	work  int // orders and chores looked at
}

// try sequences a choice and prices it: its runs where the calendar puts them,
// the set-ups, and how late its orders are: the hours from the end of their due
// dates to their ends, doubled by each step of priority. Orders that are not
// complete have no end. It begins with the queue of a choice that is much the
// same, where there is one.
func (j *jury) try(chosen []*candidate, like *trialWeek, shakes int) trialWeek {
	var groups []Group
	var jobs []stackJob
	beside := 0.0
	for i, t := range j.m.tasks {
		c := chosen[i]
		g := Group{ID: t.group.ID, Material: t.group.Material, ThicknessMM: t.group.ThicknessMM, Parts: t.group.Parts}
		for k := range c.laid {
			g.Layouts = append(g.Layouts, Layout{Placements: c.laid[k].placements, Repeats: c.laid[k].repeats})
		}
		groups, jobs = append(groups, g), append(jobs, c.trial...)
		beside += c.besideRuns()
	}
	f := floorOf(j.m.job, groups, jobs)
	b := f.bench()
	rng := calendarStream(j.m.o.Seed)
	w := trialWeek{floor: f}
	p := f.prices()
	b.prices = &p
	if like == nil {
		s := sequencer{judge: newJudge(b), b: b}
		best, t := s.start()
		w.queue, w.work = s.shaken(best, t, shakes, rng), s.work
	} else {
		w.queue, w.work = resequence(b, completed(b, carried(like.floor, like.queue, f)), shakes, rng)
	}
	t := newJudge(b).weigh(w.queue)
	w.verdict = verdict{money: t.money + beside, late: t.late / 3600 * j.m.job.Rates.LatePerHour}
	return w
}

// completed puts the chores that are not in a queue where they do least harm.
func completed(b *bench, q queue) queue {
	in := make([]bool, len(b.chores))
	for _, line := range q {
		for _, c := range line {
			in[c] = true
		}
	}
	j := newJudge(b)
	for c := range b.chores {
		if !in[c] {
			q = cheapestPlace(j, q, c)
		}
	}
	return q
}

// besideRuns is the money of a way that does not depend on the machines.
func (c *candidate) besideRuns() float64 {
	money := c.way.Money
	for _, p := range c.picks {
		money -= p.money
	}
	return money
}
