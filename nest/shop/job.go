package shop

import (
	"time"

	"kerfold/cost"
	"kerfold/geom"
)

// A Job is a week of work: what is wanted, what there is, and with what to cut it.
type Job struct {
	Name      string
	Start     time.Time // first working day, local midnight, UTC location
	Days      []time.Time
	Orders    []Order
	Stock     []Stock
	Machines  []cost.Machine
	Materials map[string]cost.Material
	Rates     cost.Rates
	Spacing   float64 // part gap in mm; NaN means the rule max(2 mm, thickness/2)
	Margin    float64 // sheet margin in mm; NaN means the default
	Warnings  []string
}

// An Order is one kind of part wanted by a date.
type Order struct {
	ID       string // unique line, e.g. "K-104/2"
	Part     string // part name or number
	Drawing  string // file it came from, "" for a plain shape
	Shape    geom.Shape
	Quantity int
	Extra    int // over-run allowed
	Material string
	// ThicknessMM with Material and Grade makes the group.
	ThicknessMM float64
	Grade       cost.Grade
	Due         time.Time // end of that day
	Priority    int       // higher first
	Angles      []float64 // allowed turns, degrees
	FreeAngle   bool
	Mirror      bool
	GrainDeg    *float64 // direction in the part that must follow the sheet's grain
	Kit         string
	Filler      bool
	ToleranceMM float64 // allowed taper at the bottom edge; 0 is not asked for
	Where       string  // "week.yaml:41" for messages
}

// A Stock line is a kind of sheet or one remnant.
type Stock struct {
	ID          string
	Material    string
	ThicknessMM float64
	Outline     geom.Contour
	Blocked     []geom.Contour
	Count       int
	Cost        float64 // money each
	GrainDeg    *float64
	Remnant     bool
	Location    string
	Where       string
}
