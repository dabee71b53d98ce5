package drawing

import (
	"github.com/paulmach/orb"

	"kerfold/geom"
)

// Layer names of the drawings we write. ASCII capitals, so that every reader
// keeps them.
const (
	LayerCutOutside = "CUT_OUTSIDE"     // outlines of parts
	LayerCutInside  = "CUT_INSIDE"      // holes
	LayerLead       = "LEAD"            // lead-ins and lead-outs
	LayerPierce     = "PIERCE"          // pierce points
	LayerPartLabel  = "PART_LABEL"      // part numbers
	LayerSheet      = "SHEET"           // outline of the sheet
	LayerRemnant    = "REMNANT_OUTLINE" // outline of what goes back on the rack
	LayerCutSever   = "CUT_SEVER"       // cuts that free the remnant, made last
	LayerTab        = "TAB"             // stretches of outlines left uncut
	LayerRapid      = "RAPID"           // moves with the jet off
	LayerRaised     = "RAPID_RAISED"    // those that pass over parts already cut free
)

// A Sketch is a drawing to be written, in millimetres.
type Sketch struct {
	Layers []SketchLayer
}

// A SketchLayer is one layer of a sketch, in drawing order.
type SketchLayer struct {
	Name     string // one of the Layer constants, or other printable ASCII
	Contours []geom.Contour
	Paths    []geom.Path
	Points   []orb.Point
	Labels   []Label
}

// A Label is a short text in a drawing.
type Label struct {
	Text     string
	At       orb.Point
	HeightMM float64
	AngleDeg float64
	Centred  bool // about At; otherwise At is the left end of the base line
}
