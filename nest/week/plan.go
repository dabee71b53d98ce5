package week

import (
	"time"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/route"
	"kerfold/nest/shop"
)

// A Plan is a week's work laid out, costed and put on machines and days. Every
// layout in it has passed nest/verify. It holds no clock time of its making and
// no path, so that equal input, seed and effort give an equal plan.
type Plan struct {
	Job      string // the job's name
	Seed     uint64
	Effort   float64     // effort asked for; 0 when only the time was limited
	Status   nest.Status // Finished, or why the search ended early
	Currency string
	// Units is what people read the plan in; the plan itself is metric.
	Units    cost.UnitSystem
	Groups   []Group
	Calendar []Slot
	Days     []time.Time // working days, the job's first, then those the work ran over
	WeekDays int         // how many of Days belong to the job
	Machines []MachineLoad
	Orders   []OrderDate
	// Cures are changes that would bring late orders in time, cheapest first;
	// CuresTried is how many plans of the calendar were made to find them.
	Cures      []Cure
	CuresTried int
	// OvertimePerHour and ExtraShiftPerHour are the premiums cures reckon with.
	OvertimePerHour, ExtraShiftPerHour float64
	// Done is what an earlier plan has seen cut, Changes what this plan changes
	// of it, one sentence each; empty where there is no earlier plan.
	Done    []DoneLayout
	Changes []string
	// Stock is what is left when the plan has been cut, remnants included.
	Stock []shop.Stock
	// Remnants is the rule by which they are kept.
	Remnants RemnantRule
	// Register is the name of the stock register the plan was made from, and
	// RegisterSum its fingerprint; empty where there was none.
	Register, RegisterSum string
	// Ledger is of all runs and of Between.
	Ledger cost.Ledger
	// Between is what lies between the runs: set-ups, and loading that no cut
	// hides, less what is hidden beyond a run's own cut.
	Between cost.Ledger
	// DayStartSec is when the working day begins, seconds after midnight, and
	// FromSec how far into the first day the calendar begins.
	DayStartSec, FromSec float64
	// RemnantCredit is what the kept remnants are worth; no ledger takes it off.
	RemnantCredit float64
	Seconds       float64 // machine seconds of all runs, set-ups included
	// SecondsRange and MoneyRange say how sure Seconds and the ledger's money are.
	SecondsRange, MoneyRange cost.Interval
	Warnings                 []string
	Cautions                 []string
}

// A Group is the orders that can share a sheet: one material, one thickness,
// one grade.
type Group struct {
	ID          string // "G1" …
	Material    string
	ThicknessMM float64
	Grade       cost.Grade
	Process     cost.Process
	// SpacingMM is the least distance between two parts, MarginMM the least
	// distance to the sheet's edge and to blocked zones.
	SpacingMM, MarginMM float64
	Parts               []shop.Order
	Sheets              []shop.Stock // what the group could cut from
	Layouts             []Layout
	// Unplaced counts, by index into Parts, wanted copies that found no place.
	Unplaced map[int]int
	// Surplus counts, by index into Parts, copies cut beyond quantity and
	// allowed over-run, because a repeated layout came cheaper.
	Surplus map[int]int
	// Ways are the plans compared for this group, the chosen one first.
	Ways []Way
	// Bound says how good a plan of the group could be at best.
	Bound Bound
	// SheetArea is the area of all sheets cut, PartArea of the parts on them,
	// holes taken off, mm². Their quotient is the yield.
	SheetArea, PartArea      float64
	Ledger                   cost.Ledger // without set-ups
	RemnantCredit            float64
	Seconds                  float64 // machine time without set-ups
	SecondsRange, MoneyRange cost.Interval
	Status                   nest.Status
	Stats                    nest.Stats
	// Cautions are the hazards to know when these sheets are cut.
	Cautions []string
	Warnings []string
}

// Yield is the share of the cut sheets that became parts, 0 to 1.
func (g *Group) Yield() float64 { return share(g.PartArea, g.SheetArea) }

// SheetsUsed counts the sheets the group cuts.
func (g *Group) SheetsUsed() int {
	n := 0
	for i := range g.Layouts {
		n += g.Layouts[i].Repeats
	}
	return n
}

// A Way is one manner of cutting a group that was worked out and compared.
type Way struct {
	Name    string // "each sheet by itself", "one layout 4 times" …
	Layouts int
	Sheets  int
	Surplus int // parts beyond the quantities and the allowed over-run
	// Money is what the choice minimises: every run on the machine where it
	// costs least, remnant credit taken off. The calendar may put a run on
	// another machine so that orders are in time.
	Money   float64
	Seconds float64
	Short   int // wanted parts without a place
	// Late is what orders that would be late weigh (cost.Rates.LatePerHour), Moved
	// what runs on machines where they cost more, and set-ups, add to Money; both
	// on a trial calendar of the whole week, beyond the least any way of the group
	// makes unavoidable. The choice adds them to Money.
	Late, Moved float64
	// LateKnown tells that Late and Moved come from a trial calendar. Ways that by
	// themselves cost more than a calendar could make up are not tried, nor any
	// beyond a bound on trials.
	LateKnown bool
}

