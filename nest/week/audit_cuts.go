package week

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/route"
)

// leadGap is how far, in mm, a lead's end may lie off what it leads to: the
// chords that stand for an arc here, and the grid.
const leadGap = geom.ChordTolerance + geom.TouchTolerance

// auditCuts looks at the order and the joints of a layout's cuts: every contour
// once, holes before their outline, the pierce where the lead-in starts, the
// lead-in ending on its contour. A layout without cuts is not routed and passes.
func auditCuts(g *Group, l *Layout) []string {
	if len(l.Route.Cuts) == 0 {
		return nil
	}
	var faults []string
	seen := map[[2]int]int{} // by placement and hole, how often
	for i := range l.Route.Cuts {
		c := &l.Route.Cuts[i]
		key := [2]int{c.Placement, c.Hole}
		if seen[key]++; seen[key] > 1 {
			faults = append(faults, fmt.Sprintf("%s: cut %d cuts %s again", l.ID, i+1, contourName(g, l, c.Placement, c.Hole)))
		}
		if c.Hole >= 0 && seen[[2]int{c.Placement, -1}] > 0 {
			faults = append(faults, fmt.Sprintf("%s: cut %d, %s, comes after the part's outline", l.ID, i+1, contourName(g, l, c.Placement, c.Hole)))
		}
		if off := jointGap(c); off > leadGap {
			faults = append(faults, fmt.Sprintf("%s: cut %d, %s: pierce, lead-in and contour do not meet, by %.3f mm", l.ID, i+1, contourName(g, l, c.Placement, c.Hole), off))
		}
	}
	faults = append(faults, auditSevering(l)...)
	return append(faults, uncut(g, l, seen)...)
}

// auditSevering looks whether the cuts said to free the remnant run along its
// outline.
func auditSevering(l *Layout) []string {
	var faults []string
	var ring orb.Polygon
	if l.Remnant != nil {
		ring = orb.Polygon{l.Remnant.Flatten(geom.ChordTolerance, geom.OnCurve)}
	}
	for i := range l.Route.Severing {
		for _, v := range l.Route.Severing[i].Path {
			if ring == nil || geom.BoundaryDistance(v.P, ring) > leadGap {
				faults = append(faults, fmt.Sprintf("%s: severing cut %d runs off the remnant's outline at %.1f, %.1f", l.ID, i+1, v.P[0], v.P[1]))
				break
			}
		}
	}
	return faults
}

// uncut names the contours that no cut makes.
func uncut(g *Group, l *Layout, seen map[[2]int]int) []string {
	var faults []string
	for i, pl := range l.Placements {
		for h := -1; h < len(g.Parts[pl.Part].Shape.Holes); h++ {
			if seen[[2]int{i, h}] == 0 {
				faults = append(faults, fmt.Sprintf("%s: %s is not cut", l.ID, contourName(g, l, i, h)))
			}
		}
	}
	return faults
}

func contourName(g *Group, l *Layout, placement, hole int) string {
	part := partName(&g.Parts[l.Placements[placement].Part])
	if hole < 0 {
		return fmt.Sprintf("the outline of %s, placement %d", part, placement+1)
	}
	return fmt.Sprintf("hole %d of %s, placement %d", hole+1, part, placement+1)
}

// jointGap is the widest gap between pierce, lead-in and contour.
func jointGap(c *route.Cut) float64 {
	ring := orb.Polygon{c.Contour.Flatten(geom.ChordTolerance, geom.OnCurve)}
	if len(c.LeadIn) == 0 {
		return geom.BoundaryDistance(c.Pierce, ring)
	}
	start, end := c.LeadIn[0].P, c.LeadIn[len(c.LeadIn)-1].P
	return math.Max(math.Hypot(start[0]-c.Pierce[0], start[1]-c.Pierce[1]), geom.BoundaryDistance(end, ring))
}
