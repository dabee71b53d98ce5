package week

import (
	"math"
	"math/rand/v2"
	"slices"

	"kerfold/cost"
	"kerfold/nest/shop"
)

// A stackJob is one stack to be cut: one run of a layout on whichever machine
// gets it.
type stackJob struct {
	group, layout, depth int
	index                int // among the layout's stacks
	work                 []machineWork
}

// machineWork is what a stack takes on one machine; ok is false where the
// machine cannot cut it.
type machineWork struct {
	ok       bool
	time     cost.Time
	occupied float64
	ledger   cost.Ledger
	estimate cost.RunEstimate
	speed    cost.Speed
}

// workOn is what a stack of a layout takes on machine m.
func (t *task) workOn(m, sheet, depth int, w cost.Work) (machineWork, error) {
	machine := t.job.Machines[m].Filled()
	s := t.setup(m, depth)
	if !slices.Contains(t.machines, m) || !shop.TakesSheet(&machine, &t.group.Sheets[sheet]) || s.Check() != nil {
		return machineWork{}, nil
	}
	time, err := cost.LayoutTime(s, w)
	if err != nil {
		return machineWork{}, err
	}
	speed, err := cost.SpeedOf(s)
	if err != nil {
		return machineWork{}, err
	}
	estimate, err := cost.EstimateRun(s, w, t.group.Sheets[sheet].Cost)
	if err != nil {
		return machineWork{}, err
	}
	return machineWork{
		ok: true, estimate: estimate, time: time, occupied: time.OccupiedSec(machine.Tables), speed: speed,
		ledger: cost.LedgerOf(s, time, t.group.Sheets[sheet].Cost),
	}, nil
}

// stackJobs lists every stack of a finished group.
func (t *task) stackJobs(c *candidate) ([]stackJob, error) {
	var jobs []stackJob
	for l := range c.laid {
		byDepth := map[int][]machineWork{}
		for i, depth := range c.picks[l].stacks {
			work, ok := byDepth[depth]
			if !ok {
				for m := range t.job.Machines {
					mw, err := t.workOn(m, c.laid[l].sheet, depth, c.works[l])
					if err != nil {
						return nil, err
					}
					work = append(work, mw)
				}
				byDepth[depth] = work
			}
			jobs = append(jobs, stackJob{group: t.index, layout: l, depth: depth, index: i, work: work})
		}
	}
	return jobs, nil
}

// A batch is equal stacks that are cut one after the other.
type batch []stackJob

// mostBatches bounds how finely the calendar is sequenced; more stacks than
// that are sequenced several at a time.
const mostBatches = 48

// batches joins equal neighbouring stacks, so that a batch is at least the
// total over mostBatches long.
func batches(jobs []stackJob) []batch {
	total := 0.0
	for _, j := range jobs {
		total += j.least()
	}
	var out []batch
	length := 0.0
	for _, j := range jobs {
		n := len(out)
		if n > 0 && out[n-1][0].alike(j) && length < total/mostBatches {
			out[n-1], length = append(out[n-1], j), length+j.least()
			continue
		}
		out, length = append(out, batch{j}), j.least()
	}
	return out
}

func (j stackJob) alike(k stackJob) bool {
	return j.group == k.group && j.layout == k.layout && j.depth == k.depth
}

// least is the shortest time any machine needs.
func (j stackJob) least() float64 {
	least := math.Inf(1)
	for _, w := range j.work {
		if w.ok {
			least = math.Min(least, w.occupied)
		}
	}
	return least
}

// calendarShakes is how often the sequence of so many chores is shaken. A shake
// takes time that grows steeply with their number, and small weeks settle long
// before.
func calendarShakes(chores int) int {
	const most, least, full = 40, 4, 24 // up to 24 chores all 40
	return max(least, min(most, most*full*full/max(1, chores*chores)))
}

// schedule puts the batches on machines and fills in the plan's calendar.
func schedule(p *Plan, tasks []*task, jobs []stackJob, seed uint64) {
	if len(jobs) == 0 {
		return
	}
	job := tasks[0].job
	bs := batches(jobs)
	b := newBench(job.Rates.SetupSec, p, tasks, bs)
	q := sequence(b, calendarShakes(len(b.chores)), rand.New(rand.NewPCG(seed, streamCalendar)))
	q = thrift(b, q, batchMoney(bs), cost.SetupLedger(job.Rates).Money.Total())
	for m, line := range q {
		tape := 0.0
		family := -1
		for _, i := range line {
			for k, j := range bs[i] {
				setup := 0.0
				if k == 0 && b.chores[i].family != family {
					family, setup = b.chores[i].family, job.Rates.SetupSec
				}
				p.Calendar = append(p.Calendar, slotAt(p, m, j, tape, setup))
				tape += setup + j.work[m].occupied
			}
		}
	}
	slices.SortStableFunc(p.Calendar, func(a, b Slot) int {
		switch {
		case a.StartDay != b.StartDay:
			return a.StartDay - b.StartDay
		case a.StartSec != b.StartSec && a.StartSec < b.StartSec:
			return -1
		case a.StartSec != b.StartSec:
			return 1
		}
		return a.Machine - b.Machine
	})
}

// batchMoney is what each batch costs on each machine.
func batchMoney(bs []batch) [][]float64 {
	money := make([][]float64, len(bs))
	for i, b := range bs {
		for _, w := range b[0].work {
			money[i] = append(money[i], float64(len(b))*w.ledger.Money.Total())
		}
	}
	return money
}

func slotAt(p *Plan, m int, j stackJob, tape, setup float64) Slot {
	dayLen := p.Machines[m].HoursPerDay * 3600
	s := Slot{
		Machine: m, Group: j.group, Layout: j.layout, Depth: j.depth,
		SetupSec: setup, WorkSec: j.work[m].occupied,
	}
	s.StartDay, s.StartSec = startOf(dayLen, tape)
	s.EndDay, s.EndSec = dayOf(dayLen, tape+setup+s.WorkSec)
	if s.EndDay < s.StartDay { // no work at all, at the turn of a day
		s.EndDay, s.EndSec = s.StartDay, s.StartSec
	}
	for len(p.Days) <= s.EndDay && len(p.Days) < mostDays {
		p.Days = append(p.Days, nextWeekday(p.Days[len(p.Days)-1]))
	}
	s.StartDay, s.EndDay = min(s.StartDay, len(p.Days)-1), min(s.EndDay, len(p.Days)-1)
	return s
}
