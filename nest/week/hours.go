package week

import (
	"math"
	"slices"
	"sort"
	"time"

	"kerfold/nest/shop"
)

// Work on a machine is counted on a tape: seconds of open hours, one day's after
// the other. openHours turns the tape into days and into the clock on the wall.

// openHours is when one machine is open.
type openHours struct {
	ends  []float64 // the tape at the end of each day
	opens []float64 // the clock when each day begins: seconds after the first midnight
	from  float64   // how far into the first day the tape begins
	taken float64   // of the tape, by work that nobody may move
}

// newOpenHours takes the hours of each day. The clock knows no day that runs
// past midnight: a machine open for longer than is left of the day after
// dayStart opens earlier.
func newOpenHours(days []time.Time, hours []float64, dayStart, from float64) *openHours {
	h := &openHours{ends: make([]float64, len(days)), opens: make([]float64, len(days)), from: from}
	tape := 0.0
	for i, d := range days {
		open := hours[i] * 3600
		h.opens[i] = d.Sub(days[0]).Seconds() + math.Max(0, math.Min(dayStart, daySec-open))
		if i == 0 {
			open = math.Max(0, open-from)
		}
		tape += open
		h.ends[i] = tape
	}
	return h
}

// daySec is the length of a day.
const daySec = 86400

// endOf says on which day, and when in it, so much of the tape is done. Work
// that fills a day ends on that day, not at the start of the next.
func (h *openHours) endOf(tape float64) (day int, sec float64) {
	return h.within(sort.Search(len(h.ends)-1, func(i int) bool { return h.ends[i] >= tape && h.ends[i] > 0 }), tape)
}

// startOf is endOf for the start of work: what would start at the very end of a
// day starts on the next one that is open.
func (h *openHours) startOf(tape float64) (day int, sec float64) {
	return h.within(sort.Search(len(h.ends)-1, func(i int) bool { return h.ends[i] > tape }), tape)
}

// within measures the tape from the start of a day.
func (h *openHours) within(day int, tape float64) (int, float64) {
	if day == 0 {
		return 0, tape + h.from
	}
	return day, tape - h.ends[day-1]
}

// tapeOf is the inverse of within: how much of the tape is done so far into a
// day.
func (h *openHours) tapeOf(day int, sec float64) float64 {
	if day == 0 {
		return sec - h.from
	}
	return h.ends[day-1] + sec
}

// clock is the time on the wall when so much of the tape is done. day is where
// to begin looking; as long as the tape grows it may be handed on.
func (h *openHours) clock(tape float64, day *int) float64 {
	for *day < len(h.ends)-1 && (h.ends[*day] < tape || h.ends[*day] == 0) {
		*day++
	}
	d, sec := h.within(*day, tape)
	return h.opens[d] + sec
}

// tapeAt is how much of the tape is done by a time on the clock.
func (h *openHours) tapeAt(clock float64) float64 {
	day := sort.Search(len(h.opens), func(i int) bool { return h.opens[i] > clock }) - 1
	if day < 0 {
		return 0
	}
	before, offset := 0.0, h.from
	if day > 0 {
		before, offset = h.ends[day-1], 0
	}
	return before + math.Max(0, math.Min(clock-h.opens[day]-offset, h.ends[day]-before))
}

// A horizon is the days that work may be put on, and when each machine is open.
type horizon struct {
	days     []time.Time
	open     [][]float64 // hours by machine and day
	dayStart float64
	from     float64
	taken    []float64 // of each machine's hours, by other work; nil is none
}

// newHorizon is the job's days and as many after them as so many seconds of work
// take on any one machine.
func newHorizon(job *shop.Job, need float64) *horizon {
	z := &horizon{days: slices.Clone(job.Days), dayStart: job.DayStartSec, from: job.FromSec, open: make([][]float64, len(job.Machines))}
	left := make([]float64, len(job.Machines))
	for m := range left {
		left[m] = need
	}
	for i := 0; ; i++ {
		if i == len(z.days) {
			z.days = append(z.days, job.NextDay(z.days[i-1]))
		}
		for m := range z.open {
			h := job.HoursOn(m, z.days[i])
			z.open[m] = append(z.open[m], h)
			left[m] -= h * 3600
		}
		if i+1 >= len(job.Days) && slices.Max(left) <= 0 || i+1 >= mostDays {
			return z
		}
	}
}

// mostDays bounds the calendar: a plan that runs on for years is no plan.
const mostDays = 2000

// hours is when each machine is open.
func (z *horizon) hours() []*openHours {
	out := make([]*openHours, len(z.open))
	for m := range out {
		out[m] = newOpenHours(z.days, z.open[m], z.dayStart, z.from)
		if z.taken != nil {
			out[m].taken = z.taken[m]
		}
	}
	return out
}

// clone copies a horizon, so that its hours can be changed.
func (z *horizon) clone() *horizon {
	c := *z
	c.days, c.open = slices.Clone(z.days), make([][]float64, len(z.open))
	for m := range z.open {
		c.open[m] = slices.Clone(z.open[m])
	}
	return &c
}

// dueClock is when an order is due on the clock that starts at first's midnight:
// the end of the day, or the time of day it names.
func dueClock(first time.Time, o *shop.Order) float64 {
	switch {
	case o.Due.IsZero():
		return math.Inf(1)
	case o.DueSec > 0:
		return o.Due.Sub(first).Seconds() + o.DueSec
	}
	return o.Due.Sub(first).Seconds() + daySec
}
