package drawing

import "kerfold/geom"

// Tolerances of reading, in millimetres.
const (
	// CurveTolerance bounds the distance between a spline or ellipse and the
	// arcs that replace it: a tenth of the chord tolerance that layouts use, so
	// that the two together stay close to it.
	CurveTolerance = geom.ChordTolerance / 10

	// ShortLength is the length below which a piece of outline is reported as
	// short: a machine cannot turn into and out of it, and it is usually left
	// behind by a drawing operation. Common practice.
	ShortLength = 0.05

	// straightTolerance is the height of an arc over its chord below which
	// fitting makes it a line. No coordinate on the grid can show it.
	straightTolerance = geom.Grid / 2

	// climbTolerance is the difference in height along an entity above which
	// its plan view is no longer its true shape: the steepest line that is
	// passed over still has its true length within CurveTolerance when it is
	// longer than 5·CurveTolerance.
	climbTolerance = CurveTolerance * 5
)
