package week

// A RemnantRule says which leftover of a sheet goes back on the rack.
type RemnantRule struct {
	// MinSideMM is the least shorter side of a remnant's rectangle.
	MinSideMM float64
	// MinShare is the least share of the sheet's area.
	MinShare float64
	// ValueShare is what a kept remnant is worth, as a share of the money its
	// area cost.
	ValueShare float64
}

// DefaultRemnants is the rule used where none is given (common practice: a
// piece too narrow to clamp, or a small share of the sheet, is scrap; a
// remnant is worth about half of what new sheet costs, because it has to be
// found, measured and handled again).
var DefaultRemnants = RemnantRule{MinSideMM: 200, MinShare: 0.08, ValueShare: 0.5}
