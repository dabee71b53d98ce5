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
	// Seed is the root of the random stream that the starts are drawn from.
	Seed uint64
}

// DensestLattice looks for the densest periodic layout of one outline: single
// lattices; double lattices of the part and its half-turn, which hold the
// densest known packings of convex outlines (Kuperberg and Kuperberg 1990;
// Mount 1991); and larger motifs when asked for. Outlines may be concave and
// have holes. Every cell it returns is a local optimum reached from many random
// starts; that it is the global one is not proven.
func DensestLattice(outline orb.Polygon, o LatticeOptions) (PeriodicLayout, error) {
	list, err := DenseLattices(outline, o)
	if err != nil {
		return PeriodicLayout{}, err
	}
	return list[0], nil
}

// DenseLattices lists the densest periodic layout, as [DensestLattice] finds it,
// and others nearly as dense that it met, densest first. On a sheet, where rows
// begin and end, one of those may hold more copies.
func DenseLattices(outline orb.Polygon, o LatticeOptions) ([]PeriodicLayout, error) {
	if err := validateOutline(outline); err != nil {
		return nil, err
	}
	k, err := sepNewKind(0, outline, 0)
	if err != nil {
		return nil, err
	}
	turns := o.Turns
	if len(turns) == 0 {
		turns = []Turn{{}, {AngleDeg: 180}}
	}
	var list []PeriodicLayout
	h := latHunt{ctx: context.Background(), turns: turns, most: latDefault(o.MaxMotif, 2), gap: o.Spacing, seed: o.Seed, workers: 1, thrift: 1}
	for _, c := range h.cells(&k, latAnyhow) {
		list = append(list, c.layout(&k))
	}
	return list, nil
}

func latDefault(n, otherwise int) int {
	if n == 0 {
		return otherwise
	}
	return n
}

// layout puts a cell into the caller's terms: poses of the part about its own
// origin.
func (c *latCell) layout(k *sepKind) PeriodicLayout {
	out := PeriodicLayout{U: c.u, V: c.v, Density: c.density()}
	for i, t := range c.turns {
		x, y := sepTurnMatrix(t).apply(k.centre[0], k.centre[1])
		out.Motif = append(out.Motif, geom.Pose{
			X: c.at[i][0] - x, Y: c.at[i][1] - y, AngleDeg: t.AngleDeg, Mirror: t.Mirror,
		})
	}
	return out
}

// latMotifs lists the motifs to look at: one copy; two copies that differ by
// each turn that the list allows between two of its entries; and, where larger
// motifs are asked for, runs of those. A motif turned as a whole is the same
// layout turned, so the first copy has the first turn.
func latMotifs(turns []Turn, most int) [][]Turn {
	first := turns[0]
	motifs := [][]Turn{{first}}
	for n := 2; n <= most; n++ {
		for _, t := range turns {
			motif := []Turn{first}
			for len(motif) < n {
				if len(motif)%2 == 1 {
					motif = append(motif, t)
				} else {
					motif = append(motif, first)
				}
			}
			if n > 2 || t != first {
				motifs = append(motifs, motif)
			}
		}
	}
	return motifs
}
