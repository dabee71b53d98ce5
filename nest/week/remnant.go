package week

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/shop"
)

// A RemnantRule says which leftover of a sheet goes back on the rack.
type RemnantRule = shop.RemnantRule

// DefaultRemnants is the rule at the default labour rate.
var DefaultRemnants = shop.DefaultRemnants(cost.DefaultRates().LabourPerHour)

// ruleFor is the rule asked for, else the job's, else the default at the job's
// labour rate.
func ruleFor(asked RemnantRule, job *shop.Job) RemnantRule {
	none := RemnantRule{}
	switch {
	case asked != none:
		return asked
	case job.Remnants != none:
		return job.Remnants
	}
	return shop.DefaultRemnants(job.Rates.LabourPerHour)
}

// remnant is the largest rectangle that a layout leaves of its sheet, clear of
// parts by the spacing, its sides cut back to whole millimetres as a rule on the
// shop floor reads them, off the side that is cut where the other is the sheet's
// edge; nil where the rule finds it too small to keep.
func (t *task) remnant(l *laid, rule RemnantRule) geom.Contour {
	var parts []orb.Polygon
	for _, p := range l.placements {
		parts = append(parts, geom.TransformPolygon(t.flat[p.Part], p.Pose))
	}
	r, ok := nest.FreeRect(t.sheets[l.sheet], parts, t.group.SpacingMM, rule.MinSideMM)
	if !ok {
		return nil
	}
	w, h := math.Floor(r.Max[0]-r.Min[0]), math.Floor(r.Max[1]-r.Min[1])
	if math.Min(w, h) < rule.MinSideMM || !(rule.Worth(w*h, t.pricePerMM2(l.sheet)) > 0) {
		return nil
	}
	edge := geom.Bounds(t.sheets[l.sheet])
	x, y := r.Min[0], r.Min[1]
	if r.Max[0] >= edge.Max[0]-geom.TouchTolerance {
		x = r.Max[0] - w
	}
	if r.Max[1] >= edge.Max[1]-geom.TouchTolerance {
		y = r.Max[1] - h
	}
	return geom.RectContour(x, y, x+w, y+h)
}

// credit is what a remnant is worth.
func (t *task) credit(sheet int, remnant geom.Contour, rule RemnantRule) float64 {
	if remnant == nil {
		return 0
	}
	return math.Max(0, rule.Worth(remnant.Area(), t.pricePerMM2(sheet)))
}

// pricePerMM2 is a sheet's money by its usable area.
func (t *task) pricePerMM2(sheet int) float64 {
	if t.round[sheet] <= 0 {
		return 0
	}
	return t.group.Sheets[sheet].Cost / t.round[sheet]
}
