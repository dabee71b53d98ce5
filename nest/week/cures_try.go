package week

import (
	"fmt"
	"slices"
	"time"

	"kerfold/cost"
)

// A trial is the week planned anew with some steps.
type trial struct {
	steps  []CureStep
	floor  *floor
	queue  queue
	slots  []Slot
	orders []OrderDate
	tally  tally
	money  float64 // of all runs, and what lies between them
	extra  float64 // premium of overtime and extra shifts
}

// trialShakes is how often a trial's sequence is shaken. It begins with the
// plan's own, which is good.
const trialShakes = 4

// tryFor plans the week anew with steps, for the sake of one order: where the
// least lateness of all leaves it late, once more with the order before all
// others.
func (h *healer) tryFor(i int, from *trial, steps []CureStep) (*trial, error) {
	t, err := h.try(from, steps, noFavour)
	if err != nil || h.saves(t, i) {
		return t, err
	}
	return h.try(from, steps, i)
}

const (
	noFavour = -1
	favour   = 1 << 12 // weight of the order a trial is made for
)

// try plans the week anew with steps, beginning with the queue of an earlier
// trial.
func (h *healer) try(from *trial, steps []CureStep, favoured int) (*trial, error) {
	key := fmt.Sprint(favoured, steps)
	if t, ok := h.memo[key]; ok {
		return t, nil
	}
	if h.tried >= mostCureTrials || h.work > mostLooks {
		return h.base, nil
	}
	h.tried++
	f, err := h.floor.with(steps)
	if err != nil {
		return nil, err
	}
	t := &trial{steps: steps, floor: f}
	b := f.bench()
	if favoured != noFavour {
		b.promises[favoured].weight *= favour
	}
	var work int
	t.queue, work = resequence(b, carried(from.floor, from.queue, f), trialShakes, calendarStream(h.seed))
	h.work += work
	t.queue, work = f.thrifty(b, t.queue, 0, h.seed)
	h.work += work
	h.finish(t, b)
	h.memo[key] = t
	return t, nil
}

// finish fills in what follows from a trial's queue.
func (h *healer) finish(t *trial, b *bench) {
	f := t.floor
	t.tally = newJudge(b).weigh(t.queue)
	t.slots = f.slots(t.queue)
	t.orders = h.plan.timetableOf(f.horizon.days, f.horizon.open, t.slots, t.steps).orderDates()
	t.money, t.extra = f.money(t.slots), premium(f.job.Rates, t.steps)
}

// premium is what overtime and extra shifts cost on top of the usual rates. The
// hours opened are paid, used or not.
func premium(r cost.Rates, steps []CureStep) float64 {
	sum := 0.0
	for _, s := range steps {
		switch s.Kind {
		case Overtime:
			sum += s.Hours * r.OvertimePerHour
		case ExtraShift:
			sum += s.Hours * r.ExtraShiftPerHour
		}
	}
	return sum
}

// money is what the runs of a calendar cost, and what lies between them.
func (f *floor) money(slots []Slot) float64 {
	work := f.works()
	sum := 0.0
	for _, s := range slots {
		w := work[slotKey(s)][s.Machine]
		sum += w.ledger.Money.Total() + betweenRuns(f.job.Rates, s, w.occupied).Money.Total()
	}
	return sum
}

// A workKey names stacks that are cut alike.
type workKey struct {
	group, layout, depth int
	piece                Piece
}

func slotKey(s Slot) workKey { return workKey{s.Group, s.Layout, s.Depth, s.Piece} }

func (f *floor) works() map[workKey][]machineWork {
	out := map[workKey][]machineWork{}
	for _, j := range f.jobs {
		out[workKey{j.group, j.layout, j.depth, j.piece}] = j.work
	}
	return out
}

// with is the floor changed by steps.
func (f *floor) with(steps []CureStep) (*floor, error) {
	c := *f
	c.horizon = f.horizon.clone()
	again := false
	for _, s := range steps {
		switch s.Kind {
		case Overtime, ExtraShift:
			c.horizon.lengthen(s.Machine, s.Day, s.Hours)
		default:
			again = true
		}
	}
	if !again {
		return &c, nil
	}
	c.jobs = nil
	for i, t := range f.tasks {
		for l := range f.chosen[i].laid {
			js, err := f.layoutJobs(i, l, steps)
			if err != nil {
				return nil, fmt.Errorf("group %s: %w", t.group.ID, err)
			}
			c.jobs = append(c.jobs, js...)
		}
	}
	c.batches = batches(c.jobs)
	return &c, nil
}

// lengthen opens a machine for more hours on a day, which may be one that is not
// worked otherwise.
func (z *horizon) lengthen(m int, day time.Time, hours float64) {
	at, found := slices.BinarySearchFunc(z.days, day, time.Time.Compare)
	if !found {
		z.days = slices.Insert(z.days, at, day)
		for k := range z.open {
			z.open[k] = slices.Insert(z.open[k], at, 0)
		}
	}
	z.open[m][at] += hours
}

// layoutJobs lists the stacks of a layout as steps have it cut.
func (f *floor) layoutJobs(group, layout int, steps []CureStep) ([]stackJob, error) {
	t, c := f.tasks[group], f.chosen[group]
	stacks := c.picks[layout].stacks
	pieces := []sheetPiece{{work: c.works[layout]}}
	for _, s := range steps {
		if s.Group != group || s.Layout != layout {
			continue
		}
		switch s.Kind {
		case OtherStack:
			stacks = stacksOf(c.laid[layout].repeats, s.Depth)
		case DivideLayout:
			pieces = t.divided(c, layout, s.Orders)
		}
	}
	var jobs []stackJob
	for _, p := range pieces {
		js, err := t.layoutJobs(c, layout, stacks, p)
		if err != nil {
			return nil, err
		}
		jobs = append(jobs, js...)
	}
	return jobs, nil
}

// stacksOf splits a layout's repeats into full stacks and a remainder.
func stacksOf(repeats, depth int) []int {
	var out []int
	for repeats > 0 {
		d := min(depth, repeats)
		out, repeats = append(out, d), repeats-d
	}
	return out
}

// carried is a queue of one floor put on another: the batches of a layout stand
// where those of the same layout stood.
func carried(was *floor, q queue, now *floor) queue {
	stand := map[[2]int][]int{} // batches of now by layout
	for i, b := range now.batches {
		k := [2]int{b[0].group, b[0].layout}
		stand[k] = append(stand[k], i)
	}
	left := map[[2]int]int{} // batches of was still to come
	for _, b := range was.batches {
		left[[2]int{b[0].group, b[0].layout}]++
	}
	out := make(queue, len(q))
	for m, line := range q {
		for _, i := range line {
			b := was.batches[i][0]
			k := [2]int{b.group, b.layout}
			left[k]--
			n := 1
			if left[k] == 0 {
				n = len(stand[k])
			}
			for _, c := range stand[k][:min(n, len(stand[k]))] {
				to := now.placeOn(c, m)
				out[to] = append(out[to], c)
			}
			stand[k] = stand[k][min(n, len(stand[k])):]
		}
	}
	return out
}

// placeOn is machine m where it can do the batch, else the first that can.
func (f *floor) placeOn(batch, m int) int {
	work := f.batches[batch][0].work
	if work[m].ok {
		return m
	}
	return max(0, slices.IndexFunc(work, func(w machineWork) bool { return w.ok }))
}
