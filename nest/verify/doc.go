// Package verify is an independent judge of finished layouts.
//
// It shares no code with the searches: it takes the parts' true outlines, poses
// them, and decides whether parts overlap, keep their clearance, stay on the
// sheet and off blocked zones, and whether quantities, turns, mirroring, grain
// and kits are as ordered. It reports every fault it finds, as data: what kind,
// which parts, where, by how much, and a sentence with the fact and the mend.
//
// # What is judged
//
// Parts and sheets are closed regions bounded by lines and circular arcs; arcs
// are judged as arcs, never as chords. Touching is legal where the clearance
// asked for is 0. A part may lie in a hole of another; a part inside another's
// material is an overlap.
//
// # How deep is an overlap
//
// The depth of an overlap is the largest of three lengths:
//
//   - how far a point of the first outline lies inside the second part,
//   - how far a point of the second outline lies inside the first part,
//   - twice the distance from a point inside both parts to the nearer outline.
//
// Each of the three is a lower bound of the shortest shift that would separate
// the parts. For the first: the disc of that radius about the point is material
// of the second part, and the point has material of the first part beside it,
// so a shorter shift leaves it inside. For the third: a disc of that radius
// belongs to both, and it must move by its diameter to leave itself. So a pair
// that a shift of at most the tolerance would separate is never refused, and a
// pair is never passed while an outline runs into the other part deeper than
// the tolerance. For an edge pushed into an edge and for a corner pushed into
// an edge, the depth is the shift.
//
// # Arithmetic
//
// Whether a point lies in a region and whether two straight edges meet is
// decided by the exact orientation predicate of package geom. Lengths are
// computed in float64. Coordinates are at most 2^20 mm and radii at most
// [maxRadius], beyond which an arc is cut into chords with a sagitta below
// [chordSagitta]; a length then has an absolute error below 2^-22 mm, a
// sixteenth of [geom.TouchTolerance]. See tolerance.go.
package verify
