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

// A bench that a bid's work queues at: how much each machine has to do.
type bidQueue struct {
	tape   []float64 // machine seconds taken
	dayLen []float64
	family []shop.Group // what lies on the machine
	days   []time.Time
	next   func(time.Time) time.Time // day that is worked
}

// queue is what the machines have to do before the bid's work.
func (b *bidder) queue() *bidQueue {
	q := &bidQueue{days: b.job.Days, next: b.job.NextDay}
	if b.opts.Load != nil {
		q.days = b.opts.Load.Days
	}
	for i := range b.job.Machines {
		m := b.job.Machines[i].Filled()
		q.dayLen = append(q.dayLen, m.HoursPerDay*3600)
		q.tape = append(q.tape, busy(b.opts.Load, m.ID, m.HoursPerDay*3600))
		q.family = append(q.family, shop.Group{})
	}
	return q
}

// busy is how much of its time a machine is taken up by a plan.
func busy(p *Plan, id string, dayLen float64) float64 {
	taken := 0.0
	if p == nil {
		return 0
	}
	for _, s := range p.Calendar {
		if p.Machines[s.Machine].ID == id {
			taken = math.Max(taken, float64(s.EndDay)*dayLen+math.Min(s.EndSec, dayLen))
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
		if !w.ok || q.dayLen[m] <= 0 {
			continue
		}
		if e := q.tape[m] + q.setup(m, family, setup) + w.occupied; q.clock(m, e) < end {
			best, end = m, q.clock(m, e)
		}
	}
	if best < 0 {
		return Finish{}
	}
	q.tape[best] += q.setup(best, family, setup) + j.work[best].occupied
	q.family[best] = family
	day := math.Max(1, math.Ceil(q.tape[best]/q.dayLen[best]))
	return Finish{Workday: int(day), Sec: q.tape[best] - (day-1)*q.dayLen[best], Day: q.date(int(day)), Machine: best}
}

func (q *bidQueue) setup(m int, family shop.Group, sec float64) float64 {
	if q.family[m] == family {
		return 0
	}
	return sec
}

// clock makes ends on machines with days of different lengths comparable.
func (q *bidQueue) clock(m int, taken float64) float64 {
	day := math.Max(1, math.Ceil(taken/q.dayLen[m]))
	return day*86400 + taken - (day-1)*q.dayLen[m]
}

// date is the day of the calendar, which goes on with the days the job works.
func (q *bidQueue) date(workday int) time.Time {
	if len(q.days) == 0 || workday > mostDays {
		return time.Time{}
	}
	if workday <= len(q.days) {
		return q.days[workday-1]
	}
	d := q.days[len(q.days)-1]
	for range workday - len(q.days) {
		d = q.next(d)
	}
	return d
}
