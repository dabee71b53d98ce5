package drawing

import (
	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A Unit is a length unit of a drawing.
type Unit string

const (
	UnitAuto       Unit = "" // from the header, else stated assumption
	Millimetre     Unit = "mm"
	Centimetre     Unit = "cm"
	Metre          Unit = "m"
	Inch           Unit = "in"
	Foot           Unit = "ft"
	UnitUnresolved Unit = "?" // a header code that names no unit we know
)

// Options says how to read a drawing.
type Options struct {
	Units Unit // overrides the file where not UnitAuto
	// Layers, where not empty, keeps only these layers; Exclude drops layers.
	// Names compare without case.
	Layers, Exclude []string
	// JoinTolerance in mm; 0 means geom.JoinTolerance.
	JoinTolerance float64
}

// A Finding is one thing the reader met and what it did about it.
type Finding struct {
	Kind   string    // stable word, e.g. "gap-closed", "duplicate", "units-assumed"
	Level  Level     // how much it matters
	Text   string    // for people: the fact, then what was done or how to mend it
	Line   int       // line in the file, 0 where there is none
	Handle string    // entity handle, where the file gives one
	Layer  string    // layer, where known
	At     orb.Point // place in mm, meaningful when HasAt
	HasAt  bool
	Count  int // how many alike; at least 1
}

// Level ranks findings.
type Level int

const (
	Note    Level = iota // for the record
	Suspect              // look at it before cutting
	Problem              // this contour or entity cannot be cut as drawn
)

// An Intake is what a drawing holds, in millimetres on the grid.
type Intake struct {
	Name      string
	Units     Unit   // the unit used
	UnitsFrom string // "job", "header", "measurement", "assumed"
	Parts     []geom.Shape
	Open      []geom.Path // chains that did not close
	Findings  []Finding
	Entities  map[string]int // what the file held, after expanding blocks
	Bounds    orb.Bound      // of everything kept, mm
	PathMM    float64        // total length of everything kept
}
