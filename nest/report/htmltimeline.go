package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"kerfold/nest"
	"kerfold/nest/week"
)

// A timeline is the picture of machines and days: a row a machine, a column a
// day, a bar a run of equal stacks. Every bar has a number, under which the
// table below tells of it. All numbers are picture units.
type timeline struct {
	ID       string // of the figure, for what refers to it
	Title    string
	W, H     int
	Days     []dayColumn
	Rows     []machineRow
	Bars     []timeBar
	Shades   []timeShade
	Describe string
	Slots    []slotLine // the same as a table
	Overrun  bool
	Overtime bool
	Shut     bool // somewhere
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

// A timeShade is a time in which a machine is not open as usual.
type timeShade struct {
	X, W, Y, H string
	Overtime   bool // open beyond its usual hours; else closed
	Tooltip    string
}

// A timeBar is what equal stacks, or the set-up before them, take of one day.
type timeBar struct {
	X, W, Y, H        string
	TextX, TextY      string // of the layout's name, where it fits
	Label             string
	Mark              string // number below, with a mark where it is late
	MarkX, MarkY      string
	LeadX, LeadY      string // the line from the bar's foot, LeadTop, down to the mark
	LeadTop           string
	Layout, Tooltip   string
	Tint              int
	Setup, Late       bool
	number            int
	x, width, bottom  float64
	machine, startDay int
}

// A slotLine is equal stacks as the table below the picture says them.
type slotLine struct {
	Number                                                       int
	Machine, Layout, Sheets, Start, End, Work, Load, Setup, Late string
}

const (
	timelineLeft = 78
	dayWidth     = 220
	dayGap       = 8
	barHeight    = 34
	markRow      = 14
	markRows     = 3
	rowHeight    = 14 + barHeight + markRows*markRow
	timelineTop  = 52
)

// A calendarView is a calendar to be drawn: the plan's own, or a cure's.
type calendarView struct {
	p     *week.Plan
	days  []time.Time
	open  [][]float64 // hours by machine and day
	slots []week.Slot
	late  func(week.Slot) bool
}

func planView(p *week.Plan) calendarView {
	v := calendarView{p: p, days: p.Days, slots: p.Calendar, late: func(s week.Slot) bool { return makesLate(p, s) }}
	for i := range p.Machines {
		v.open = append(v.open, p.Machines[i].Hours)
	}
	return v
}

func cureView(p *week.Plan, c *week.Cure) calendarView {
	return calendarView{p: p, days: c.Days, open: c.Open, slots: c.Calendar, late: func(week.Slot) bool { return false }}
}

func newTimeline(p *week.Plan) timeline {
	t := planView(p).timeline()
	t.ID, t.Title = "calendar", "Calendar: what each machine cuts when"
	return t
}

// cureTimelines draws the calendar of the cure that brings most orders in time.
func cureTimelines(p *week.Plan) []timeline {
	best := -1
	for i := range p.Cures {
		if best < 0 || len(p.Cures[i].Saves) > len(p.Cures[best].Saves) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	t := cureView(p, &p.Cures[best]).timeline()
	t.ID, t.Title = "cured", "Calendar with the cure: "+p.CureWords(&p.Cures[best])
	return []timeline{t}
}

func (v calendarView) timeline() timeline {
	t := timeline{W: timelineLeft + dayWidth*len(v.days), H: timelineTop + rowHeight*len(v.p.Machines) + 4}
	for i, d := range v.days {
		x := timelineLeft + i*dayWidth
		over := i >= v.p.WeekDays
		t.Overrun = t.Overrun || over
		t.Days = append(t.Days, dayColumn{
			X: x, Middle: x + (dayWidth-dayGap)/2, W: dayWidth - dayGap, Name: dayOrDash(d), Due: dueOn(v.p, d), Over: over,
		})
	}
	for i, m := range v.p.Machines {
		y := timelineTop + i*rowHeight
		t.Rows = append(t.Rows, machineRow{Y: y, Base: y + 14 + barHeight/2, ID: m.ID})
	}
	for m := range v.open {
		t.Shades = append(t.Shades, v.shades(m)...)
	}
	for _, s := range t.Shades {
		t.Overtime, t.Shut = t.Overtime || s.Overtime, t.Shut || !s.Overtime
	}
	runs := v.runs()
	for i, r := range runs {
		t.Bars = append(t.Bars, v.bars(r, i+1)...)
		t.Slots = append(t.Slots, v.line(r, i+1))
	}
	for m := range v.p.Machines {
		placeMarks(t.Bars, m)
	}
	t.Describe = fmt.Sprintf("%s in %s on %s over %s, numbered in order; the table below says the same in words.",
		plural(len(v.slots), "stack"), plural(len(runs), "run"), plural(len(v.p.Machines), "machine"), plural(len(v.days), "day"))
	return t
}

// A slotRun is equal stacks one after the other on one machine.
type slotRun struct {
	first, last week.Slot
	stacks      int
	work, load  float64
	late        bool
}

// runs joins equal stacks that follow each other on a machine.
func (v calendarView) runs() []slotRun {
	var out []slotRun
	at := map[int]int{} // last run of each machine
	for _, s := range v.slots {
		i, seen := at[s.Machine]
		if !seen || !sameWork(out[i].last, s) || s.SetupSec > 0 {
			i = len(out)
			out = append(out, slotRun{first: s})
			at[s.Machine] = i
		}
		r := &out[i]
		r.last, r.stacks, r.work, r.load, r.late = s, r.stacks+1, r.work+s.WorkSec, r.load+s.LoadSec, r.late || v.late(s)
	}
	return out
}

func sameWork(a, b week.Slot) bool {
	return a.Group == b.Group && a.Layout == b.Layout && a.Depth == b.Depth && a.Piece == b.Piece
}

// columnHours is what a column's width stands for.
func (v calendarView) columnHours() float64 {
	hours := 0.0
	for _, open := range v.open {
		for _, h := range open {
			hours = math.Max(hours, h)
		}
	}
	if hours <= 0 {
		return 24
	}
	return hours
}

// place is where a time of a day lies.
func (v calendarView) place(day int, from, to float64) (x, width float64) {
	perSec := float64(dayWidth-dayGap) / (v.columnHours() * 3600)
	return float64(timelineLeft+day*dayWidth) + from*perSec, (to - from) * perSec
}

// shades are the times in which a machine is closed though the column is not
// over, and those in which it is open beyond its usual hours.
func (v calendarView) shades(m int) []timeShade {
	var out []timeShade
	usual := v.p.Machines[m].HoursPerDay
	y := float64(timelineTop + m*rowHeight + 14)
	add := func(day int, from, to float64, overtime bool, words string) {
		if to <= from {
			return
		}
		x, w := v.place(day, from*3600, to*3600)
		out = append(out, timeShade{
			X: num(x), W: num(w), Y: num(y - 4), H: num(barHeight + 8), Overtime: overtime,
			Tooltip: fmt.Sprintf("%s, %s: %s", v.p.Machines[m].ID, dayOrDash(v.days[day]), words),
		})
	}
	if len(v.days) > 0 {
		add(0, 0, v.p.FromSec/3600, false, "over when the calendar begins")
	}
	for day, open := range v.open[m] {
		was := usual
		for i, d := range v.p.Days {
			if d.Equal(v.days[day]) {
				was = v.p.Machines[m].Hours[i]
			}
		}
		add(day, open, v.columnHours(), false, "closed")
		add(day, math.Min(was, open), open, true, Length(open-was)+" h beyond the usual hours")
	}
	return out
}

// bars cuts a run's time at the ends of days, set-up first.
func (v calendarView) bars(r slotRun, number int) []timeBar {
	var out []timeBar
	s := r.first
	setup := s.SetupSec
	for day := s.StartDay; day <= r.last.EndDay; day++ {
		from, to := 0.0, v.open[s.Machine][day]*3600
		if day == s.StartDay {
			from = s.StartSec
		}
		if day == r.last.EndDay {
			to = r.last.EndSec
		}
		if now := math.Min(setup, to-from); now > 0 {
			out = append(out, v.bar(r, number, day, from, from+now, true))
			from, setup = from+now, setup-now
		}
		if to > from {
			out = append(out, v.bar(r, number, day, from, to, false))
		}
	}
	return out
}

func (v calendarView) bar(r slotRun, number, day int, from, to float64, setup bool) timeBar {
	s := r.first
	x, w := v.place(day, from, to)
	y := float64(timelineTop + s.Machine*rowHeight + 14)
	b := timeBar{
		X: num(x), W: num(w), Y: num(y), H: num(barHeight), TextX: num(x + w/2), TextY: num(y + barHeight/2 + 4),
		Layout: v.layout(s).ID, Tint: s.Group % tints, Setup: setup, Late: r.late && !setup, number: number,
		x: x + w/2, width: w, bottom: y + barHeight, machine: s.Machine, startDay: day,
		Tooltip: fmt.Sprintf("%d: %s, %s, %s", number, v.name(s), v.stacks(r), Duration(r.work)),
	}
	if r.late {
		b.Tooltip += ", ends after a due date"
	}
	if setup {
		b.Tooltip = "set-up of " + Duration(s.SetupSec) + " before " + b.Tooltip
		return b
	}
	b.Mark = strconv.Itoa(number)
	if r.late {
		b.Mark += " !"
	}
	if fits(b.Layout, w) {
		b.Label = b.Layout
	}
	return b
}

// placeMarks sets the numbers below a machine's bars, in as few rows as do not
// overlap.
func placeMarks(bars []timeBar, machine int) {
	var ends [markRows]float64
	last := 0
	for i := range bars {
		b := &bars[i]
		if b.machine != machine || b.Mark == "" {
			continue
		}
		if b.number == last && b.width < markWidth(b.Mark) {
			b.Mark = "" // the rest of a run after the night
			continue
		}
		last = b.number
		half := markWidth(b.Mark) / 2
		row, x := 0, b.x
		for row < markRows-1 && ends[row] > x-half {
			row++
		}
		x = math.Max(x, ends[row]+half)
		ends[row] = x + half
		y := b.bottom + float64(row+1)*markRow
		b.MarkX, b.MarkY = num(x), num(y-1)
		b.LeadX, b.LeadTop, b.LeadY = num(b.x), num(b.bottom), num(b.bottom+float64(row)*markRow+3)
	}
}

// markWidth is how wide a number below a bar is, with a little air.
func markWidth(s string) float64 { return 12*emWidth*float64(len(s)) + 6 }

// fits reports whether a name fits into a bar: bold, 12 units high.
func fits(s string, width float64) bool { return width > 12*emWidth*1.1*float64(len(s)) }

func (v calendarView) layout(s week.Slot) *week.Layout { return &v.p.Groups[s.Group].Layouts[s.Layout] }

// name is a layout's id, and which parts of it are cut where it is divided.
func (v calendarView) name(s week.Slot) string {
	switch s.Piece {
	case week.UrgentPiece:
		return v.layout(s).ID + ", urgent parts"
	case week.LaterPiece:
		return v.layout(s).ID + ", other parts"
	}
	return v.layout(s).ID
}

func (v calendarView) stacks(r slotRun) string {
	return stackCount(week.Run{Depth: r.first.Depth, Count: r.stacks})
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

// makesLate reports whether a stack carries parts of an order that was due
// before the stack is done.
func makesLate(p *week.Plan, s week.Slot) bool {
	if s.EndDay >= len(p.Days) {
		return false
	}
	g := &p.Groups[s.Group]
	for i := range p.Orders {
		o := &p.Orders[i]
		if o.Group != s.Group || !o.Tardy() {
			continue
		}
		after := s.EndDay == o.Finish && s.EndSec == o.FinishSec || p.Days[s.EndDay].After(o.Due)
		if after && slices.ContainsFunc(g.Layouts[s.Layout].Placements, func(pl nest.Placement) bool { return g.Parts[pl.Part].ID == o.Order }) {
			return true
		}
	}
	return false
}

func (v calendarView) line(r slotRun, number int) slotLine {
	s := r.first
	l := slotLine{
		Number: number, Machine: v.p.Machines[s.Machine].ID, Layout: v.layout(s).ID, Sheets: v.stacks(r),
		Start: v.time(s.StartDay, s.StartSec), End: v.time(r.last.EndDay, r.last.EndSec),
		Work: Duration(r.work), Load: Duration(r.load), Setup: "-",
	}
	if s.Piece != week.WholeLayout {
		l.Sheets += map[week.Piece]string{week.UrgentPiece: ", urgent parts", week.LaterPiece: ", other parts"}[s.Piece]
	}
	if s.SetupSec > 0 {
		l.Setup = Duration(s.SetupSec)
	}
	if r.late {
		l.Late = "after a due date"
	}
	return l
}

// time is a time of work: the day, and how far into its working hours.
func (v calendarView) time(day int, sec float64) string {
	if day < 0 || day >= len(v.days) {
		return "-"
	}
	return fmt.Sprintf("%s, %s in", dayOrDash(v.days[day]), Duration(sec))
}
