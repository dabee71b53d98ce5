package shop

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"kerfold/cost"
)

var clockTime = regexp.MustCompile(`^([0-9]{1,2}):([0-9]{2})(?::([0-9]{2}))?$`)

// parseClock reads 14:00 or 7:30 as seconds after midnight.
func parseClock(s string) (sec float64, ok bool) {
	m := clockTime.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return 0, false
	}
	h, _ := strconv.Atoi(m[1])
	minute, _ := strconv.Atoi(m[2])
	second, _ := strconv.Atoi(m[3])
	return float64(h*3600 + minute*60 + second), h < 24 && minute < 60 && second < 60
}

// dayStart reads when the working day begins.
func (f *fields) dayStart() float64 {
	v, ok := f.scalar("day_start")
	if !ok {
		return DefaultDayStartSec
	}
	sec, ok := parseClock(v.text)
	if !ok {
		f.fault(v.at, fmt.Sprintf("day_start is %s", quoteText(v.text)), "write a time of the day, such as 07:00")
	}
	return sec
}

// dueMoment reads a day, and the time of it where one stands behind it. Midnight
// is how spreadsheets write that there is none.
func (f *fields) dueMoment(key string) (day time.Time, sec float64) {
	day, ok := f.date(key)
	if !ok {
		return day, 0
	}
	text := f.v.find(key).val.text
	at := strings.IndexAny(strings.TrimSpace(text), "T ")
	if at < 0 {
		return day, 0
	}
	sec, ok = parseClock(strings.TrimSuffix(strings.TrimSpace(text)[at+1:], "Z"))
	if !ok {
		f.fault(f.at(key), fmt.Sprintf("%s is %s", key, quoteText(text)), "write the time behind the date as hours and minutes, such as 2026-12-02 14:00")
	}
	return day, sec
}

// partDays reads the days on which a machine has other hours.
func (f *fields) partDays(key, machine string) []PartDay {
	got := f.get(key)
	if got == nil {
		return nil
	}
	if got.val.kind != record {
		f.fault(got.val.at, fmt.Sprintf("%s holds %s", key, got.val.kind), "write date: hours, such as {2026-12-04: 4}")
		return nil
	}
	var out []PartDay
	for _, d := range got.val.fields {
		date, mend := parseDate(d.key, f.dates)
		if mend != "" {
			f.fault(d.at, fmt.Sprintf("%s names the day %s", key, quoteText(d.key)), mend)
			continue
		}
		hours, mend := parseNumber(d.val.text)
		if d.val.kind != scalar || mend != "" || !(hours >= 0 && hours <= 24) {
			f.fault(d.at, fmt.Sprintf("%s gives %s %s hours", key, d.key, quoteText(d.val.text)), "write hours from 0 to 24")
			continue
		}
		out = append(out, PartDay{Machine: machine, Date: date, Hours: hours})
	}
	return out
}

// overtime reads what working longer costs; labour is known by now.
func (f *fields) overtime(r *cost.Rates) {
	r.OvertimePerHour, r.ExtraShiftPerHour = cost.OvertimeShare*r.LabourPerHour, cost.ExtraShiftShare*r.LabourPerHour
	for _, p := range []struct {
		key string
		to  *float64
	}{{"overtime_per_hour", &r.OvertimePerHour}, {"extra_shift_per_hour", &r.ExtraShiftPerHour}} {
		if x, ok := f.number(p.key, limits{low: 0, high: 1e6}); ok {
			*p.to = x
		}
	}
	if x, ok := f.quantity("overtime_most", &hours, limits{low: 0, high: 24}); ok {
		r.OvertimeMostH = x
	}
}

// ParseMoment reads a day and, where one stands behind it, the time of it in
// seconds after midnight: 2026-12-02 or 2026-12-02 10:30.
func ParseMoment(text string) (day time.Time, sec float64, err error) {
	text = strings.TrimSpace(text)
	date, clock, timed := strings.Cut(text, " ")
	if !timed {
		date, clock, timed = strings.Cut(text, "T")
	}
	day, mend := parseDate(date, isoDates)
	if mend != "" {
		return day, 0, errors.New(mend)
	}
	if timed {
		var ok bool
		if sec, ok = parseClock(clock); !ok {
			return day, 0, errors.New("write the time as hours and minutes, such as 10:30")
		}
	}
	return day, sec, nil
}
