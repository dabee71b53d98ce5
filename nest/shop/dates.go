package shop

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// A dateOrder says how dates with slashes are meant.
type dateOrder string

const (
	isoDates   dateOrder = "iso" // 2026-12-02 only
	dayFirst   dateOrder = "dmy"
	monthFirst dateOrder = "mdy"
)

var (
	isoDate   = regexp.MustCompile(`^([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})(?:[T ].*)?$`)
	dotDate   = regexp.MustCompile(`^([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})$`)
	slashDate = regexp.MustCompile(`^([0-9]{1,2})/([0-9]{1,2})/([0-9]{4})$`)
)

// Years outside these are slips.
const firstYear, lastYear = 2000, 2100

// parseDate reads 2026-12-02, 2.12.2026 (day first, as written with dots
// everywhere), or with slashes in the order told. It returns why not in mend.
func parseDate(s string, order dateOrder) (t time.Time, mend string) {
	s = strings.TrimSpace(s)
	if m := isoDate.FindStringSubmatch(s); m != nil {
		return calendarDate(m[1], m[2], m[3])
	}
	if m := dotDate.FindStringSubmatch(s); m != nil {
		return calendarDate(m[3], m[2], m[1])
	}
	if m := slashDate.FindStringSubmatch(s); m != nil {
		return slashed(m, order)
	}
	return time.Time{}, "write year-month-day, such as 2026-12-02"
}

func slashed(m []string, order dateOrder) (time.Time, string) {
	switch order {
	case dayFirst:
		return calendarDate(m[3], m[2], m[1])
	case monthFirst:
		return calendarDate(m[3], m[1], m[2])
	}
	return time.Time{}, "write year-month-day, such as 2026-12-02"
}

func calendarDate(year, month, day string) (time.Time, string) {
	y, _ := strconv.Atoi(year)
	m, _ := strconv.Atoi(month)
	d, _ := strconv.Atoi(day)
	t := time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
	if t.Month() != time.Month(m) || t.Day() != d {
		return time.Time{}, "there is no such day; write year-month-day"
	}
	if y < firstYear || y > lastYear {
		return time.Time{}, fmt.Sprintf("write a year from %d to %d", firstYear, lastYear)
	}
	return t, ""
}

// date reads a day.
func (f *fields) date(key string) (time.Time, bool) {
	v, ok := f.scalar(key)
	if !ok {
		return time.Time{}, false
	}
	t, mend := parseDate(v.text, f.dates)
	if mend != "" && v.cell && slashDate.MatchString(v.text) && f.dates == isoDates {
		mend += "; or let the table say dates: dmy or dates: mdy"
	}
	if mend != "" {
		f.fault(v.at, fmt.Sprintf("%s is %s", key, quoteText(v.text)), mend)
		return time.Time{}, false
	}
	return t, true
}

var weekdayNames = map[string]time.Weekday{
	"mon": time.Monday, "tue": time.Tuesday, "wed": time.Wednesday, "thu": time.Thursday,
	"fri": time.Friday, "sat": time.Saturday, "sun": time.Sunday,
}

// parseWeekday reads mon or Monday.
func parseWeekday(s string) (time.Weekday, bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	for short, day := range weekdayNames { // at most one matches
		if s == short || s == strings.ToLower(day.String()) {
			return day, true
		}
	}
	return 0, false
}
