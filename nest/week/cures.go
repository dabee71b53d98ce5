package week

import (
	"fmt"
	"strings"
	"time"
)

// A Piece says which of a layout's parts are cut, where a cure divides it.
type Piece string

const (
	WholeLayout Piece = ""
	UrgentPiece Piece = "urgent" // the parts of the orders that must be in time
	LaterPiece  Piece = "later"  // the others, when the sheet is back on the table
)

// A Cure is a change that would bring late orders in time. It is no guess: the
// calendar was planned anew with the change, and by it no order that is in
// time becomes late, and none later by a day.
type Cure struct {
	Steps []CureStep
	// Money is what it costs on top of the plan, all told; Premium is what of it
	// is paid for overtime and extra shifts.
	Money, Premium float64
	Saves          []string // late orders that would be in time
	Days           []time.Time
	Open           [][]float64 // hours by machine and day
	Calendar       []Slot
}

// A CureKind is a sort of change.
type CureKind string

const (
	Overtime     CureKind = "overtime"
	ExtraShift   CureKind = "extra shift"
	OtherStack   CureKind = "other stack"
	DivideLayout CureKind = "divided layout"
)

// A CureStep is one change of a cure.
type CureStep struct {
	Kind    CureKind
	Machine int       // Overtime, ExtraShift
	Day     time.Time // likewise
	Hours   float64   // likewise
	// Group and Layout are what OtherStack and DivideLayout change, Depth how
	// many sheets are cut at once, Orders those whose parts are cut first.
	Group, Layout, Depth int
	Orders               []string
}

// OfHours reports whether a step opens a machine for longer; else it changes how
// a layout is cut.
func (s CureStep) OfHours() bool { return s.Kind == Overtime || s.Kind == ExtraShift }

// Known reports whether the step's kind is one of the above.
func (s CureStep) Known() bool {
	return s.OfHours() || s.Kind == OtherStack || s.Kind == DivideLayout
}

// StepWords says what a step asks for.
func (p *Plan) StepWords(s CureStep) string {
	switch s.Kind {
	case Overtime:
		return fmt.Sprintf("%s h of overtime on %s on %s", hoursText(s.Hours), p.Machines[s.Machine].ID, s.Day.Format("Mon 2 Jan"))
	case ExtraShift:
		return fmt.Sprintf("an extra shift of %s h on %s on %s", hoursText(s.Hours), p.Machines[s.Machine].ID, s.Day.Format("Mon 2 Jan"))
	case OtherStack:
		id, now := p.Groups[s.Group].Layouts[s.Layout].ID, p.Groups[s.Group].Layouts[s.Layout].Depth()
		if s.Depth == 1 {
			return fmt.Sprintf("cut %s one sheet at a time instead of %d", id, now)
		}
		return fmt.Sprintf("cut %s %d sheets at a time instead of %d", id, s.Depth, now)
	}
	return fmt.Sprintf("cut the parts of %s from %s first, and put the sheet back for the others later",
		strings.Join(s.Orders, ", "), p.Groups[s.Group].Layouts[s.Layout].ID)
}

func hoursText(h float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", h), ".0") }

// Words says what a cure asks for.
func (p *Plan) CureWords(c *Cure) string {
	var steps []string
	for _, s := range c.Steps {
		steps = append(steps, p.StepWords(s))
	}
	return strings.Join(steps, "; ")
}

// CuresOf lists the cures that bring an order in time, cheapest first.
func (p *Plan) CuresOf(order string) []*Cure {
	var out []*Cure
	for i := range p.Cures {
		for _, o := range p.Cures[i].Saves {
			if o == order {
				out = append(out, &p.Cures[i])
			}
		}
	}
	return out
}
