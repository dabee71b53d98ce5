package week

import (
	"math"
	"time"
)

// dayOf says on which working day, and when in it, so much work is done. Work
// that fills a day ends on that day, not at the start of the next.
func dayOf(dayLen, worked float64) (day int, sec float64) {
	if dayLen <= 0 {
		return 0, worked
	}
	day = int(math.Ceil(worked/dayLen)) - 1
	if day < 0 {
		return 0, worked
	}
	return day, worked - float64(day)*dayLen
}

// startOf is dayOf for the start of work: what would start at the very end of a
// day starts on the next.
func startOf(dayLen, worked float64) (day int, sec float64) {
	if dayLen <= 0 {
		return 0, worked
	}
	day = int(math.Floor(worked / dayLen))
	return day, worked - float64(day)*dayLen
}

// dueClock is the end of the due date on the bench's clock: as many days as
// there are working days up to it.
func dueClock(days []time.Time, due time.Time) float64 {
	if due.IsZero() {
		return math.Inf(1)
	}
	n := 0
	for n < len(days) && !days[n].After(due) {
		n++
	}
	if n == len(days) && n > 0 {
		n += weekdaysBetween(days[n-1], due)
	}
	return float64(n)*86400 - 1
}

// weekdaysBetween counts the weekdays after a up to and with b.
func weekdaysBetween(a, b time.Time) int {
	n := 0
	for d := nextWeekday(a); !d.After(b) && n < mostDays; d = nextWeekday(d) {
		n++
	}
	return n
}

// mostDays bounds the calendar: a plan that runs on for years is no plan.
const mostDays = 2000

func nextWeekday(d time.Time) time.Time {
	d = d.AddDate(0, 0, 1)
	for d.Weekday() == time.Saturday || d.Weekday() == time.Sunday {
		d = d.AddDate(0, 0, 1)
	}
	return d
}
