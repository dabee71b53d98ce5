package week

import (
	"context"
	"math"
)

// A way that saves a little money and makes orders late is no saving: lateness
// has a price (cost.Rates.LatePerHour), and where orders would be late the
// choice between a group's ways is made again with it, on trial calendars.

// mostTrials bounds the trial calendars of a plan, trialChores the stacks they
// sequence in all, trialShare how many times less each is shaken than the plan's.
const (
	mostTrials  = 80
	trialChores = 8000
	trialShare  = 10
)

// A lateJury holds a choice of candidates, one per group, and what its trial
// calendar costs in lateness.
type lateJury struct {
	m      *maker
	chosen []*candidate
	jobs   map[*candidate][]stackJob
	late   float64
	trials int
	most   int // trials; fewer the more stacks there are to sequence
}

// chargeLateness charges every way that is still in the running with the
// lateness its trial calendar shows, the other groups cut as chosen so far.
// Ways whose money alone is beyond what lateness could make up are not tried.
func (m *maker) chargeLateness(ctx context.Context) error {
	if m.job.Rates.LatePerHour <= 0 || m.o.Plain {
		return nil
	}
	j := &lateJury{m: m, jobs: map[*candidate][]stackJob{}}
	layouts := 1
	for i := range m.tasks {
		j.chosen = append(j.chosen, m.found[i][0])
		layouts += len(m.found[i][0].laid)
	}
	if j.most = min(mostTrials, trialChores/layouts); j.most < 2 || !m.choice() {
		return nil
	}
	err := m.each(func(i int, t *task) error {
		if c := j.chosen[i]; c.care == rough {
			return c.price(ctx, t, m.o.Remnants, routed)
		}
		return nil
	})
	if err != nil {
		return err
	}
	if j.late, err = j.lateness(j.chosen); err != nil {
		return err
	}
	for changed := true; changed && j.late > 0 && j.trials < j.most && ctx.Err() == nil; {
		changed = false
		for i := range m.tasks {
			better, err := j.group(i)
			if err != nil {
				return err
			}
			changed = changed || better
		}
	}
	return nil
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

// group tries the other ways of a group and keeps the best; it tells whether
// that is another than before.
func (j *lateJury) group(i int) (changed bool, err error) {
	rivals := j.rivals(i)
	if len(rivals) == 0 {
		return false, nil
	}
	was := j.chosen[i]
	least := j.late
	was.way.Late, was.way.LateKnown = j.late, true
	for _, c := range rivals {
		trial := append([]*candidate(nil), j.chosen...)
		trial[i] = c
		if c.way.Late, err = j.lateness(trial); err != nil {
			return false, err
		}
		c.way.LateKnown = true
		least = math.Min(least, c.way.Late)
		if charged(c) < charged(j.chosen[i])-moneyGrain {
			j.chosen, j.late, changed = trial, c.way.Late, true
		}
	}
	for _, c := range append(rivals, was) {
		c.way.Late -= least
	}
	return changed, nil
}

// charged is a candidate's money with its lateness.
func charged(c *candidate) float64 { return c.way.Money + c.way.Late }

// rivals lists the group's ways that lateness could bring forward.
func (j *lateJury) rivals(i int) []*candidate {
	var out []*candidate
	for _, c := range j.m.found[i] {
		if c == j.chosen[i] || c.care == rough || c.way.Short > j.chosen[i].way.Short || j.trials+len(out) >= j.most {
			continue
		}
		if c.way.Money < j.chosen[i].way.Money+j.late {
			out = append(out, c)
		}
	}
	return out
}

// lateness schedules a choice and prices how late its orders are: the hours from
// the end of their due dates to their ends, doubled by each step of priority.
// Orders that are not complete have no end.
func (j *lateJury) lateness(chosen []*candidate) (float64, error) {
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
				return 0, err
			}
			j.jobs[c] = js
		}
		jobs = append(jobs, j.jobs[c]...)
	}
	b := floorOf(j.m.job, groups, jobs).bench()
	q := sequence(b, calendarShakes(len(b.chores))/trialShare, calendarStream(j.m.o.Seed))
	return newJudge(b).weigh(q).late / 3600 * j.m.job.Rates.LatePerHour, nil
}
