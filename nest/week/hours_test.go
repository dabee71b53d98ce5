package week

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"kerfold/nest/shop"
)

var aMonday = time.Date(2031, 3, 3, 0, 0, 0, 0, time.UTC)

func weekOf(hours ...float64) *openHours {
	var days []time.Time
	for i := range hours {
		days = append(days, aMonday.AddDate(0, 0, i))
	}
	return newOpenHours(days, hours, 7*3600, 0)
}

func TestTapeToDays(t *testing.T) {
	const day = 8 * 3600.0
	h := weekOf(8, 8, 0, 4, 8)
	for _, c := range []struct {
		tape             float64
		startDay, endDay int
		start, end       float64
	}{
		{0, 0, 0, 0, 0},
		{100, 0, 0, 100, 100},
		{day, 1, 0, 0, day}, // a full day ends today, and the next work starts tomorrow
		{day + 1, 1, 1, 1, 1},
		{2 * day, 3, 1, 0, day}, // Wednesday is closed
		{2.5 * day, 4, 3, 0, day / 2},
		{4 * day, 4, 4, 1.5 * day, 1.5 * day}, // more than there is
	} {
		sd, s := h.startOf(c.tape)
		ed, e := h.endOf(c.tape)
		if sd != c.startDay || s != c.start || ed != c.endDay || e != c.end {
			t.Errorf("%v s: starts %d %v, ends %d %v", c.tape, sd, s, ed, e)
		}
	}
}

// The clock is that of a watch: counted second by second.
func TestClockAgainstCounting(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for range 40 {
		h := shortDays(rng)
		tape, day := 0.0, 0
		for i := range h.ends {
			before := 0.0
			if i > 0 {
				before = h.ends[i-1]
			}
			for s := 1.0; s <= math.Min(h.ends[i]-before, 200); s++ {
				tape++
				want := float64(i)*daySec + 7*3600 + s
				if got := h.clock(tape, &day); got != want {
					t.Fatalf("tape %v: clock %v, want %v", tape, got, want)
				}
				if back := h.tapeAt(want); back != tape {
					t.Fatalf("clock %v: tape %v, want %v", want, back, tape)
				}
			}
		}
	}
}

func TestLongDaysEndAtMidnight(t *testing.T) {
	day := 0
	if got := weekOf(24, 24).clock(24*3600, &day); got != daySec {
		t.Errorf("a day of 24 hours ends at %v, want midnight", got)
	}
}

func TestCalendarBeginsLater(t *testing.T) {
	days := []time.Time{aMonday, aMonday.AddDate(0, 0, 1)}
	h := newOpenHours(days, []float64{8, 8}, 7*3600, 3*3600)
	day := 0
	if got := h.clock(3600, &day); got != 11*3600 {
		t.Errorf("one hour of work from the fourth hour on is done at %v, want 11:00", got)
	}
	if d, s := h.startOf(5 * 3600); d != 1 || s != 0 {
		t.Errorf("after five hours it is day %d, %v; want the next morning", d, s)
	}
}

func TestDueClock(t *testing.T) {
	for _, c := range []struct {
		due  time.Time
		sec  float64
		want float64
	}{
		{aMonday, 0, daySec},
		{aMonday.AddDate(0, 0, 6), 0, 7 * daySec},
		{aMonday.AddDate(0, 0, 1), 14 * 3600, daySec + 14*3600},
		{aMonday.AddDate(0, 0, -3), 0, -2 * daySec}, // overdue from the start
		{time.Time{}, 0, math.Inf(1)},
	} {
		if got := dueClock(aMonday, &shop.Order{Due: c.due, DueSec: c.sec}); got != c.want {
			t.Errorf("due %v: %v, want %v", c.due, got, c.want)
		}
	}
}

// After the job's days the calendar goes on with the weekdays and closed days
// the job names.
func TestHorizonKeepsTheJobsDays(t *testing.T) {
	job := testJob(t, weekText)
	job.Weekdays = append(append([]time.Weekday{}, job.Weekdays...), time.Saturday)
	last := job.Days[len(job.Days)-1]
	next := job.NextDay(last)
	job.Closed = []time.Time{next}
	job.PartDays = []shop.PartDay{{Machine: job.Machines[0].ID, Date: job.Days[1], Hours: 2.5}}
	z := newHorizon(job, 400*3600)
	for _, d := range z.days {
		if d.Equal(next) || d.Weekday() == time.Sunday {
			t.Errorf("%v is worked", d)
		}
	}
	if z.open[0][1] != 2.5 || z.open[0][2] != job.Machines[0].HoursPerDay {
		t.Errorf("hours %v", z.open[0][:3])
	}
	if h := z.hours(); h[0].ends[len(h[0].ends)-1] < 400*3600 {
		t.Error("the days do not hold the work")
	}
}
