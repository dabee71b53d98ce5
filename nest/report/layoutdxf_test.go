package report

import (
	"bytes"
	"math"
	"testing"

	"kerfold/geom/drawing"
)

// The layout drawing, read back, holds every contour where it lies: the parts
// on their layers, the sheet, nothing open and nothing to mend.
func TestLayoutDXFReadsBack(t *testing.T) {
	p := samplePlan()
	var b bytes.Buffer
	if err := WriteLayoutDXF(&b, p, 0, 0); err != nil {
		t.Fatal(err)
	}
	l := &p.Groups[0].Layouts[0]
	in, err := drawing.Read("layout.dxf", b.Bytes(), drawing.Options{Layers: []string{drawing.LayerCutOutside, drawing.LayerCutInside, drawing.LayerTab}})
	if err != nil {
		t.Fatal(err)
	}
	if len(in.Parts) != len(l.Placements) || !in.Closed() || in.Worst() > drawing.Note {
		t.Errorf("%d parts, closed %v, findings %v; want %d parts", len(in.Parts), in.Closed(), in.Findings, len(l.Placements))
	}
	tabs := 0.0
	for _, c := range l.Route.Cuts {
		tabs += c.TabMM
	}
	if math.Abs(in.PathMM-tabs-l.Route.CutMM) > 1e-6*l.Route.CutMM || tabs == 0 {
		t.Errorf("%v mm of contours, the route has %v and tabs of %v", in.PathMM, l.Route.CutMM, tabs)
	}
	var want, got float64
	for _, pl := range l.Placements {
		s := posed(p.Groups[0].Parts[pl.Part].Shape, pl.Pose)
		want += s.Outer.Area()
		for _, h := range s.Holes {
			want += h.Area()
		}
	}
	for _, s := range in.Parts {
		got += s.Outer.Area()
		for _, h := range s.Holes {
			got += h.Area()
		}
	}
	if math.Abs(got-want) > 1e-6*want {
		t.Errorf("parts of %v mm², want %v", got, want)
	}
	sheet, err := drawing.Read("layout.dxf", b.Bytes(), drawing.Options{Layers: []string{drawing.LayerSheet}})
	if err != nil || len(sheet.Parts) != 1 || sheet.Bounds.Max[0] != 1000 || sheet.Bounds.Max[1] != 600 {
		t.Errorf("the sheet came back as %+v, %v", sheet, err)
	}
}
