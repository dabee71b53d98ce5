package week

import (
	"fmt"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest/route"
)

// Unsevered is how a layout is cut when its remnant stays on the sheet's used
// part.
type unsevered struct {
	route route.Route
	work  cost.Work
	pick  pick
}

// unsevered takes the severing cuts out of a route.
func (t *task) unsevered(l *laid, r route.Route) (u unsevered, err error) {
	u.route = r.Unsevered()
	u.work = headWork(&u.route, len(l.placements))
	prices, err := t.routedRuns(l, u.work)
	u.pick = pickFrom(prices, l.repeats)
	return u, err
}

// note says why a remnant is not kept.
func (u *unsevered) note(remnant geom.Contour, costs, worth float64) {
	b := remnant.Bounds()
	u.route.Warnings = append(u.route.Warnings, fmt.Sprintf(
		"a remnant of %.0f × %.0f mm is not kept: cutting it free costs %.2f, and it is worth %.2f",
		b.Max[0]-b.Min[0], b.Max[1]-b.Min[1], costs, worth))
}
