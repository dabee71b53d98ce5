package report

import (
	"fmt"
	"io"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/geom/drawing"
	"kerfold/nest/week"
)

// WriteLayoutDXF writes one layout for the machine side: contours in cutting
// order with true arcs, leads, pierce points, severing cuts, rapid moves, the
// sheet, and labels on layers of their own. Contours are nominal: the control
// compensates the kerf. An outline with a tab is open where the tab is; the tab's
// stretch, on its own layer, closes it.
func WriteLayoutDXF(w io.Writer, p *week.Plan, group, layout int) error {
	return drawing.WriteDXF(w, sketch(&p.Groups[group], &p.Groups[group].Layouts[layout]))
}

func sketch(g *week.Group, l *week.Layout) drawing.Sketch {
	inside := drawing.SketchLayer{Name: drawing.LayerCutInside}
	outside := drawing.SketchLayer{Name: drawing.LayerCutOutside}
	lead := drawing.SketchLayer{Name: drawing.LayerLead}
	pierce := drawing.SketchLayer{Name: drawing.LayerPierce}
	tab, sever := drawing.SketchLayer{Name: drawing.LayerTab}, drawing.SketchLayer{Name: drawing.LayerCutSever}
	rapid, raised := drawing.SketchLayer{Name: drawing.LayerRapid}, drawing.SketchLayer{Name: drawing.LayerRaised}
	leads := func(paths ...geom.Path) {
		for _, path := range paths {
			if len(path) > 1 {
				lead.Paths = append(lead.Paths, path)
			}
		}
	}
	for _, m := range moves(&l.Route) {
		to := &rapid
		if m.over > 0 {
			to = &raised
		}
		to.Paths = append(to.Paths, m.path())
	}
	for _, c := range l.Route.Cuts {
		switch {
		case c.Hole >= 0:
			inside.Contours = append(inside.Contours, c.Contour)
		case c.TabMM > 0:
			outside.Paths, tab.Paths = append(outside.Paths, c.Cut()), append(tab.Paths, c.Tab())
		default:
			outside.Contours = append(outside.Contours, c.Contour)
		}
		leads(c.LeadIn, c.LeadOut)
		pierce.Points = append(pierce.Points, c.Pierce)
	}
	for _, c := range l.Route.Severing {
		sever.Paths = append(sever.Paths, c.Path)
		leads(c.LeadIn, c.LeadOut)
		if !c.FromEdge {
			pierce.Points = append(pierce.Points, c.Pierce)
		}
	}
	s := drawing.Sketch{Layers: []drawing.SketchLayer{sheetLayer(g, l)}}
	if l.Remnant != nil {
		s.Layers = append(s.Layers, drawing.SketchLayer{Name: drawing.LayerRemnant, Contours: []geom.Contour{l.Remnant}})
	}
	return drawing.Sketch{Layers: append(s.Layers, inside, outside, tab, sever, lead, pierce, rapid, raised, labelLayer(g, l))}
}

func sheetLayer(g *week.Group, l *week.Layout) drawing.SketchLayer {
	s := g.Sheets[l.Sheet]
	return drawing.SketchLayer{Name: drawing.LayerSheet, Contours: append([]geom.Contour{s.Outline}, s.Blocked...)}
}

// labelLayer writes each part's number in the part, and what the layout is
// below the sheet.
func labelLayer(g *week.Group, l *week.Layout) drawing.SketchLayer {
	layer := drawing.SketchLayer{Name: drawing.LayerPartLabel}
	poles := map[int]geom.Disc{}
	for _, pl := range l.Placements {
		if _, ok := poles[pl.Part]; !ok {
			poles[pl.Part] = labelPlace(g.Parts[pl.Part].Shape)
		}
		layer.Labels = append(layer.Labels, drawing.Label{
			Text: fmt.Sprint(pl.Part + 1), At: pl.Pose.Apply(poles[pl.Part].Center), Centred: true,
			HeightMM: min(maxLabelMM, max(minLabelMM, poles[pl.Part].Radius*0.8)),
		})
	}
	box := g.Sheets[l.Sheet].Outline.Bounds()
	layer.Labels = append(layer.Labels, drawing.Label{
		Text: fmt.Sprintf("%s  %s  %s mm  %s  %s", l.ID, g.Material, Length(g.ThicknessMM), g.Grade, cutWords(l)),
		At:   orb.Point{box.Min[0], box.Min[1] - 2*maxLabelMM}, HeightMM: maxLabelMM,
	})
	return layer
}

// Heights of labels in a drawing, mm: readable on a screen that shows a sheet.
const minLabelMM, maxLabelMM = 2.0, 15.0
