package week

import (
	"math"
	"time"

	"kerfold/nest/shop"
)

// A Finish is when work is done.
type Finish struct {
	// Workday counts working days from the start of the calendar, the first
	// being 1; 0 is never.
	Workday int
	Sec     float64   // into that day
	Day     time.Time // zero where no calendar is known
	Machine int       // that ends last; index into the job's machines
}

// later is the later of two finishes.
func later(a, b Finish) Finish {
	if a.Workday > b.Workday || a.Workday == b.Workday && a.Sec >= b.Sec {
		return a
	}
	return b
}

// A bidQueue is the machines that a bid's work queues at: on the job's calendar,
// or, with a load, on that plan's and after its work.
type bidQueue struct {
	days   []time.Time
	dated  bool // the days are the job's or the load's own
	hours  []*openHours
	tape   []float64    // machine seconds taken
	family []shop.Group // what lies on the machine
}

// undated stands for the first day where no calendar is known: a Monday.
var undated = time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC)

// calendar is the job with the days the bid's work may be put on, and how much of
// each machine's hours the load has taken.
func (b *bidder) calendar() (job shop.Job, taken []float64) {
	job = *b.job
	taken = make([]float64, len(job.Machines))
	load := b.opts.Load
	if load == nil {
		return job, taken
	}
	job.Days, job.FromSec, job.DayStartSec = load.Days, load.FromSec, load.DayStartSec
	if len(job.Days) == 0 {
		return job, taken
	}
	hours := newHorizon(&job, loadWork(load)).hours()
	for m := range taken {
		taken[m] = busy(load, job.Machines[m].ID, hours[m])
	}
	return job, taken
}

// queue is what the machines have to do before the bid's work.
func (b *bidder) queue() *bidQueue {
	job, taken := b.calendar()
	q := &bidQueue{dated: len(job.Days) > 0, tape: taken}
	if !q.dated {
		job.Days = []time.Time{undated}
	}
	z := newHorizon(&job, b.mostWork())
	q.days, q.hours = z.days, z.hours()
	q.family = make([]shop.Group, len(q.hours))
	return q
}

// loadWork is what one machine could have to do of a load at most, whose days may
// be open around the clock.
func loadWork(load *Plan) float64 {
	most := 0.0
	if load != nil {
		for _, s := range load.Calendar {
			most = math.Max(most, float64(s.EndDay+1)*daySec)
		}
	}
	return most
}

// mostWork is what one machine could have to do at most, the load included.
func (b *bidder) mostWork() float64 {
	most := loadWork(b.opts.Load)
	for i := range b.bases {
		for k := range b.bases[i].jobs {
			longest := 0.0
			for _, w := range b.bases[i].jobs[k].work {
				if w.ok {
					longest = math.Max(longest, w.occupied)
				}
			}
			most += longest + b.job.Rates.SetupSec
		}
	}
	return most
}

// busy is how much of a machine's time a plan has taken.
func busy(p *Plan, id string, h *openHours) float64 {
	taken := 0.0
	if p == nil {
		return 0
	}
	for _, s := range p.Calendar {
		if p.Machines[s.Machine].ID == id {
			day := min(s.EndDay, len(h.ends)-1)
			taken = math.Max(taken, math.Min(h.tapeOf(day, s.EndSec), h.ends[day]))
		}
	}
	return taken
}

// UnknownMachines lists a plan's machines that a job does not have.
func UnknownMachines(job *shop.Job, p *Plan) []string {
	known := map[string]bool{}
	for i := range job.Machines {
		known[job.Machines[i].ID] = true
	}
	var out []string
	for _, m := range p.Machines {
		if !known[m.ID] {
			out = append(out, m.ID)
		}
	}
	return out
}

// finish queues every stack where it is done first, group by group, and notes
// when each group is.
func (b *bidder) finish(bid *Bid) {
	q := b.queue()
	for i := range bid.Groups {
		g := &bid.Groups[i]
		family := shop.Group{Material: g.Material, ThicknessMM: g.ThicknessMM}
		for k := range b.bases[i].jobs {
			g.Finish = later(q.put(&b.bases[i].jobs[k], family, b.job.Rates.SetupSec), g.Finish)
		}
		bid.Finish = later(g.Finish, bid.Finish)
	}
}

// put queues a stack on the machine that has it done first.
func (q *bidQueue) put(j *stackJob, family shop.Group, setup float64) Finish {
	best, end := -1, math.Inf(1)
	for m, w := range j.work {
		if !w.ok || q.hours[m].ends[len(q.days)-1] <= 0 {
			continue
		}
		day := 0
		if e := q.hours[m].clock(q.tape[m]+q.setup(m, family, setup)+w.occupied, &day); e < end {
			best, end = m, e
		}
	}
	if best < 0 {
		return Finish{}
	}
	q.tape[best] += q.setup(best, family, setup) + j.work[best].occupied
	q.family[best] = family
	day, sec := q.hours[best].endOf(q.tape[best])
	f := Finish{Workday: day + 1, Sec: sec, Machine: best}
	if q.dated {
		f.Day = q.days[day]
	}
	return f
}

func (q *bidQueue) setup(m int, family shop.Group, sec float64) float64 {
	if q.family[m] == family {
		return 0
	}
	return sec
}
