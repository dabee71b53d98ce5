package week

import (
	"cmp"
	"fmt"
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
	piece                Piece
	counts               []int // copies of each part a sheet of it yields; nil is the whole layout's
}

// holds counts the copies of each of the group's parts that a sheet yields.
func (j stackJob) holds(groups []Group) []int {
	if j.counts != nil {
		return j.counts
	}
	return countParts(&groups[j.group], j.layout)
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
func (t *task) workOn(m, sheet, depth int, piece sheetPiece) (machineWork, error) {
	w, price := piece.work, t.group.Sheets[sheet].Cost
	if piece.again {
		price = 0
	}
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
	var estimate cost.RunEstimate
	if !piece.trial {
		if estimate, err = cost.EstimateRun(s, w, price); err != nil {
			return machineWork{}, err
		}
	}
	return machineWork{
		ok: true, estimate: estimate, time: time, occupied: time.OccupiedSec(machine.Tables), speed: speed,
		ledger: cost.LedgerOf(s, time, price),
	}, nil
}

// A sheetPiece is what is cut of a layout in one go.
type sheetPiece struct {
	piece  Piece
	work   cost.Work
	counts []int
	again  bool // the sheets have been on the table before
	trial  bool // nobody asks how sure its figures are
}

// layoutJobs lists the stacks of one layout, cut so many sheets at a time.
func (t *task) layoutJobs(c *candidate, l int, stacks []int, s sheetPiece) ([]stackJob, error) {
	var jobs []stackJob
	byDepth := map[int][]machineWork{}
	for i, d := range stacks {
		work, ok := byDepth[d]
		if !ok {
			for m := range t.job.Machines {
				mw, err := t.workOn(m, c.laid[l].sheet, d, s)
				if err != nil {
					return nil, err
				}
				work = append(work, mw)
			}
			byDepth[d] = work
		}
		jobs = append(jobs, stackJob{group: t.index, layout: l, depth: d, index: i, work: work, piece: s.piece, counts: s.counts})
	}
	return jobs, nil
}

func (j stackJob) alike(k stackJob) bool {
	return j.group == k.group && j.layout == k.layout && j.depth == k.depth && j.piece == k.piece
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
	const most, least, full = 150, 20, 24 // up to 24 chores all 150
	return max(least, min(most, most*full*full/max(1, chores*chores)))
}

// newFloor readies the stacks of finished groups for sequencing, so that they
// can be cut otherwise too.
func newFloor(job *shop.Job, tasks []*task, chosen []*candidate) (*floor, error) {
	var groups []Group
	var jobs []stackJob
	for i, t := range tasks {
		js, err := t.stackJobs(chosen[i])
		if err != nil {
			return nil, fmt.Errorf("group %s: %w", t.group.ID, err)
		}
		groups, jobs = append(groups, t.group), append(jobs, js...)
	}
	f := floorOf(job, groups, jobs)
	f.tasks, f.chosen = tasks, chosen
	return f, nil
}

// floorOf readies stacks for sequencing.
func floorOf(job *shop.Job, groups []Group, jobs []stackJob) *floor {
	return floorAfter(job, groups, jobs, nil)
}

// floorAfter is floorOf with so many seconds of each machine's hours taken by
// other work first; nil is none.
func floorAfter(job *shop.Job, groups []Group, jobs []stackJob, taken []float64) *floor {
	f := &floor{job: job, groups: groups, families: familiesOf(groups), jobs: jobs, batches: batches(jobs)}
	most := 0.0
	for _, sec := range taken {
		most = math.Max(most, sec)
	}
	f.horizon = newHorizon(job, f.mostWork()+most)
	f.horizon.taken = taken
	return f
}

// stackJobs lists every stack of a finished group.
func (t *task) stackJobs(c *candidate) ([]stackJob, error) { return t.stackJobsFor(c, false) }

// stackJobsFor is stackJobs, perhaps for a trial calendar only.
func (t *task) stackJobsFor(c *candidate, trial bool) ([]stackJob, error) {
	var jobs []stackJob
	for l := range c.laid {
		js, err := t.layoutJobs(c, l, c.picks[l].stacks, sheetPiece{work: c.works[l], trial: trial})
		if err != nil {
			return nil, err
		}
		jobs = append(jobs, js...)
	}
	return jobs, nil
}

// calendarStream is the random stream of sequences.
func calendarStream(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, streamCalendar)) }

