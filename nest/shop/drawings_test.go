package shop

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/geom/drawing"
)

// dxf draws contours and open paths.
func dxf(t *testing.T, contours []geom.Contour, paths ...geom.Path) string {
	t.Helper()
	var b bytes.Buffer
	sketch := drawing.Sketch{Layers: []drawing.SketchLayer{{Name: "CUT", Contours: contours, Paths: paths}}}
	if err := drawing.WriteDXF(&b, sketch); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

const need = "quantity: 4, material: test steel, thickness_mm: 6"

func drawnJob(keys string) string {
	return base + "orders:\n  - {id: K-1, drawing: parts/two.dxf, " + keys + need + "}\n"
}

// two parts: a plate with a round hole, and a triangle to its right, away from
// the origin.
func twoParts(t *testing.T) string {
	return dxf(t, []geom.Contour{
		geom.RectContour(1000, 500, 1080, 540),
		geom.CircleContour(orb.Point{1020, 520}, 10),
		geom.PolygonContour(orb.Point{1100, 500}, orb.Point{1150, 500}, orb.Point{1100, 530}),
	})
}

func TestDrawingParts(t *testing.T) {
	two := twoParts(t)
	plate, triangle := 80*40-math.Pi*100, 50*30/2.0
	tests := []struct {
		why, keys string
		ids       []string
		areas     []float64
		kit       string
	}{
		{"the first", "take: 1, ", []string{"K-1"}, []float64{plate}, ""},
		{"the second", "take: 2, ", []string{"K-1"}, []float64{triangle}, ""},
		{"both", "take: kit, ", []string{"K-1.1", "K-1.2"}, []float64{plate, triangle}, "K-1"},
		{"both, named", "take: kit, kit: Q, per_kit: 2, ", []string{"K-1.1", "K-1.2"}, []float64{plate, triangle}, "Q"},
		{"in inches", "take: 1, drawing_units: inches, rotations: [0], ", nil, nil, ""},
	}
	for _, tt := range tests {
		j, err := load(drawnJob(tt.keys), "parts/two.dxf", two)
		if tt.ids == nil {
			if err == nil || !strings.Contains(err.Error(), "the part, 2032 x 1016 mm, fits no sheet") {
				t.Errorf("%s: got %v", tt.why, err)
			}
			continue
		}
		if err != nil {
			t.Fatalf("%s: %v", tt.why, err)
		}
		for i, o := range j.Orders {
			if o.ID != tt.ids[i] || math.Abs(o.Shape.Area()-tt.areas[i]) > 1e-3 || o.Kit != tt.kit || o.Drawing != "parts/two.dxf" || o.Quantity != 4 {
				t.Errorf("%s: got %+v", tt.why, o)
			}
			checkShape(t, tt.why, o.Shape)
			if b := o.Shape.Bounds(); b.Min != (orb.Point{0, 0}) {
				t.Errorf("%s: the part lies at %v", tt.why, b)
			}
		}
		if len(j.Orders) != len(tt.ids) || len(j.Drawings) != 1 {
			t.Errorf("%s: %d orders, %d drawings", tt.why, len(j.Orders), len(j.Drawings))
		}
	}
}

func TestDrawingMessages(t *testing.T) {
	two := twoParts(t)
	open := dxf(t, []geom.Contour{geom.RectContour(0, 0, 80, 40)}, geom.Path{{P: orb.Point{10, 10}}, {P: orb.Point{30, 10}}, {P: orb.Point{30, 20}}})
	tests := []struct{ why, keys, file, want string }{
		{"not told which", "", two, "order K-1: parts/two.dxf holds 2 parts: 80 x 40 mm, 50 x 30 mm: say which with take: 1, counted from the left, or take: kit for all of them"},
		{"no third", "take: 3, ", two, "order K-1: take is 3, and parts/two.dxf holds 2 parts: write a number from 1 to 2"},
		{"odd words", "take: left, ", two, `order K-1: take is "left": write the number of the part, counted from the left as they lie in the drawing, or kit for all of them`},
		{"odd units", "take: 1, drawing_units: yard, ", two, `order K-1: drawing_units is "yard": use mm, cm, m, in or ft`},
		{"no drawing", "", "hello", "order K-1: drawing parts/two.dxf cannot be read"},
		{"an empty file", "", "", "order K-1: drawing parts/two.dxf cannot be read"},
		{"a layer that is not there", "take: 1, layers: [HOLES], ", two, "order K-1: parts/two.dxf holds no closed outline: draw the part as closed contours, or look at its layers"},
		{"an open chain", "", open, "or let the order say accept: [open-chain]"},
	}
	for _, tt := range tests {
		_, err := load(drawnJob(tt.keys), "parts/two.dxf", tt.file)
		if got := messages(err); got != tt.want && !strings.Contains(got, tt.want) {
			t.Errorf("%s: got\n%s\nwant\n%s", tt.why, got, tt.want)
		}
	}
	j := mustLoad(t, drawnJob("accept: [open-chain, spur], "), "parts/two.dxf", open)
	if got := strings.Join(j.Warnings, "\n"); !strings.Contains(got, `accept names "spur", which parts/two.dxf does not show: remove it`) {
		t.Errorf("warnings %q", got)
	}
}

// Layers in a table's cell are parted by bars; their names may hold spaces.
func TestLayersFromATable(t *testing.T) {
	var b bytes.Buffer
	sketch := drawing.Sketch{Layers: []drawing.SketchLayer{
		{Name: "CUT_OUT", Contours: []geom.Contour{geom.RectContour(0, 0, 80, 40)}},
		{Name: "CUT_IN", Contours: []geom.Contour{geom.CircleContour(orb.Point{20, 20}, 10)}},
		{Name: "FRAME", Contours: []geom.Contour{geom.RectContour(-10, -10, 100, 60)}},
	}}
	if err := drawing.WriteDXF(&b, sketch); err != nil {
		t.Fatal(err)
	}
	table := "id,drawing,layers,quantity,material,thickness_mm\nK-1,two.dxf,CUT OUT|CUT IN,1,test steel,6\n"
	j := mustLoad(t, tableJob, "orders.csv", table, "two.dxf", strings.ReplaceAll(b.String(), "CUT_", "CUT "))
	if got, want := j.Orders[0].Shape.Area(), 3200-math.Pi*100; math.Abs(got-want) > 1e-3 {
		t.Errorf("area %v, want %v", got, want)
	}
}

// A drawing that serves many orders is read, and told of, once.
func TestDrawingIsReadOnce(t *testing.T) {
	two := twoParts(t)
	job := base + "orders:\n"
	for _, id := range []string{"a", "b", "c"} {
		job += "  - {id: " + id + ", drawing: parts/two.dxf, take: 1, " + need + "}\n"
	}
	if j := mustLoad(t, job, "parts/two.dxf", two); len(j.Drawings) != 1 || len(j.Orders) != 3 {
		t.Errorf("%d drawings, %d orders", len(j.Drawings), len(j.Orders))
	}
}
