package shop

import (
	"strings"
	"testing"
	"time"
)

func TestHoursAndTimesAreRead(t *testing.T) {
	text := strings.Replace(base, "hours_per_day: 8", "hours_per_day: 8, hours_on: {2026-12-01: 4.5, 2026-12-02: 0}", 1) +
		strings.Replace(oneOrder, "due: 2026-12-02", "due: 2026-12-02 14:30", 1) + "day_start: 6:15\n"
	j, err := load(text)
	if err != nil {
		t.Fatal(err)
	}
	day := func(d int) time.Time { return time.Date(2026, 12, d, 0, 0, 0, 0, time.UTC) }
	for d, want := range map[int]float64{1: 4.5, 2: 0, 3: 8} {
		if got := j.HoursOn(0, day(d)); got != want {
			t.Errorf("day %d: %v h, want %v", d, got, want)
		}
	}
	o := j.Orders[0]
	if !o.Due.Equal(day(2)) || o.DueSec != 14.5*3600 || j.DayStartSec != 6.25*3600 {
		t.Errorf("due %v at %v s, days begin at %v s", o.Due, o.DueSec, j.DayStartSec)
	}
	if r := j.Rates; r.OvertimePerHour != r.LabourPerHour/2 || r.ExtraShiftPerHour != r.LabourPerHour || r.OvertimeMostH != 4 {
		t.Errorf("overtime %v and %v an hour, %v h a day", r.OvertimePerHour, r.ExtraShiftPerHour, r.OvertimeMostH)
	}
}

// Midnight behind a date is how spreadsheets write that there is no time.
func TestMidnightIsNoTime(t *testing.T) {
	j, err := load(base + strings.Replace(oneOrder, "due: 2026-12-02", "due: 2026-12-02T00:00:00Z", 1))
	if err != nil || j.Orders[0].DueSec != 0 {
		t.Errorf("due at %v s: %v", j.Orders[0].DueSec, err)
	}
}

func TestHoursMistakes(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{strings.Replace(base, "hours_per_day: 8", "hours_per_day: 8, hours_on: {someday: 4}", 1) + oneOrder, `names the day "someday"`},
		{strings.Replace(base, "hours_per_day: 8", "hours_per_day: 8, hours_on: {2026-12-01: 25}", 1) + oneOrder, "hours from 0 to 24"},
		{strings.Replace(base, "hours_per_day: 8", "hours_per_day: 8, hours_on: 4", 1) + oneOrder, "write date: hours"},
		{base + strings.Replace(oneOrder, "due: 2026-12-02", "due: 2026-12-02 noon", 1), "hours and minutes"},
		{base + oneOrder + "day_start: 25:00\n", "a time of the day"},
	} {
		if _, err := load(c.text); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("no %q in %v", c.says, err)
		}
	}
}

func TestNextDaySkipsClosedDays(t *testing.T) {
	friday := time.Date(2026, 12, 4, 0, 0, 0, 0, time.UTC)
	j := Job{Closed: []time.Time{friday.AddDate(0, 0, 3)}}
	if got := j.NextDay(friday); !got.Equal(friday.AddDate(0, 0, 4)) {
		t.Errorf("after Friday comes %v, want Tuesday", got)
	}
	j.Weekdays = []time.Weekday{time.Saturday}
	if got := j.NextDay(friday); !got.Equal(friday.AddDate(0, 0, 1)) {
		t.Errorf("after Friday comes %v, want Saturday", got)
	}
}