// Charged is what the choice between ways minimises.
func (w *Way) Charged() float64 { return w.Money + w.Late + w.Moved }

// A Bound is how good a group's plan could be at best. Two kinds of limit are
// told apart: Sheets and Money hold for every plan, for layouts nobody found,
// too; what is called mix holds only among the layouts that were found.
type Bound struct {
	// Sheets is how many sheets every plan cuts that places all wanted parts,
	// from areas alone; more than there are where none can. 0 is unknown.
	Sheets int
	// Money is what every such plan costs at least, in the terms of Way.Money;
	// 0 is unknown.
	Money float64
	// Columns is how many layouts the integer plan chose among; 0 where none was
	// made, and then what follows is 0, too.
	Columns int
	// MixMoney is what the integer plan costs before its cuts are routed.
	// MixWhole is what no choice of whole sheets among those layouts costs less
	// than, MixParts the same with fractions of sheets allowed.
	MixMoney, MixWhole, MixParts float64
}

// Gap is by what share of the bound money lies above it; 0 where no bound is
// known.
func (b Bound) Gap(money float64) float64 { return gap(money, b.Money) }

// MixGap is by what share the integer plan lies above what fractions of sheets
// would cost.
func (b Bound) MixGap() float64 { return gap(b.MixMoney, b.MixParts) }

func gap(money, bound float64) float64 {
	if bound <= 0 {
		return 0
	}
	return money/bound - 1
}

// A Layout is parts on a sheet, cut Repeats times.
type Layout struct {
	ID         string // "G1-L1" …
	Sheet      int    // index into Group.Sheets
	Placements []nest.Placement
	Route      route.Route
	Repeats    int
	Runs       []Run
	// SheetArea and PartArea are of one sheet, mm².
	SheetArea, PartArea float64
	// Remnant is the reusable piece left of each sheet; nil when there is none
	// worth keeping.
	Remnant geom.Contour
	// RemnantID is the stock line of the remnants this layout leaves.
	RemnantID string
	// RemnantCredit is what one sheet's remnant is worth.
	RemnantCredit float64
	Ledger        cost.Ledger // of all runs
}

// Yield is the share of the sheet that became parts, 0 to 1.
func (l *Layout) Yield() float64 { return share(l.PartArea, l.SheetArea) }

// Depth is the greatest number of sheets cut at once.
func (l *Layout) Depth() int {
	d := 0
	for _, r := range l.Runs {
		d = max(d, r.Depth)
	}
	return d
}

// Seconds is the machine time of all runs of the layout.
func (l *Layout) Seconds() float64 {
	t := 0.0
	for _, r := range l.Runs {
		t += float64(r.Count) * r.OccupiedSec
	}
	return t
}

// A Run is a stack cut Count times in the same way.
type Run struct {
	Depth   int // sheets at once
	Count   int
	Machine int // index into Plan.Machines
	Time    cost.Time
	// OccupiedSec is how long one stack holds the machine.
	OccupiedSec float64
	Ledger      cost.Ledger // of one stack, sheets included
	Speed       cost.Speed
}

// A Slot is one stack on one machine. Seconds count from the start of the
// working day.
type Slot struct {
	Machine       int // index into Plan.Machines
	Group, Layout int // indices into Plan.Groups and its Layouts
	Depth         int
	// Piece says which of the layout's parts are cut, where a cure divides it.
	Piece    Piece
	SetupSec float64 // change of material or thickness before it
	// WorkSec is loading and cutting; LoadSec is how much of it the machine
	// waits for the loading: all of it with one table, with two what the cut
	// before does not hide.
	WorkSec, LoadSec float64
	StartDay, EndDay int // indices into Plan.Days
	StartSec, EndSec float64
}

// A MachineLoad is one machine and the work it got.
type MachineLoad struct {
	ID          string
	HoursPerDay float64
	Hours       []float64 // it is open on each of the plan's days
	Tables      int
	BusySec     float64 // set-ups included
	SetupSec    float64
	Setups      int
	Slots       int
}

// An OrderDate says when an order's last wanted part is cut.
type OrderDate struct {
	Order     string
	Group     int
	Due       time.Time
	Placed    int // copies laid out
	Wanted    int
	Finish    int // index into Plan.Days; -1 when nothing of it is cut
	FinishSec float64
	// Late tells that the last copy is cut after the due date, or that copies
	// with a due date are missing.
	Late     bool
	LateDays int // calendar days after the due date
	// DueSec is the time of the due day, as in the order. LateSec is how long
	// the machine that cuts the last copy is open between the due time and then.
	DueSec, LateSec float64
}

// Tardy reports whether what is cut of the order is done after it is due.
func (o *OrderDate) Tardy() bool { return o.LateSec > 0 || o.LateDays > 0 }

func share(part, whole float64) float64 {
	if whole <= 0 {
		return 0
	}
	return part / whole
}
