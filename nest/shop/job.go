package shop

import (
	"math"
	"slices"
	"strings"
	"time"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/geom/drawing"
)

// Version is the job file format this package reads and writes.
const Version = 1

// A Job is a week of work: what is wanted, what there is, and with what to cut it.
type Job struct {
	Name  string
	File  string    // as given to Load
	Start time.Time // first working day, midnight, UTC location
	Days  []time.Time
	// Weekdays and Closed go on saying which days are worked after Days.
	Weekdays []time.Weekday
	Closed   []time.Time
	// DayStartSec is when the working day begins, seconds after midnight. Only
	// due dates with a time of day depend on it.
	DayStartSec float64
	// FromSec is how far into the first day the plan begins, where part of it is
	// over.
	FromSec float64
	// PartDays are the days on which a machine is not open for its usual hours.
	PartDays []PartDay
	Orders   []Order
	Stock    []Stock
	// Register is the stock register the job names, as Stock.Where has it;
	// empty is none.
	Register string
	// RegisterData is the register's bytes as read, to tell whether it has
	// changed since and to book a plan into it.
	RegisterData []byte
	// Remnants says which leftovers go back on the rack.
	Remnants RemnantRule
	// Machines are the waterjets in file order.
	Machines []cost.Machine
	// Materials holds the built-in table under the job file's own entries, by
	// name. Iterate it only in sorted order, see MaterialNames.
	Materials map[string]cost.Material
	Rates     cost.Rates
	Spacing   float64 // part gap in mm; NaN means the rule of DefaultSpacingMM
	Margin    float64 // sheet margin in mm; NaN means DefaultMarginMM
	Cutting   Cutting
	// Units is what people read lengths and amounts in; the job itself is metric.
	Units cost.UnitSystem
	// Gaps overrides Spacing and Margin for single materials, by name.
	Gaps map[string]Gap
	// Drawings are the drawing files the orders came from, each once, in the
	// order they were first named, with what their reader found.
	Drawings []drawing.Intake
	Warnings []string // "file:line:column: fact: mend", worth reading before cutting
	log      *log     // that Warnings come from
}

// A PartDay is a machine's hours on one day; 0 is closed.
type PartDay struct {
	Machine string
	Date    time.Time
	Hours   float64
}

// DefaultDayStartSec is seven in the morning, where the job does not say when
// the working day begins (common practice).
const DefaultDayStartSec = 7 * 3600

// HoursOn is how long machine m is open on a day.
func (j *Job) HoursOn(m int, day time.Time) float64 {
	for _, d := range j.PartDays {
		if d.Machine == j.Machines[m].ID && d.Date.Equal(day) {
			return d.Hours
		}
	}
	return j.Machines[m].HoursPerDay
}

// NextDay is the first day after d that is worked.
func (j *Job) NextDay(d time.Time) time.Time {
	works := j.Weekdays
	if len(works) == 0 {
		works = usualWeekdays
	}
	for {
		d = d.AddDate(0, 0, 1)
		if slices.Contains(works, d.Weekday()) && !slices.ContainsFunc(j.Closed, d.Equal) {
			return d
		}
	}
}

// A Gap is a spacing and a margin in mm; NaN leaves the job's own.
type Gap struct{ Spacing, Margin float64 }

// DefaultMarginMM is the sheet margin where the job names none. Common practice
// is 5 to 10 mm (from memory, unverified).
const DefaultMarginMM = 5

// DefaultSpacingMM is the part gap where the job names none: 2 mm, or half the
// thickness where that is more (from memory, unverified).
func DefaultSpacingMM(thicknessMM float64) float64 { return math.Max(2, thicknessMM/2) }

// SpacingMM is the clearance between two parts of this material and thickness.
func (j *Job) SpacingMM(material string, thicknessMM float64) float64 {
	if g, ok := j.Gaps[material]; ok && !math.IsNaN(g.Spacing) {
		return g.Spacing
	}
	if !math.IsNaN(j.Spacing) {
		return j.Spacing
	}
	return DefaultSpacingMM(thicknessMM)
}

// MarginMM is the clearance from a part of this material to the sheet's edge
// and to blocked zones.
func (j *Job) MarginMM(material string) float64 {
	if g, ok := j.Gaps[material]; ok && !math.IsNaN(g.Margin) {
		return g.Margin
	}
	if !math.IsNaN(j.Margin) {
		return j.Margin
	}
	return DefaultMarginMM
}

// An Order is one kind of part wanted by a date.
type Order struct {
	ID       string // unique line, e.g. "K-104/2"
	Part     string // part name or number
	Customer string
	Note     string // for the traveller
	Drawing  string // file it came from, "" for a plain shape
	// Shape is the true outline, arcs kept, on the grid, moved so that its
	// bounding box starts at the origin.
	Shape    geom.Shape
	Quantity int
	Extra    int // over-run allowed
	Material string
	// ThicknessMM with Material and Grade makes the group.
	ThicknessMM float64
	Grade       cost.Grade
	// Due is the midnight that begins the due date; the parts are wanted by the
	// end of that day. The zero time means no date was given.
	Due time.Time
	// DueSec, where not 0, is the time of that day by which they are wanted,
	// seconds after midnight.
	DueSec   float64
	Priority int       // higher first; 0 is usual
	Angles   []float64 // allowed turns, degrees in [0, 360), ascending, never empty
	// FreeAngle allows any turn and makes Angles first guesses.
	FreeAngle bool
	Mirror    bool     // may be turned over
	GrainDeg  *float64 // direction in the part that must follow the sheet's grain
	// Kit names parts that leave together: the PerKit copies of each member of
	// one kit lie on one sheet. Quantity is a multiple of PerKit, and all
	// members of a kit make the same number of kits. Empty is no kit.
	Kit    string
	PerKit int
	Filler bool // cut only from what the others leave
	// ToleranceMM is the taper allowed at the bottom edge; 0 is not asked for.
	ToleranceMM float64
	Where       string // "week.yaml:41:5" for messages
}

// Registered reports whether a stock line came from the job's register.
func (j *Job) Registered(s *Stock) bool {
	return j.Register != "" && strings.HasPrefix(s.Where, j.Register+":")
}

// A Group is what can share a sheet and a speed.
type Group struct {
	Material    string
	ThicknessMM float64
	Grade       cost.Grade
}

// Group is the order's group.
func (o *Order) Group() Group { return Group{o.Material, o.ThicknessMM, o.Grade} }

// A Stock line is a kind of sheet or one remnant.
type Stock struct {
	ID          string
	Material    string
	ThicknessMM float64
	// Outline is the true edge, arcs kept, on the grid, with the bounding box
	// starting at the origin; Blocked zones are in the same frame.
	Outline  geom.Contour
	Blocked  []geom.Contour
	Count    int
	Cost     float64  // money each
	GrainDeg *float64 // direction of the grain in the sheet; nil is none
	Remnant  bool
	Lot      string
	Location string
	Since    time.Time // when it came onto the rack; zero is unknown
	Source   string    // where the cost comes from, e.g. "demo"
	Origin   string    // what a remnant is left of: sheet, layout, job
	Note     string
	Where    string
}
