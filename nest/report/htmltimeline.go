package report

import (
	"fmt"
	"time"

	"kerfold/nest/week"
)

// A timeline is the picture of machines and days: a row a machine, a column a
// day, a box a stack. All numbers are picture units.
type timeline struct {
	W, H     int
	Days     []dayColumn
	Rows     []machineRow
	Boxes    []stackBox
	Hours    string // what a column's width means
	Describe string
	Slots    []slotLine // the same as a table
	Overrun  bool
}

// A dayColumn is one working day.
type dayColumn struct {
	X, Middle, W int
	Name, Due    string
	Over         bool // after the job's last day
}

// A machineRow is one machine.
type machineRow struct {
	Y, Base int
	ID      string
}

// A stackBox is what one stack takes of one day.
type stackBox struct {
	X, W, Y, H             string
	TextX, TextY           string
	Label, Layout, Tooltip string
	Tint                   int
	Setup, Late            bool
}

// A slotLine is one stack as the table below the picture says it.
type slotLine struct {
	Machine, Layout, Sheets, Start, End, Work, Setup, Late string
}

const (
	timelineLeft = 70
	dayWidth     = 180
	dayGap       = 8
	rowHeight    = 58
	timelineTop  = 52
)

func newTimeline(p *week.Plan) timeline {
	t := timeline{
		W: timelineLeft + dayWidth*len(p.Days), H: timelineTop + rowHeight*len(p.Machines) + 6,
		Overrun: len(p.Days) > p.WeekDays,
	}
	for i, d := range p.Days {
		x := timelineLeft + i*dayWidth
		t.Days = append(t.Days, dayColumn{
			X: x, Middle: x + (dayWidth-dayGap)/2, W: dayWidth - dayGap, Name: dayOrDash(d), Due: dueOn(p, d), Over: i >= p.WeekDays,
		})
	}
	for i, m := range p.Machines {
		y := timelineTop + i*rowHeight
		t.Rows = append(t.Rows, machineRow{Y: y, Base: y + rowHeight/2, ID: m.ID})
	}
	hours := longestDay(p)
	t.Hours = Length(hours)
	for _, s := range p.Calendar {
		t.Boxes = append(t.Boxes, stackBoxes(p, s, hours)...)
		t.Slots = append(t.Slots, newSlotLine(p, s))
	}
	t.Describe = fmt.Sprintf("%s on %s over %s; the table below says the same in words.",
		plural(len(p.Calendar), "stack"), plural(len(p.Machines), "machine"), plural(len(p.Days), "day"))
	return t
}

func longestDay(p *week.Plan) float64 {
	hours := 0.0
	for _, m := range p.Machines {
		hours = max(hours, m.HoursPerDay)
	}
	if hours <= 0 {
		return 24
	}
	return hours
}

// dueOn counts the orders due on a day.
func dueOn(p *week.Plan, d time.Time) string {
	n := 0
	for _, o := range p.Orders {
		if o.Due.Equal(d) && !d.IsZero() {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return plural(n, "order") + " due"
}

// stackBoxes cuts a stack's time at the ends of days.
func stackBoxes(p *week.Plan, s week.Slot, hours float64) []stackBox {
	var out []stackBox
	late := makesLate(p, s)
	setup := s.SetupSec
	for day := s.StartDay; day <= s.EndDay; day++ {
		from, to := 0.0, p.Machines[s.Machine].HoursPerDay*3600
		if day == s.StartDay {
			from = s.StartSec
		}
		if day == s.EndDay {
			to = s.EndSec
		}
		if now := min(setup, to-from); now > 0 {
			out = append(out, newBox(p, s, day, from, from+now, hours, true, false))
			from, setup = from+now, setup-now
		}
		if to > from {
			out = append(out, newBox(p, s, day, from, to, hours, false, late))
		}
	}
	return out
}

func newBox(p *week.Plan, s week.Slot, day int, from, to, hours float64, setup, late bool) stackBox {
	perSec := float64(dayWidth-dayGap) / (hours * 3600)
	x, w := float64(timelineLeft+day*dayWidth)+from*perSec, (to-from)*perSec
	y := float64(timelineTop + s.Machine*rowHeight + 8)
	l := &p.Groups[s.Group].Layouts[s.Layout]
	b := stackBox{
		X: num(x), W: num(w), Y: num(y), H: num(rowHeight - 16), TextX: num(x + w/2), TextY: num(y + (rowHeight-16)/2 + 4),
		Layout: l.ID, Tint: s.Group % tints, Setup: setup, Late: late,
		Tooltip: fmt.Sprintf("%s, %s, %s", l.ID, plural(s.Depth, "sheet"), Duration(s.WorkSec)),
	}
	if late {
		b.Tooltip += ", makes an order late"
	}
	if setup {
		b.Tooltip = "set-up before " + b.Tooltip
	} else {
		b.Label = boxLabel(l.ID, late, w)
	}
	return b
}

// makesLate reports whether a stack carries parts of an order that was due on a
// day before the stack is done.
func makesLate(p *week.Plan, s week.Slot) bool {
	g := &p.Groups[s.Group]
	if s.EndDay >= len(p.Days) {
		return false
	}
	for _, pl := range g.Layouts[s.Layout].Placements {
		if due := g.Parts[pl.Part].Due; !due.IsZero() && p.Days[s.EndDay].After(due) {
			return true
		}
	}
	return false
}

func newSlotLine(p *week.Plan, s week.Slot) slotLine {
	l := slotLine{
		Machine: p.Machines[s.Machine].ID, Layout: p.Groups[s.Group].Layouts[s.Layout].ID, Sheets: plural(s.Depth, "sheet"),
		Start: slotTime(p, s.StartDay, s.StartSec), End: slotTime(p, s.EndDay, s.EndSec),
		Work: Duration(s.WorkSec), Setup: "-",
	}
	if s.SetupSec > 0 {
		l.Setup = Duration(s.SetupSec)
	}
	if makesLate(p, s) {
		l.Late = "after a due date"
	}
	return l
}

// slotTime is a time of work: the day, and how far into its working hours.
func slotTime(p *week.Plan, day int, sec float64) string {
	if day < 0 || day >= len(p.Days) {
		return "-"
	}
	return fmt.Sprintf("%s, %s in", dayOrDash(p.Days[day]), Duration(sec))
}

// boxLabel is as much of a layout's id, and a mark where it makes an order late,
// as fits into a box.
func boxLabel(id string, late bool, width float64) string {
	const perRune = 12 * emWidth * 1.1 // bold, 12 units high
	if marked := id + " !"; late && width > perRune*float64(len(marked)) {
		return marked
	}
	if width > perRune*float64(len(id)) {
		return id
	}
	return ""
}
