// Package verify is an independent judge of finished layouts.
//
// It shares no code with the searches: it takes the parts' true outlines, poses
// them, and decides by exact predicates whether parts overlap, keep their
// clearance, stay on the sheet and off blocked zones, and whether quantities,
// turns, mirroring and grain are as ordered. Lengths are millimetres. Touching
// is legal where the clearance asked for is 0; a pair may run together by at
// most the stated tolerance, which covers the rounding of poses to the grid.
package verify
