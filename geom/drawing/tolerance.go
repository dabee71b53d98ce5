package drawing

import "kerfold/geom"

// Tolerances of reading, in millimetres. Those that depend on the join
// tolerance are derived from it in type healer.
const (
	// CurveTolerance bounds the distance between a spline or ellipse and the
	// arcs that replace it: a tenth of the chord tolerance that layouts use, so
	// that the two together stay close to it.
	CurveTolerance = geom.ChordTolerance / 10

	// ShortLength is the length below which a piece of outline is reported as
	// short: a machine cannot turn into and out of it, and it is usually left
	// behind by a drawing operation. Common practice.
	ShortLength = 0.05
)
