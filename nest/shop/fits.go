package shop

import (
	"fmt"
	"math"
	"slices"

	"kerfold/geom"
)

// validateFits reports orders whose part is too large for every sheet of its
// group in every allowed turn, by their boxes.
func (l *loader) validateFits(groups []*groupFit) {
	for _, g := range groups {
		if len(g.stock) == 0 {
			continue
		}
		for _, i := range g.orders {
			l.fitsOne(&l.job.Orders[i], g)
		}
	}
}

func (l *loader) fitsOne(o *Order, g *groupFit) {
	margin := l.job.MarginMM(o.Material)
	grainless := false
	for _, i := range g.stock {
		s := &l.job.Stock[i]
		grainless = grainless || o.GrainDeg != nil && s.GrainDeg == nil
		if fitsSheet(o, s, margin) {
			if grainless {
				l.log.warn(l.orderAt[o.ID], o.name(), fmt.Sprintf("the part has a grain and sheet %s has none", s.ID), "write grain_deg on the sheet, else the part may lie any way on it")
			}
			return
		}
	}
	l.tooLarge(o, g, margin)
}

func (l *loader) tooLarge(o *Order, g *groupFit, margin float64) {
	largest := &l.job.Stock[slices.MaxFunc(g.stock, func(a, b int) int {
		return compareArea(&l.job.Stock[a], &l.job.Stock[b])
	})]
	x, y := largest.Size()
	b := o.Shape.Bounds()
	mend := "add a larger sheet"
	switch {
	case o.GrainDeg != nil:
		mend += ", or look at grain_deg and rotations"
	case !o.FreeAngle:
		mend += ", or allow more rotations"
	}
	l.log.fault(l.orderAt[o.ID], o.name(), fmt.Sprintf("the part, %s x %s mm, fits no sheet in an allowed turn; the largest, %s, is %s x %s mm with a margin of %s mm",
		size1(b.Max[0]), size1(b.Max[1]), largest.ID, size1(x), size1(y), short(margin)), mend)
}

func compareArea(a, b *Stock) int {
	switch d := a.AreaMM2() - b.AreaMM2(); {
	case d < 0:
		return -1
	case d > 0:
		return 1
	}
	return 0
}

func size1(x float64) string { return short(math.Round(x*10) / 10) }

// fitsSheet compares the part's box with the sheet's. It never says no to a
// part that fits.
func fitsSheet(o *Order, s *Stock, margin float64) bool {
	x, y := s.Size()
	x, y = x-2*margin, y-2*margin
	if o.Shape.Area() > s.AreaMM2() {
		return false
	}
	for _, t := range turnsOn(o, s) {
		b := o.Shape.Outer.Transform(geom.Pose{AngleDeg: t.angle, Mirror: t.mirror}).Bounds()
		slack := 4 * geom.Grid
		if t.about {
			slack += (b.Max[0] - b.Min[0] + b.Max[1] - b.Min[1]) * math.Sin(freeStep/2*math.Pi/180)
		}
		if b.Max[0]-b.Min[0] <= x+slack && b.Max[1]-b.Min[1] <= y+slack {
			return true
		}
	}
	return false
}

// A turn is an orientation to try; about means that turns near it are allowed.
type turn struct {
	angle  float64
	mirror bool
	about  bool
}

// freeStep in degrees is how finely free turns are tried.
const freeStep = 0.5

// turnsOn lists the turns a part may have on a sheet.
func turnsOn(o *Order, s *Stock) []turn {
	var turns []turn
	for _, mirror := range []bool{false, true} {
		if mirror && !o.Mirror {
			break
		}
		turns = append(turns, turnsOneSide(o, s, mirror)...)
	}
	return turns
}

func turnsOneSide(o *Order, s *Stock, mirror bool) []turn {
	var turns []turn
	grain := o.GrainDeg != nil && s.GrainDeg != nil
	own := 0.0
	if grain {
		own = *o.GrainDeg
		if mirror {
			own = 180 - own
		}
	}
	switch {
	case grain && o.FreeAngle:
		return []turn{{angle: *s.GrainDeg - own, mirror: mirror}}
	case o.FreeAngle:
		for a := 0.0; a < 180; a += freeStep {
			turns = append(turns, turn{a, mirror, true})
		}
		return turns
	}
	for _, a := range o.Angles {
		if !grain || math.Abs(math.Remainder(own+a-*s.GrainDeg, 180)) < 1e-6 {
			turns = append(turns, turn{angle: a, mirror: mirror})
		}
	}
	return turns
}
