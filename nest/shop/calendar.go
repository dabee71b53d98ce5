package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// maxDays bounds a plan to about two years of working days.
const maxDays = 520

// usualWeekdays are worked where the job names none.
var usualWeekdays = []time.Weekday{time.Monday, time.Tuesday, time.Wednesday, time.Thursday, time.Friday}

// calendar reads the working days: start and a number of days, or the days
// themselves.
func (l *loader) calendar(f *fields) {
	start, hasStart := f.date("start")
	weekdays := f.weekdays("weekdays")
	closed := f.dateList("closed")
	l.job.Weekdays, l.job.Closed, l.job.DayStartSec = weekdays, closed, f.dayStart()
	got := f.get("days")
	switch {
	case got != nil && got.val.kind == list:
		l.job.Days = f.listedDays(got, start, hasStart)
	case hasStart:
		l.job.Days = f.countedDays(start, f.dayCount(got), weekdays, closed)
	default:
		f.missing("give the first working day, such as start: 2026-11-30", "start")
	}
	if len(l.job.Days) > 0 {
		l.job.Start = l.job.Days[0]
	}
}

func (f *fields) dayCount(got *field) int {
	if got == nil {
		return 5
	}
	n, err := strconv.Atoi(got.val.text)
	if err != nil || n < 1 || n > maxDays {
		f.fault(got.val.at, fmt.Sprintf("days is %s", quoteText(got.val.text)),
			fmt.Sprintf("write how many working days, from 1 to %d, or list their dates", maxDays))
		return 1
	}
	return n
}

func (f *fields) weekdays(key string) []time.Weekday {
	var days []time.Weekday
	for _, item := range f.items(key) {
		day, ok := parseWeekday(item.text)
		if !ok {
			f.fault(item.at, fmt.Sprintf("%s holds %s", key, quoteText(item.text)), "use mon, tue, wed, thu, fri, sat or sun")
			continue
		}
		days = append(days, day)
	}
	if len(days) == 0 {
		return slices.Clone(usualWeekdays)
	}
	return days
}

func (f *fields) dateList(key string) []time.Time {
	var days []time.Time
	for _, item := range f.items(key) {
		if t, ok := f.dateOf(key, item); ok {
			days = append(days, t)
		}
	}
	return days
}

func (f *fields) dateOf(key string, v *value) (time.Time, bool) {
	t, mend := parseDate(v.text, f.dates)
	if v.kind != scalar || mend != "" {
		f.fault(v.at, fmt.Sprintf("%s holds %s", key, quoteText(v.text)), "write year-month-day, such as 2026-12-02")
		return t, false
	}
	return t, true
}

func (f *fields) listedDays(got *field, start time.Time, hasStart bool) []time.Time {
	var days []time.Time
	for _, item := range got.val.items {
		t, ok := f.dateOf("days", item)
		if !ok {
			continue
		}
		if len(days) > 0 && !t.After(days[len(days)-1]) {
			f.fault(item.at, fmt.Sprintf("%s does not come after the day before it", dayText(t)), "list the days in order, each once")
			continue
		}
		days = append(days, t)
	}
	if len(got.val.items) == 0 || len(got.val.items) > maxDays {
		f.fault(got.val.at, fmt.Sprintf("days lists %d dates", len(got.val.items)), fmt.Sprintf("list 1 to %d", maxDays))
	}
	if hasStart && len(days) > 0 && !days[0].Equal(start) {
		f.fault(f.at("start"), fmt.Sprintf("start is %s, and days begin on %s", dayText(start), dayText(days[0])), "remove start")
	}
	return days
}

// countedDays are the first n days from start on that are weekdays named and
// not closed.
func (f *fields) countedDays(start time.Time, n int, weekdays []time.Weekday, closed []time.Time) []time.Time {
	isWork := func(t time.Time) bool {
		return slices.Contains(weekdays, t.Weekday()) && !slices.ContainsFunc(closed, t.Equal)
	}
	if !isWork(start) {
		f.warn(f.at("start"), fmt.Sprintf("start %s is not a working day", dayText(start)), "the plan begins on the next one")
	}
	var days []time.Time
	for t := start; len(days) < n && t.Sub(start) < 10*366*24*time.Hour; t = t.AddDate(0, 0, 1) {
		if isWork(t) {
			days = append(days, t)
		}
	}
	return days
}

func dayText(t time.Time) string { return strings.ToLower(t.Format("Mon")) + t.Format(" 2006-01-02") }
