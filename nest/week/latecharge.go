package week

import (
	"cmp"
	"context"
	"math"
	"slices"

	"kerfold/nest/shop"
)

// A way that saves a little money and makes orders late is no saving: lateness
// has a price (cost.Rates.LatePerHour). Where orders would be late a bid makes the
// choice between a group's ways again with it, on trial calendars. A plan does so
// too, and has the calendars say what runs cost on them (jury.go); a bid prices
// every run on the machine where it costs least, and looks at lateness alone.

// mostTrials bounds the trial calendars, trialChores the stacks they sequence in
// all, trialShare how many times less each is shaken than the plan's.
const (
	mostTrials  = 80
	trialChores = 8000
	trialShare  = 10
)

// A lateJury holds a choice of candidates, one per group, and what its trial
// calendar costs in lateness.
type lateJury struct {
	m      *maker
	job    *shop.Job // whose calendar it is
	taken  []float64 // seconds of each machine that other work has taken first
	chosen []*candidate
	jobs   map[*candidate][]stackJob
	now    lateVerdict // of what is chosen
	trials int
	most   int // trials; fewer the more stacks there are to sequence
	share  int // how many times less a trial is shaken than a plan's calendar
	// ready, where not nil, works the rivals of the first of some groups out before
	// they are heard, with so much lateness to save; the others come after it.
	ready func(ctx context.Context, next []int, late float64) error
}

// jury begins with the best way of every group.
func (m *maker) jury() *lateJury {
	j := &lateJury{m: m, job: m.job, jobs: map[*candidate][]stackJob{}, share: trialShare}
	layouts := 1
	for i := range m.tasks {
		j.chosen = append(j.chosen, m.found[i][0])
		layouts += len(m.found[i][0].laid)
	}
	j.most = min(mostTrials, trialChores/layouts)
	return j
}

// open routes what is chosen and weighs its lateness.
func (j *lateJury) open(ctx context.Context) (err error) {
	err = j.m.each(func(i int, t *task) error {
		if c := j.chosen[i]; c.care == rough {
			return c.price(ctx, t, j.m.o.Remnants, routed)
		}
		return nil
	})
	if err != nil {
		return err
	}
	j.now, err = j.lateness(j.chosen)
	return err
}

// hear goes round the groups, those with most lateness first, until no way of any
// is better than the chosen one, the others cut as they are. A group comes up again
// after another was changed: what it pays for being in time may no longer be needed.
func (j *lateJury) hear(ctx context.Context) error {
	round := j.latestFirst()
	quiet, n := 0, len(round)
	for at := 0; quiet < n && j.trials < j.most && ctx.Err() == nil; at = (at + 1) % n {
		i := round[at]
		if j.ready != nil {
			if err := j.ready(ctx, round[at:], j.now.money); err != nil {
				return err
			}
		}
		changed, err := j.group(i)
		if err != nil {
			return err
		}
		if quiet++; changed {
			quiet = 1
		}
	}
	return nil
}

// latestFirst lists the groups by what their lateness weighs, most first.
func (j *lateJury) latestFirst() []int {
	round := make([]int, len(j.m.tasks))
	for i := range round {
		round[i] = i
	}
	slices.SortStableFunc(round, func(a, b int) int { return -cmp.Compare(j.now.groups[a], j.now.groups[b]) })
	return round
}

// group tries the other ways of a group and keeps the best; it tells whether
// that is another than before.
func (j *lateJury) group(i int) (changed bool, err error) {
	rivals := j.rivals(i)
	if len(rivals) == 0 {
		return false, nil
	}
	was := j.chosen[i]
	least := j.now.money
	was.way.Late, was.way.LateKnown = j.now.money, true
	for _, c := range rivals {
		trial := append([]*candidate(nil), j.chosen...)
		trial[i] = c
		v, err := j.lateness(trial)
		if err != nil {
			return false, err
		}
		c.way.Late, c.way.LateKnown = v.money, true
		least = math.Min(least, c.way.Late)
		if charged(c) < charged(j.chosen[i])-moneyGrain {
			j.chosen, j.now, changed = trial, v, true
		}
	}
	for _, c := range append(rivals, was) {
		c.way.Late -= least
	}
	return changed, nil
}

// rivals lists the group's ways that lateness could bring forward.
func (j *lateJury) rivals(i int) []*candidate {
	var out []*candidate
	for _, c := range j.m.found[i] {
		if c == j.chosen[i] || c.care == rough || c.way.Short > j.chosen[i].way.Short || j.trials+len(out) >= j.most {
			continue
		}
		if c.way.Money < j.chosen[i].way.Money+j.now.money {
			out = append(out, c)
		}
	}
	return out
}

// A lateVerdict is what a trial calendar says of lateness.
type lateVerdict struct {
	money  float64
	orders []string  // that are late
	groups []float64 // money by group
}

// lateness schedules a choice and prices how late its orders are: the hours from
// the end of their due dates to their ends, doubled by each step of priority.
// Orders that are not complete have no end.
func (j *lateJury) lateness(chosen []*candidate) (lateVerdict, error) {
	j.trials++
	var groups []Group
	var jobs []stackJob
	for i, t := range j.m.tasks {
		c := chosen[i]
		g := Group{ID: t.group.ID, Material: t.group.Material, ThicknessMM: t.group.ThicknessMM, Parts: t.group.Parts}
		for k := range c.laid {
			g.Layouts = append(g.Layouts, Layout{Placements: c.laid[k].placements, Repeats: c.laid[k].repeats})
		}
		groups = append(groups, g)
		if _, known := j.jobs[c]; !known {
			js, err := t.stackJobs(c)
			if err != nil {
				return lateVerdict{}, err
			}
			j.jobs[c] = js
		}
		jobs = append(jobs, j.jobs[c]...)
	}
	f := floorAfter(j.job, groups, jobs, j.taken)
	b := f.bench()
	q := sequence(b, calendarShakes(len(b.chores))/j.share, calendarStream(j.m.o.Seed))
	w := newJudge(b)
	per := j.job.Rates.LatePerHour / 3600
	v := lateVerdict{money: w.weigh(q).late * per, groups: make([]float64, len(groups))}
	for i, p := range b.promises {
		if over := w.kept.finish[i] - p.due; over > 0 {
			gi, id := f.order(i)
			v.orders, v.groups[gi] = append(v.orders, id), v.groups[gi]+p.weight*over*per
		}
	}
	return v, nil
}
