package route

import (
	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A Cut is one contour with its leads, in sheet coordinates, mm.
type Cut struct {
	Placement int // index into the layout's placements
	Hole      int // index of the part's hole, -1 for its outer contour
	Pierce    orb.Point
	LeadIn    geom.Path
	Contour   geom.Contour // starts where the lead-in ends
	LeadOut   geom.Path
}

// A Route is the cuts of one layout in the order they are made.
type Route struct {
	Cuts    []Cut
	CutMM   float64 // contours
	LeadMM  float64
	RapidMM float64
	// Warnings name contours whose lead had to be shortened or left out.
	Warnings []string
}
