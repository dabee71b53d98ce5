package nest

import (
	"context"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A PeriodicLayout is a motif of copies of one part repeated over the plane.
type PeriodicLayout struct {
	// U and V are the lattice's basis in millimetres: the motif is repeated at
	// every i·U + j·V for whole i and j.
	U, V orb.Point
	// Motif holds the poses of the copies in one cell.
	Motif []geom.Pose
	// Density is the covered share of the plane, 0 to 1.
	Density float64
}

// LatticeOptions says which periodic layouts to look at.
type LatticeOptions struct {
	// Turns lists the orientations a copy in the motif may have; empty allows
	// the part as drawn and its half-turn.
	Turns []Turn
	// Spacing is the least distance between two copies in millimetres.
	Spacing float64
	// MaxMotif is the largest number of copies in a cell; 0 means 2.
	MaxMotif int
}

// DensestLattice finds the densest periodic layout of one outline: single
// lattices, double lattices of the part and its half-turn (Kuperberg and
// Kuperberg 1990; Mount 1991), and larger motifs when asked for.
func DensestLattice(outline orb.Polygon, o LatticeOptions) (PeriodicLayout, error) {
	return PeriodicLayout{}, ErrUnsupported
}

// Lattice lays out many copies of one part: it clips the densest periodic
// layouts to the sheet in every allowed direction, fills the rim and keeps the
// best.
func Lattice(ctx context.Context, p Problem, o Options) (Result, error) {
	return Result{}, ErrUnsupported
}
