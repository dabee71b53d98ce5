package cost

import "errors"

var errPending = errors.New("cost: not written yet")

// Speed is a cutting feed and what bounds it.
type Speed struct {
	MMPerMin float64 // the feed on a straight line
	Law      float64 // mm/min by the power law alone, clamp factor included
	Limit    Limit
}

// A Limit says what bounds a feed or a time.
type Limit string

const (
	LimitLaw      Limit = "power law"
	LimitMaterial Limit = "material cap"
	LimitMachine  Limit = "machine cap"
	LimitMotion   Limit = "acceleration"
)

// Builtin returns the built-in materials in a fixed order, each number with its
// source. The caller owns the slice.
func Builtin() []Material { return nil }

// BuiltinMap returns the built-in materials by name.
func BuiltinMap() map[string]Material { return nil }

// Check says why s cannot be cut at all: input that contradicts physics, a pump
// that cannot feed the orifice, a process the head is not fitted for, a
// hazardous material, or a stack that the material or the machine forbids (a
// [Refusal]).
func (s Setup) Check() error { return errPending }

// SpeedOf returns the straight-line feed of a setup.
func SpeedOf(s Setup) (Speed, error) { return Speed{}, errPending }

// LayoutTime returns where the seconds of one run of w go. The stack depth is
// s.Layers.
func LayoutTime(s Setup, w Work) (Time, error) { return Time{}, errPending }

// A Usage is what a run uses up.
type Usage struct {
	JetSec, HeadSec, HandleSec    float64
	WaterL, AbrasiveKg, EnergyKWh float64
	KerfKg, SludgeKg              float64
	TubeH, OrificeH               float64
}

// Money is where the money of a run goes, in the rates' currency.
type Money struct {
	Material, Machine, Labour, Abrasive, Power, Water, Disposal, Wear, Cover float64
}

// A Ledger is what a piece of work uses and costs.
type Ledger struct {
	Usage Usage
	Money Money
}

// LayoutLedger returns what one run of w uses and costs; sheetMoney is the price of
// one layer's sheet.
func LayoutLedger(s Setup, w Work, sheetMoney float64) (Ledger, error) { return Ledger{}, errPending }

// A StackChoice is one depth of a stack table: repeats of a layout cut as full
// runs of Depth layers and one remainder run.
type StackChoice struct {
	Depth     int
	Runs      int // full runs
	Remainder int // layers of the last run, 0 for none
	Full      Time
	Rest      Time
	Seconds   float64 // all runs, machine occupied
	Money     float64 // all runs, sheets included
	Speed     Speed
	Refusal   string // why this depth is not allowed; empty is allowed
}

// StackTable compares depths 1 … limit for repeats of a layout and returns the
// table and the index of the cheapest allowed depth.
func StackTable(s Setup, w Work, repeats int, sheetMoney float64) ([]StackChoice, int, error) {
	return nil, 0, errPending
}

// An Interval is a range that holds the true value with probability Level.
type Interval struct {
	Low, Likely, High float64
	Level             float64
}
