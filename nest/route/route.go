package route

import (
	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A Piece is one placed part, true outline in sheet coordinates, mm.
type Piece struct {
	Placement int // index into the layout's placements
	Name      string
	Shape     geom.Shape
}

// Input is one sheet with its parts.
type Input struct {
	// Sheet is the sheet's outline and Blocked its blocked zones. Pierces and
	// leads keep to the sheet and off the zones. An empty Sheet is no limit.
	Sheet   geom.Contour
	Blocked []geom.Contour
	Pieces  []Piece
	// Remnant is what is kept of the sheet; nil is none. Pierces and leads keep
	// out of it.
	Remnant geom.Contour
}

// A Cut is one contour with its leads, in sheet coordinates, mm. Contours and
// leads are nominal: the machine's kerf compensation shifts the jet's centre by
// half a kerf to the scrap side.
type Cut struct {
	Placement int // index into the layout's placements
	Hole      int // index of the part's hole, -1 for its outer contour
	Name      string
	Pierce    orb.Point
	LeadIn    geom.Path
	Contour   geom.Contour // starts where the lead-in ends
	LeadOut   geom.Path
	// TabMM is how much of the contour's end the jet leaves out; 0 for none. The
	// tab is narrower by a kerf.
	TabMM float64
	// Rapid is the way of the head from the end of the cut before (or the
	// start point) to Pierce, both included.
	Rapid []orb.Point
	// Over counts the parts already cut free that Rapid passes over; where it is
	// not 0 the head should be raised.
	Over int
	// CutMM and LeadMM are the lengths of this cut.
	CutMM, LeadMM float64
}

// A Route is the cuts of one layout in the order they are made.
type Route struct {
	Cuts []Cut
	// Severing lists the cuts that free the remnant, made after all others.
	Severing []Severance
	CutMM    float64 // contours
	SeverMM  float64 // cuts that free the remnant
	LeadMM   float64 // lead-ins and lead-outs
	RapidMM  float64 // from the start point to the last pierce
	Pierces  int
	// Crossings counts the rapid moves that pass over a part already cut free,
	// which may have tipped up.
	Crossings int
	// Options are what the route was asked for.
	Options Options
	// Warnings name contours whose lead had to be shortened or left out.
	Warnings []string
}
