package nest

import (
	"math"

	"kerfold/geom"
)

// sepTouch is the depth in millimetres up to which a pair only touches: one
// grid step, which with the rounding of both poses stays below
// geom.TouchTolerance.
const sepTouch = geom.Grid

// sepScale is how much an item's size counts in its conflicts. Large items are
// harder to place, so their conflicts weigh more and are settled first.
func sepScale(size float64) float32 { return float32(math.Sqrt(size)) }

// sepWeights of conflicts: after each pass a colliding pair's weight grows by a
// factor between the two, by its depth against the deepest; any other pair's
// decays towards 1.
const (
	sepGrowLeast = 1.2
	sepGrowMost  = 2.0
	sepDecay     = 0.95
)

// sepTuning says how thoroughly one move looks around.
type sepTuning struct {
	anywhere  int     // poses sampled over the item's own sheet
	around    int     // poses sampled around the item
	spread    float64 // how far around, as a share of the item's size
	angles    int     // angles sampled over the sheet, per side of a free part
	leans     int     // angles sampled near a free part's own
	lean      float64 // how near, standard deviation in degrees
	sheets    int     // other sheets looked at
	elsewhere int     // poses sampled on each of them

	nudge float64 // how far a candidate may be nudged free, as a share of the item's size

	// Steps of the descent, as shares of the item's size: every kept candidate
	// descends from stepFrom to stepTo, the best of them on to stepEnd.
	stepFrom, stepTo, stepEnd float64
}

var sepCoarse = sepTuning{
	anywhere: 60, around: 20, spread: 0.25,
	angles: 6, leans: 4, lean: 8,
	sheets: 3, elsewhere: 24, nudge: 0.25,
	stepFrom: 0.05, stepTo: 0.002, stepEnd: 1e-5,
}
