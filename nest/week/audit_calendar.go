package week

import (
	"fmt"
	"math"
	"slices"
	"time"
)

// A timetable is a calendar with what is needed to follow it.
type timetable struct {
	plan  *Plan
	days  []time.Time
	open  [][]float64 // hours by machine and day
	hours []*openHours
	slots []Slot
	steps []CureStep // where it is a cure's
}

func (p *Plan) timetable() timetable {
	var open [][]float64
	for i := range p.Machines {
		open = append(open, p.Machines[i].Hours)
	}
	return p.timetableOf(p.Days, open, p.Calendar, nil)
}

func (p *Plan) timetableOf(days []time.Time, open [][]float64, slots []Slot, steps []CureStep) timetable {
	t := timetable{plan: p, days: days, open: open, slots: slots, steps: steps}
	for _, o := range open {
		t.hours = append(t.hours, newOpenHours(days, o, p.DayStartSec, p.FromSec))
	}
	return t
}

// yields counts the copies of each part that a sheet of a stack gives.
func (t timetable) yields(s Slot) []int {
	g := &t.plan.Groups[s.Group]
	n := countParts(g, s.Layout)
	for _, step := range t.steps {
		if step.Kind != DivideLayout || step.Group != s.Group || step.Layout != s.Layout {
			continue
		}
		for part := range n {
			if slices.Contains(step.Orders, g.Parts[part].ID) != (s.Piece == UrgentPiece) {
				n[part] = 0
			}
		}
	}
	return n
}

// faults follows every machine's stacks one after the other: each within the
// hours, none before the one before it has ended, set up for at every change of
// material or thickness, and as long as loading and cutting take.
func (t timetable) faults() []string {
	var out []string
	for m := range t.plan.Machines {
		out = append(out, t.machineFaults(m)...)
	}
	return out
}

func (t timetable) machineFaults(m int) []string {
	var out []string
	done, cut, family := 0.0, 0.0, ""
	for _, s := range t.slots {
		if s.Machine != m {
			continue
		}
		g := &t.plan.Groups[s.Group]
		say := func(format string, args ...any) {
			out = append(out, fmt.Sprintf("%s on %s: ", g.Layouts[s.Layout].ID, t.plan.Machines[m].ID)+fmt.Sprintf(format, args...))
		}
		start, end, inside := t.tape(s)
		if !inside {
			say("it is cut outside the machine's hours")
			continue
		}
		if start < done-auditSlack {
			say("it starts before the stack before it is done")
		}
		if math.Abs(end-start-s.SetupSec-s.WorkSec) > auditSlack {
			say("it lasts %.1f s, set-up and work take %.1f s", end-start, s.SetupSec+s.WorkSec)
		}
		now := fmt.Sprintf("%s, %v mm", g.Material, g.ThicknessMM)
		if family == now && s.SetupSec > 0 {
			say("a set-up between stacks of %s", now)
		}
		if run := t.run(s); run != nil && s.Piece == WholeLayout {
			wait, head := stackTimes(run.Time.HandleSec, run.Time.HeadSec(), t.plan.Machines[m].Tables, cut)
			if math.Abs(wait-s.LoadSec) > auditSlack || math.Abs(wait+head-s.WorkSec) > auditSlack {
				say("it says %.1f s of work, %.1f s of them loading; the run makes it %.1f s and %.1f s", s.WorkSec, s.LoadSec, wait+head, wait)
			}
		}
		done, cut, family = end, s.WorkSec-s.LoadSec, now
	}
	return out
}

// auditSlack is how far, in seconds, times added up in another order may differ.
const auditSlack = 1e-3

// tape is where a stack lies on its machine's tape.
func (t timetable) tape(s Slot) (start, end float64, inside bool) {
	h, open := t.hours[s.Machine], t.open[s.Machine]
	inside = s.StartDay <= s.EndDay && s.EndDay < len(open) && s.StartSec >= 0 &&
		s.StartSec <= open[s.StartDay]*3600+auditSlack && s.EndSec <= open[s.EndDay]*3600+auditSlack &&
		(s.StartDay > 0 || s.StartSec >= h.from)
	if !inside {
		return 0, 0, false
	}
	return h.tapeOf(s.StartDay, s.StartSec), h.tapeOf(s.EndDay, s.EndSec), true
}

// run is the layout's run of the stack's depth on its machine.
func (t timetable) run(s Slot) *Run {
	l := &t.plan.Groups[s.Group].Layouts[s.Layout]
	for i := range l.Runs {
		if l.Runs[i].Depth == s.Depth && l.Runs[i].Machine == s.Machine {
			return &l.Runs[i]
		}
	}
	return nil
}
