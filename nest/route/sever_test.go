package route_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/route"
)

// severed routes a disc in the lower left of a sheet with a remnant and holds
// the severing cuts to the judge.
func severed(t *testing.T, sheet, remnant geom.Contour, blocked ...geom.Contour) route.Route {
	t.Helper()
	in := input(geom.Shape{Outer: geom.CircleContour(orb.Point{60, 60}, 50)})
	in.Sheet, in.Remnant, in.Blocked = sheet, remnant, blocked
	o := route.Defaults(1, 5)
	o.Sever = true
	return plan(t, in, o)
}

// TestSeverRuns: what of the remnant's outline is cut, by where it touches the
// sheet's edge. A remnant stands 500 to 1000 wide on a sheet 1000 × 600.
func TestSeverRuns(t *testing.T) {
	sheet := geom.RectContour(0, 0, 1000, 600)
	ell := geom.PolygonContour(orb.Point{0, 0}, orb.Point{1000, 0}, orb.Point{1000, 300}, orb.Point{500, 300}, orb.Point{500, 600}, orb.Point{0, 600})
	for _, c := range []struct {
		name    string
		sheet   geom.Contour
		remnant geom.Contour
		lengths []float64 // of the cuts, ascending
		edge    int       // cuts that begin at the edge
	}{
		{"right end of the sheet", sheet, geom.RectContour(500, 0, 1000, 600), []float64{600}, 1},
		{"half a millimetre short of three edges", sheet, geom.RectContour(500, 0.5, 999.4, 599.5), []float64{599}, 1},
		{"upper right corner", sheet, geom.RectContour(500, 200, 1000, 600), []float64{900}, 1},
		{"on the right edge only", sheet, geom.RectContour(500, 150, 1000, 400), []float64{1250}, 1},
		{"a band across the middle", sheet, geom.RectContour(300, 0, 700, 600), []float64{600, 600}, 2},
		{"touching nothing", sheet, geom.RectContour(300, 150, 700, 400), []float64{1300}, 0},
		{"past the notch of an L", ell, geom.RectContour(150, 120, 1000, 300), []float64{350 + 180 + 850}, 1},
	} {
		r := severed(t, c.sheet, c.remnant)
		var got []float64
		edge := 0
		for _, s := range r.Severing {
			got = append(got, math.Round(s.CutMM*1e6)/1e6)
			if s.FromEdge {
				edge++
			}
		}
		slices.Sort(got)
		if !slices.Equal(got, c.lengths) || edge != c.edge {
			t.Errorf("%s: cuts of %v mm, %d from the edge; want %v, %d", c.name, got, edge, c.lengths, c.edge)
		}
	}
}

// TestNothingToSever: an empty sheet is all remnant.
func TestNothingToSever(t *testing.T) {
	sheet := geom.RectContour(0, 0, 1000, 600)
	o := route.Defaults(1, 5)
	o.Sever = true
	if r, err := route.Plan(context.Background(), route.Input{Sheet: sheet, Remnant: sheet}, o); err != nil || len(r.Severing) != 0 || r.RapidMM != 0 {
		t.Errorf("%+v, %v", r, err)
	}
}

// TestSeverKeepsOffZones: a clamp may stand in a blocked zone beside the cut.
func TestSeverKeepsOffZones(t *testing.T) {
	sheet, remnant := geom.RectContour(0, 0, 1000, 600), geom.RectContour(500, 0, 1000, 600)
	r := severed(t, sheet, remnant, geom.RectContour(450, 300, 499.5, 340))
	if len(r.Severing) != 0 || !strings.Contains(strings.Join(r.Warnings, "\n"), "part it by hand") {
		t.Errorf("%d cuts, warnings %q", len(r.Severing), r.Warnings)
	}
	if r := severed(t, sheet, remnant, geom.RectContour(400, 300, 480, 340)); len(r.Severing) != 1 || len(r.Warnings) != 0 {
		t.Errorf("a zone well away: %d cuts, warnings %q", len(r.Severing), r.Warnings)
	}
}

// TestLeadsKeepOutOfTheRemnant: a remnant on all free sides of a part but one.
func TestLeadsKeepOutOfTheRemnant(t *testing.T) {
	in := input(geom.Shape{Outer: geom.RectContour(20, 20, 60, 60)}, geom.Shape{Outer: geom.RectContour(70, 20, 110, 60)})
	in.Sheet = geom.RectContour(0, 0, 400, 300)
	for _, x := range []float64{112, 113, 115} {
		in.Remnant = geom.RectContour(x, 0, 400, 300)
		r := plan(t, in, route.Defaults(1.02, 6))
		if len(r.Severing) != 0 || len(r.Warnings) != 0 {
			t.Errorf("remnant from %v: not asked for: %d cuts; warnings %q", x, len(r.Severing), r.Warnings)
		}
	}
}

// TestPierceLeavesWebToTheEdge: a part at the margin is begun from where the
// pierce keeps its web; boxed in, it says that it cannot.
func TestPierceLeavesWebToTheEdge(t *testing.T) {
	o := route.Defaults(1.02, 6)
	in := input(geom.Shape{Outer: geom.RectContour(4, 4, 60, 60)})
	in.Sheet = geom.RectContour(0, 0, 200, 200)
	r := plan(t, in, o)
	web := func(r route.Route, size float64) float64 {
		p := r.Cuts[0].Pierce
		return min(p[0], p[1], size-p[0], size-p[1]) - o.PierceMM
	}
	if got := web(r, 200); got < o.EdgeMM {
		t.Errorf("pierce at %v leaves a web of %.2f mm, want %v", r.Cuts[0].Pierce, got, o.EdgeMM)
	}
	const said = "less of a web to the sheet's edge"
	for _, c := range []struct {
		margin float64
		kept   bool
	}{{4, true}, {3, false}} {
		end := 60 + c.margin
		in := input(geom.Shape{Outer: geom.RectContour(c.margin, c.margin, 60, 60)})
		in.Sheet = geom.RectContour(0, 0, end, end)
		r := plan(t, in, o)
		text, got := strings.Join(r.Warnings, "\n"), web(r, end)
		if kept := got >= o.EdgeMM; kept != c.kept || kept == strings.Contains(text, said) {
			t.Errorf("boxed in by %v mm: a web of %.2f mm, warnings %q", c.margin, got, text)
		}
	}
}
