package week

import (
	"math"

	"kerfold/geom"
)

// A remnantBound says what the remnant of a sheet brings at most: as much of worth as
// the areas of the parts on it leave of full.
type remnantBound struct {
	area  []float64 // by part
	full  []float64 // by sheet
	worth []float64 // by sheet, money
}

// remnantsByArea counts true areas: a remnant and parts share the sheet. A small one
// is worth less for its area than the whole sheet, for each costs the same upkeep.
func (t *task) remnantsByArea(rule RemnantRule) remnantBound {
	r := remnantBound{area: t.area, full: t.round}
	for s := range t.group.Sheets {
		r.worth = append(r.worth, math.Max(0, rule.Worth(t.round[s], t.pricePerMM2(s))))
	}
	return r
}

// remnantsByRoom counts room: a rectangle worth keeping takes some of what is left
// beside the parts with their clearances and, where they are round, with what lies
// between them, which no rectangle fits into.
func (t *task) remnantsByRoom(n need, rule RemnantRule) remnantBound {
	r := remnantBound{area: n.grown, full: n.usable}
	for s := range t.group.Sheets {
		r.worth = append(r.worth, t.remnantForRoom(&n, s, rule)*n.usable[s])
	}
	return r
}

// remnantSteps is how many lengths of a rectangle are told apart.
const remnantSteps = 160

// remnantForRoom is the most that a remnant of a kind of sheet brings for a mm² of
// room: over all rectangles, each worth as much as the next larger one looked at and
// taking as much room as the next smaller one.
func (t *task) remnantForRoom(n *need, sheet int, rule RemnantRule) float64 {
	box := geom.Bounds(t.sheets[sheet])
	longest := math.Hypot(box.Max[0]-box.Min[0], box.Max[1]-box.Min[1])
	step := (longest - rule.MinSideMM) / remnantSteps
	most := 0.0
	if step <= 0 || n.usable[sheet] <= 0 {
		return 0
	}
	for i := range remnantSteps {
		w := rule.MinSideMM + float64(i)*step
		for j := 0; j <= i; j++ {
			h := rule.MinSideMM + float64(j)*step
			if w*h > t.round[sheet] {
				break
			}
			worth := rule.Worth(math.Min((w+step)*(h+step), t.round[sheet]), t.pricePerMM2(sheet))
			if worth > 0 {
				most = math.Max(most, worth/n.cover.Rect(w, h))
			}
		}
	}
	return most
}