// mostWork is at least what any one machine could be given to do, seconds.
func (f *floor) mostWork() float64 {
	sum := 0.0
	for _, b := range f.batches {
		most := 0.0
		for _, w := range b[0].work {
			if w.ok {
				most = math.Max(most, w.time.TotalSec())
			}
		}
		sum += float64(len(b))*most + f.job.Rates.SetupSec
	}
	return sum
}

// schedule puts the stacks on machines and fills in the plan's calendar.
func (f *floor) schedule(p *Plan, seed uint64, prior *Plan) queue {
	b := f.bench()
	q := sequence(b, calendarShakes(len(b.chores)), calendarStream(seed))
	q, _ = f.thrifty(b, q, calendarShakes(len(b.chores))/thriftShare, seed)
	if prior != nil {
		q = f.likeBefore(b, q, prior)
	}
	f.enter(p, q)
	return q
}

// thriftShare is how many times less a queue is shaken for money than for dates.
const thriftShare = 2

// thrifty saves money on a queue without making anything later, and returns the
// work done.
func (f *floor) thrifty(b *bench, q queue, shakes int, seed uint64) (queue, int) {
	return thrift(b, q, f.prices(), shakes, calendarStream(seed))
}

// prices has the seconds that runs hold a machine apart from what else they cost:
// how much of the loading a cut hides depends on what is cut before.
func (f *floor) prices() prices {
	second := betweenRuns(f.job.Rates, Slot{WorkSec: 1}, 0).Money.Total()
	return prices{batchMoney(f.batches, second), cost.SetupLedger(f.job.Rates).Money.Total(), second}
}

// enter writes a queue into the plan's calendar, with as many days as it takes.
func (f *floor) enter(p *Plan, q queue) {
	p.Calendar = f.slots(q)
	used := len(f.job.Days)
	for _, s := range p.Calendar {
		used = max(used, s.EndDay+1)
	}
	p.Days = f.horizon.days[:used:used]
	for m := range p.Machines {
		p.Machines[m].Hours = f.horizon.open[m][:used:used]
	}
}

// slots lists the stacks of a queue in order of their starts.
func (f *floor) slots(q queue) []Slot {
	var out []Slot
	hours := f.horizon.hours()
	for m, line := range q {
		tape, cut, family := hours[m].taken, 0.0, -1
		for _, i := range line {
			for k, j := range f.batches[i] {
				s := j.slot(m)
				if g := f.families[j.group]; k == 0 && g != family {
					family, s.SetupSec = g, f.job.Rates.SetupSec
				}
				w := j.work[m]
				s.LoadSec, cut = stackTimes(w.time.HandleSec, w.time.HeadSec(), f.job.Machines[m].Tables, cut)
				s.WorkSec = s.LoadSec + cut
				s.StartDay, s.StartSec = hours[m].startOf(tape)
				tape += s.SetupSec + s.WorkSec
				s.EndDay, s.EndSec = hours[m].endOf(tape)
				if s.EndDay < s.StartDay { // no work at all, at the turn of a day
					s.EndDay, s.EndSec = s.StartDay, s.StartSec
				}
				out = append(out, s)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Slot) int {
		return cmp.Or(cmp.Compare(a.StartDay, b.StartDay), cmp.Compare(a.StartSec, b.StartSec), cmp.Compare(a.Machine, b.Machine))
	})
	return out
}

func (j stackJob) slot(m int) Slot {
	return Slot{Machine: m, Group: j.group, Layout: j.layout, Depth: j.depth, Piece: j.piece}
}

// batchMoney is what each batch costs on each machine, less so much for every
// second that its runs say they hold it.
func batchMoney(bs []batch, second float64) [][]float64 {
	money := make([][]float64, len(bs))
	for i, b := range bs {
		for _, w := range b[0].work {
			money[i] = append(money[i], float64(len(b))*(w.ledger.Money.Total()-second*w.occupied))
		}
	}
	return money
}
