package report

import (
	"fmt"

	"kerfold/nest/week"
)

// depthReasons says why as many sheets are cut at once as there are, from what
// the plan compared and from where the cutting time comes.
func depthReasons(p *week.Plan, g *week.Group, l *week.Layout) []string {
	var out []string
	switch {
	case l.Repeats == 1:
		out = append(out, "Cut once, so there is nothing to stack.")
	case l.Depth() == 1:
		out = append(out, fmt.Sprintf("Cut %d times, one sheet at a time: of the depths the stack limit allows, this came cheapest.", l.Repeats))
	default:
		out = append(out, fmt.Sprintf("Cut %d times, up to %d sheets at once: of the depths the stack limit allows, this came cheapest.", l.Repeats, l.Depth()))
	}
	if s := growthWords(l); s != "" {
		out = append(out, s)
	}
	if s := choiceWords(p, g); s != "" {
		out = append(out, s)
	}
	if s := groupBoundWords(g); s != "" {
		out = append(out, s)
	}
	return out
}

// growthWords splits the cutting time into what grows with the stack's height
// and what the layers of a stack share. Slowing arcs and corners for the edge
// grows with the height like the jet's own pace.
func growthWords(l *week.Layout) string {
	var law, feedCap, bends, accel float64
	for _, r := range l.Runs {
		n := float64(r.Count)
		law += n * r.Time.LawSec
		feedCap += n * r.Time.CapSec
		bends += n * r.Time.LagSec
		accel += n * r.Time.AccelSec()
	}
	whole := law + feedCap + bends + accel
	if whole <= 0 {
		return ""
	}
	return fmt.Sprintf("Of the cutting time %s is the jet's own pace and %s arcs and corners slowed for the edge, which both take longer as a stack grows; %s comes from feed caps and %s from acceleration, which layers cut together share.",
		Percent(ratio(law, whole)), Percent(ratio(bends, whole)), Percent(ratio(feedCap, whole)), Percent(ratio(accel, whole)))
}

// choiceWords is the group's choice against laying the whole demand out once.
func choiceWords(p *week.Plan, g *week.Group) string {
	if len(g.Ways) < 2 {
		return ""
	}
	chosen := g.Ways[0]
	for _, w := range g.Ways[1:] {
		if w.Name == week.DirectName && w.Short == chosen.Short {
			return fmt.Sprintf("For group %s “%s” was chosen at %s; “%s” comes to %s.",
				g.ID, chosen.Name, Amount(chosen.Money, p.Currency), w.Name, Amount(w.Money, p.Currency))
		}
	}
	return fmt.Sprintf("For group %s “%s” came cheapest of %d ways.", g.ID, chosen.Name, len(g.Ways))
}

// mostTicks is how many stacks get a box each; beyond it they are counted.
const mostTicks = 12

// ticks are the boxes the floor ticks off.
func ticks(p *week.Plan, g *week.Group, l *week.Layout) []string {
	out := []string{fmt.Sprintf("%s of %s checked: material, %s, faces", plural(l.Repeats, "sheet"), g.Sheets[l.Sheet].ID, measure{units: p.Units}.length(g.ThicknessMM))}
	if g.Sheets[l.Sheet].GrainDeg != nil {
		out = append(out, "Grain lies as drawn")
	}
	out = append(out, "Zero at the lower left corner, clamps clear of cuts and rapid moves")
	if l.Depth() > 1 {
		out = append(out, "Stack squared and clamped flat")
	}
	out = append(out, "First pierce and first part watched")
	out = append(out, stackTicks(l)...)
	if l.Remnant != nil {
		out = append(out, fmt.Sprintf("%s marked %s and racked", plural(l.Repeats, "remnant"), l.RemnantID))
	}
	return append(out, fmt.Sprintf("%d parts counted and labelled", len(l.Placements)*l.Repeats))
}

func stackTicks(l *week.Layout) []string {
	total := 0
	for _, r := range l.Runs {
		total += r.Count
	}
	if total > mostTicks {
		return []string{fmt.Sprintf("Stacks cut: ______ of %d", total)}
	}
	var out []string
	for _, r := range l.Runs {
		for range r.Count {
			word := "single sheet"
			if r.Depth > 1 {
				word = fmt.Sprintf("stack of %d", r.Depth)
			}
			out = append(out, fmt.Sprintf("Cut %d of %d done (%s)", len(out)+1, total, word))
		}
	}
	return out
}
