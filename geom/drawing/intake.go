package drawing

import (
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// Options says how to read a drawing. The zero value is the house's default.
type Options struct {
	// Units overrides the file where not UnitAuto.
	Units Unit
	// Layers, where not empty, keeps only these layers, hidden ones too;
	// Exclude drops layers. Names compare without case.
	Layers, Exclude []string
	// JoinTolerance in mm is the largest gap between two loose ends that is
	// closed without asking, from 0.0001 to 10; 0 means geom.JoinTolerance.
	JoinTolerance float64
	// RefuseIslands makes a loop inside a hole a problem. Otherwise it is a
	// part of its own.
	RefuseIslands bool
}

// A Finding is one thing the reader met and what it did about it.
type Finding struct {
	Kind   Kind      // stable word, e.g. GapClosed
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

// String names the level.
func (l Level) String() string {
	switch l {
	case Note:
		return "note"
	case Suspect:
		return "check"
	default:
		return "problem"
	}
}

// A Measure is the length and extents of some geometry.
type Measure struct {
	PathMM float64   // total length, mm
	Bounds orb.Bound // mm; empty (Min > Max) when there is nothing
}

// A LayerUse says what became of one layer of a drawing.
type LayerUse struct {
	Name     string
	Entities int    // outline entities on it, after expanding blocks
	Kept     int    // of those, how many were used
	Why      string // why the rest were not, e.g. "frozen"; "" where all were
}

// An Intake is what a drawing holds, in millimetres on the grid.
type Intake struct {
	Name      string
	Format    string // "DXF R2000 ASCII", "DXF R12 binary", "SVG"
	Units     Unit   // the unit used
	UnitsFrom string // "job", "header", "measurement", "assumed"
	// Parts are the outlines read: lines and arcs on the grid, outer contours
	// counter-clockwise, holes clockwise. They are in the drawing's place, left
	// to right as they stand by their lower left corners.
	Parts []geom.Shape
	// Open are chains that did not close.
	Open []geom.Path
	// Refused are closed contours that cannot be cut: they cross themselves or
	// another contour. A finding tells where.
	Refused  []geom.Contour
	Findings []Finding
	Entities map[string]int // outline entities by type, after expanding blocks
	Skipped  map[string]int // what is no outline, by type: text, dimensions, hatches …
	Layers   []LayerUse     // in the order of the file
	Bounds   orb.Bound      // of everything kept, mm
	PathMM   float64        // total length of everything kept
	// Drawn is the length and extents of every outline entity before anything
	// was left out or moved; of what leaves the drawing plane, the length in
	// space.
	Drawn Measure
	Moved orb.Point // what was added to the drawing's coordinates, mm; mostly nothing
}

// Complete reports whether all of the drawing was read and looked at: no limit
// was met.
func (in Intake) Complete() bool {
	return !slices.ContainsFunc(in.Findings, func(f Finding) bool { return f.Kind == TooMuch })
}

// Contours counts the closed contours kept.
func (in Intake) Contours() int {
	n := 0
	for _, p := range in.Parts {
		n += 1 + len(p.Holes)
	}
	return n
}

// Closed reports whether there is at least one contour and every contour of
// the drawing closed and can be cut. A drawing not read to the end does not
// count as closed.
func (in Intake) Closed() bool {
	return in.Complete() && len(in.Parts) > 0 && len(in.Open) == 0 && len(in.Refused) == 0
}

// Worst returns the highest level among the findings.
func (in Intake) Worst() Level {
	worst := Note
	for _, f := range in.Findings {
		worst = max(worst, f.Level)
	}
	return worst
}
