package nest

import "github.com/paulmach/orb"

// A Part is one kind of part and how many of it are wanted.
type Part struct {
	ID string
	// Outline is the part flattened outwards, holes flattened inwards of the
	// hole (so that the polygon contains the true part), on the grid.
	Outline orb.Polygon
	// Quantity is how many must be placed. Extra is how many more may be
	// placed where they cost nothing (an over-run the order allows).
	Quantity int
	Extra    int
	// Angles lists the allowed turns in degrees; FreeAngle allows any turn and
	// makes Angles a list of good first guesses.
	Angles    []float64
	FreeAngle bool
	// Mirror allows the part to be turned over.
	Mirror bool
	// Grain, where not nil, is the direction in the part's own frame, in
	// degrees modulo 180, that must lie along the sheet's grain.
	Grain *float64
	// Kit names parts of which every set must lie on one sheet together; empty
	// is none. PerKit is how many copies make one set; where a member leaves it
	// 0, there are as many sets as divide all the members' quantities.
	Kit    string
	PerKit int
	// Filler parts are placed only in what the others leave; not placing them
	// is no failure.
	Filler bool
}

// A Sheet is one kind of sheet, plate, block or remnant and how many there are.
type Sheet struct {
	ID string
	// Outline is the usable region flattened inwards; its holes are blocked
	// zones. Margins are asked for in Problem and are not yet taken off.
	Outline orb.Polygon
	Count   int
	// Cost is what using one costs, in the unit of the caller's choice. The
	// search prefers cheaper sheets; 0 everywhere means "count area".
	Cost float64
	// Grain, where not nil, is the grain direction in degrees modulo 180.
	Grain *float64
}

// A Problem is what to lay out, on what, how far apart.
type Problem struct {
	Parts []Part
	// Sheets lists what there is to cut from. It is empty for a strip.
	Sheets []Sheet
	// StripWidth, where positive, makes this a strip problem: the strip runs
	// from x = 0 with y in [0, StripWidth], and its length is minimised.
	StripWidth float64
	// Spacing is the least distance between two parts, Margin the least
	// distance from a part to the sheet's edge and to a blocked zone. Both are
	// true clearances in millimetres, kept to within [geom.TouchTolerance] (the
	// rounding of poses) between parts and [geom.SheetAllowance] (the rounding of
	// sizes) to edges and zones of sheets; 0 allows touching.
	Spacing, Margin float64
}
