package week

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest"
)

// A RemnantRule says which leftover of a sheet goes back on the rack.
type RemnantRule struct {
	// MinSideMM is the least shorter side of a remnant's rectangle.
	MinSideMM float64
	// MinShare is the least share of the sheet's area.
	MinShare float64
	// ValueShare is what a kept remnant is worth, as a share of the money its
	// area cost.
	ValueShare float64
}

// DefaultRemnants is the rule used where none is given (common practice: a
// piece too narrow to clamp, or a small share of the sheet, is scrap; a
// remnant is worth about half of what new sheet costs, because it has to be
// found, measured and handled again).
var DefaultRemnants = RemnantRule{MinSideMM: 200, MinShare: 0.08, ValueShare: 0.5}

// remnant is the largest rectangle that a layout leaves of its sheet, clear of
// parts by the spacing, its sides cut back to whole millimetres as a rule on the
// shop floor reads them; nil where the rule finds it too small to keep.
func (t *task) remnant(l *laid, rule RemnantRule) geom.Contour {
	var parts []orb.Polygon
	for _, p := range l.placements {
		parts = append(parts, geom.TransformPolygon(t.flat[p.Part], p.Pose))
	}
	r, ok := nest.FreeRect(t.sheets[l.sheet], parts, t.group.SpacingMM)
	if !ok {
		return nil
	}
	w, h := math.Floor(r.Max[0]-r.Min[0]), math.Floor(r.Max[1]-r.Min[1])
	if math.Min(w, h) < rule.MinSideMM || w*h < rule.MinShare*t.round[l.sheet] {
		return nil
	}
	return geom.RectContour(r.Min[0], r.Min[1], r.Min[0]+w, r.Min[1]+h)
}

// credit is what a remnant is worth.
func (t *task) credit(sheet int, remnant geom.Contour, rule RemnantRule) float64 {
	if remnant == nil || t.round[sheet] <= 0 {
		return 0
	}
	return rule.ValueShare * t.group.Sheets[sheet].Cost * remnant.Area() / t.round[sheet]
}
