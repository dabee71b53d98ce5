package week

import (
	"kerfold/nest/shop"
	"kerfold/nest/verify"
)

// Judge has nest/verify decide whether the group's layouts are legal: true
// outlines, clearances, margins, blocked zones, quantities, turns, grain, kits
// and sheet counts. Quantities are judged against what the group says of
// itself: wanted less unplaced, plus over-run and surplus.
func Judge(g *Group) verify.Report { return verify.Check(verdictInput(g)) }

func verdictInput(g *Group) verify.Layout {
	l := verify.Layout{Spacing: g.SpacingMM, Margin: g.MarginMM}
	for i := range g.Parts {
		l.Parts = append(l.Parts, verdictPart(g, i))
	}
	for i := range g.Sheets {
		l.Sheets = append(l.Sheets, verdictSheet(&g.Sheets[i]))
	}
	for i := range g.Layouts {
		l.Uses = append(l.Uses, verdictUse(&g.Layouts[i]))
	}
	return l
}

func verdictPart(g *Group, i int) verify.Part {
	o := &g.Parts[i]
	p := verify.Part{
		ID: partName(o), Shape: o.Shape, Min: o.Quantity - g.Unplaced[i], Max: o.Quantity + o.Extra + g.Surplus[i],
		Angles: o.Angles, FreeAngle: o.FreeAngle, Mirror: o.Mirror, GrainDeg: o.GrainDeg, Kit: o.Kit, PerKit: o.PerKit,
	}
	if o.Filler {
		p.Min = 0
	}
	return p
}

// partName names a part in messages: its name, told apart by the order line.
func partName(o *shop.Order) string {
	if o.Part == "" || o.Part == o.ID {
		return o.ID
	}
	return o.Part + " (" + o.ID + ")"
}

func verdictSheet(s *shop.Stock) verify.Sheet {
	return verify.Sheet{ID: s.ID, Outline: s.Outline, Blocked: s.Blocked, Count: s.Count, GrainDeg: s.GrainDeg}
}

func verdictUse(l *Layout) verify.Use {
	u := verify.Use{Sheet: l.Sheet, Copies: l.Repeats}
	for _, p := range l.Placements {
		u.Placements = append(u.Placements, verify.Placement{Part: p.Part, Pose: p.Pose})
	}
	return u
}
