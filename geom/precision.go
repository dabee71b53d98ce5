package geom

import "math"

// The one precision model of the house. Each tolerance has a role, and each is
// built from the ones before it.
const (
	// Grid is the spacing of the coordinate grid in millimetres: 2^-20, about
	// one nanometre. A power of two, so that grid arithmetic is exact.
	Grid = 1.0 / (1 << 20)

	// MaxCoordinate bounds the magnitude of a coordinate, in millimetres
	// (about 1 km): 2^20 mm on a 2^-20 grid needs 41 bits of a float64's 53,
	// which leaves room for exact sums of many terms. Readers refuse more.
	MaxCoordinate = 1 << 20

	// TouchTolerance is how deep, in millimetres, two outlines that are meant
	// to touch may run into each other because a pose was rounded to the grid.
	// Each of the two poses is off by at most half a grid step on each axis
	// (√2/2·Grid), as is each rotated vertex: 4 · √2/2 · Grid, rounded up to a
	// power of two.
	TouchTolerance = 4 * Grid

	// SheetAllowance is how far, in millimetres, parts may reach over what a
	// sheet's edge, margin and blocked zones leave them: half a micrometre. Sizes
	// that are not on the grid, as those in inches, are off by up to half a step
	// each when they are snapped, and so are clearances. A row of parts that fits
	// a sheet exactly on paper may come out longer by a step per part; this is
	// enough for a row of 256, of which one would be lost otherwise.
	SheetAllowance = 512 * Grid

	// JoinTolerance is the largest gap, in millimetres, that a reader closes
	// between two dangling ends of a contour without asking. Measured on real
	// drawings: merging gets worse above it.
	JoinTolerance = 0.01

	// ChordTolerance is the default distance, in millimetres, between an arc
	// and the chords that replace it. An order of magnitude below the
	// positioning accuracy of a cutting table (about 0.1 mm, common practice).
	ChordTolerance = 0.02
)

// Snap returns the grid coordinate nearest to x.
func Snap(x float64) float64 { return math.RoundToEven(x/Grid) * Grid }
