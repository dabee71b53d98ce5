package verify

import "kerfold/geom"

const (
	// maxRadius is the largest radius, in mm, at which an arc is judged as an
	// arc. A distance to it is a difference of two numbers of that size, each
	// good to a few units in the last place: 8 · 2^27 · 2^-53 = 2^-23 mm.
	maxRadius = 1 << 27

	// chordSagitta is the greatest distance, in mm, between a flatter arc and
	// the chords that replace it.
	chordSagitta = geom.Grid / 8

	// meetSlack is the distance, in mm, below which two edges of which one is
	// an arc are taken to meet. It exceeds the error of a computed distance
	// (2^-23 mm for chords and for the flattest arcs) and is far below the touch tolerance.
	meetSlack = geom.Grid / 4

	// measureShare is the share by which the depth found may fall short of the
	// greatest depth. A pair is refused above the tolerance and never passed
	// above (1 + measureShare) of it; between the two it may go either way.
	measureShare = 1.0 / 128

	// baseProbes and edgeProbes, per edge near the contact, bound the work on
	// deciding one pair. Parts that touch all along their outlines need some
	// dozens of probes for each edge; many times that is entanglement.
	baseProbes = 1 << 14
	edgeProbes = 1 << 8

	// measureProbes bounds the work on one depth; what is found by then is
	// reported, and is a lower bound like any.
	measureProbes = 1 << 14
)

// tolerance is how far outlines may run together: the rounding of poses to the
// grid and the rounding of printed numbers.
func (l Layout) tolerance() float64 { return geom.TouchTolerance + l.Rounding }
