package nest

import (
	"math"

	"kerfold/geom"
)

// A Turn is one allowed orientation of a part: mirrored or not, then turned.
type Turn struct {
	AngleDeg float64
	Mirror   bool
}

// quarterTurns are the first guesses for a part that may lie at any angle.
var quarterTurns = []float64{0, 90, 180, 270}

// Turns lists the orientations a search may lay the part in, without repeats:
// first as drawn, then turned over. A part with neither angles nor a free
// angle lies as drawn. A nil grain restricts nothing; otherwise only turns that
// bring the part's own grain along it (in degrees modulo 180) remain, and a
// part with a free angle gets exactly the turns that do.
func Turns(p Part, grain *float64) []Turn {
	var turns []Turn
	for _, mirror := range []bool{false, true} {
		if mirror && !p.Mirror {
			break
		}
		for _, a := range turnAngles(p, mirror, grain) {
			turns = appendTurn(turns, Turn{AngleDeg: geom.NormalDeg(a), Mirror: mirror})
		}
	}
	return turns
}

func turnAngles(p Part, mirror bool, grain *float64) []float64 {
	bound := p.Grain != nil && grain != nil
	angles := p.Angles
	if len(angles) == 0 {
		angles = []float64{0}
		if p.FreeAngle {
			angles = quarterTurns
		}
	}
	if !bound {
		return angles
	}
	own := *p.Grain
	if mirror {
		own = 180 - own
	}
	if p.FreeAngle {
		return []float64{*grain - own, *grain - own + 180}
	}
	var kept []float64
	for _, a := range angles {
		if alongGrain(own+a, *grain) {
			kept = append(kept, a)
		}
	}
	return kept
}

// grainToleranceDeg absorbs the rounding of sums of typed angles; a grain is
// never drawn to a millionth of a degree.
const grainToleranceDeg = 1e-6

func alongGrain(a, grain float64) bool {
	d := math.Mod(a-grain, 180)
	if d < 0 {
		d += 180
	}
	return d <= grainToleranceDeg || 180-d <= grainToleranceDeg
}

func appendTurn(turns []Turn, t Turn) []Turn {
	for _, have := range turns {
		if have == t {
			return turns
		}
	}
	return append(turns, t)
}
