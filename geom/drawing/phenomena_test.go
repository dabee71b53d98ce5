package drawing

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// TestPhenomena reads one small drawing for each thing that real drawings do,
// and compares what is cut with what was drawn, computed by hand.
func TestPhenomena(t *testing.T) {
	pi := math.Pi
	for _, c := range []struct {
		file    string
		why     string
		o       Options
		parts   int
		holes   int
		open    int
		refused int
		area    float64 // of all parts, mm²
		kinds   []Kind  // findings that must be there
	}{
		{file: "bare-lines.dxf", why: "no header, no tables: lines alone make a drawing", parts: 1, area: 80 * 50, kinds: []Kind{UnitsAssumed}},
		{file: "arcs.dxf", why: "lines and arcs join end to end", parts: 1, holes: 1, area: 100*50 - 200 + 50*pi - 64*pi},
		{file: "old-polyline.dxf", why: "POLYLINE bulges are half circles; a curve's control point is no corner", parts: 1, holes: 1, area: 60*30 + 225*pi - 200},
		{file: "gaps.dxf", why: "gaps under 0.01 mm close, wider ones are shown", parts: 1, open: 2, area: 50 * 30, kinds: []Kind{GapClosed, GapSuggested, OpenChain}},
		{file: "gaps.dxf", why: "a wider tolerance closes the rest", o: Options{JoinTolerance: 0.5}, parts: 2, area: 2 * 50 * 30, kinds: []Kind{GapClosed}},
		{file: "near-closed.dxf", why: "one chain with its ends 0.06 mm apart was meant to close", parts: 1, area: 40 * 20, kinds: []Kind{GapClosed}},
		{file: "duplicates.dxf", why: "what is drawn twice is cut once", parts: 2, holes: 1, area: 2*1600 - 25*pi, kinds: []Kind{Duplicate, Overlap, ZeroLength, Speck}},
		{file: "shared-edge.dxf", why: "an edge drawn for both neighbours is not drawn twice", parts: 2, area: 2 * 900},
		{file: "branch.dxf", why: "a line across and a line off a corner do not hide the contour", parts: 2, open: 2, area: 1200 + 900, kinds: []Kind{Branch, OpenChain}},
		{file: "islands.dxf", why: "a contour in a hole is a part again", parts: 3, holes: 3, area: 1e4 - 1600*pi + 900 - 25*pi + 2400 - 100*pi, kinds: []Kind{Island}},
		{file: "islands.dxf", why: "unless the job refuses it; the other part stays", o: Options{RefuseIslands: true}, parts: 1, holes: 1, refused: 4, area: 2400 - 100*pi, kinds: []Kind{Island}},
		{file: "bow-tie.dxf", why: "inside and outside are not told", refused: 1, kinds: []Kind{SelfCrossing, NoContour}},
		{file: "overrun-corner.dxf", why: "a corner overrun by 0.2 mm is cut off", parts: 1, area: 2000, kinds: []Kind{LoopTrimmed}},
		{file: "figure-eight.dxf", why: "two triangles that meet at a point", parts: 2, area: 800, kinds: []Kind{Touching}},
		{file: "spur.dxf", why: "a line out and back encloses nothing", parts: 1, area: 900, kinds: []Kind{Spur}},
		{file: "hook-back.dxf", why: "a corner overrun and taken back", parts: 1, area: 30.2 * 20, kinds: []Kind{Spur}},
		{file: "keyhole.dxf", why: "a hole tied to its outline by a bridge drawn twice", parts: 1, holes: 1, area: 60*40 - 20*20, kinds: []Kind{Spur, Touching}},
		{file: "crossing.dxf", why: "a part with a hole across its edge is refused, the other stays", parts: 1, refused: 2, area: 400, kinds: []Kind{Crossing}},
		{file: "touching.dxf", why: "contours that touch do not cross", parts: 4, area: 200*pi + 800},
		{file: "slit.dxf", why: "a closed chain of two vertices is a line", parts: 1, open: 1, area: 1500, kinds: []Kind{OpenChain}},
		{file: "blocks.dxf", why: "nested, arrayed, turned, stretched and mirrored blocks", parts: 4, holes: 10, area: 6000 - 9*4*pi - 8*pi + 4*(200-100+25*pi), kinds: []Kind{CurveFitted}},
		{file: "block-faults.dxf", why: "blocks that are missing, recursive or elsewhere are named", parts: 1, holes: 1, area: 400 - pi, kinds: []Kind{BlockMissing, BlockRecursive}},
		{file: "block-layers.dxf", why: "layer 0 and linetype ByBlock come from the insert; a frozen insert hides all", parts: 2, holes: 1, area: 100 - 4*pi + 4*pi, kinds: []Kind{HiddenLayer, Construction}},
		{file: "mirrored.dxf", why: "extrusion (0,0,-1) mirrors; a tilted circle is an ellipse from above", parts: 4, area: 200 + 25*pi + 25*pi + 25*pi + 80*pi, kinds: []Kind{NotFlat}},
		{file: "not-flat.dxf", why: "the plan view counts", parts: 1, area: 900, kinds: []Kind{NotFlat}},
		{file: "layers.dxf", why: "hidden, frozen, dashed and annotation layers are left out", parts: 1, holes: 1, area: 6000 - 100*pi, kinds: []Kind{HiddenLayer, AnnotationLayer, Construction, Annotation, Invisible, PaperSpace, Unreadable}},
		{file: "layers.dxf", why: "the job's layers win over what the drawing hides", o: Options{Layers: []string{"cut", "old", "hidden edges"}}, parts: 1, holes: 3, area: 6000 - 150*pi, kinds: []Kind{Construction, LayerExcluded}},
		{file: "layers.dxf", why: "the job excludes a layer, and names one that is not there", o: Options{Exclude: []string{"CUT", "nope"}}, kinds: []Kind{LayerExcluded, LayerUnknown, NoContour}},
		{file: "dashed-only.dxf", why: "when all is dashed, that is the outline", parts: 1, area: 600, kinds: []Kind{Construction}},
		{file: "inches.dxf", why: "header unit", parts: 1, area: 96 * 25.4 * 25.4},
		{file: "inches.dxf", why: "the job's unit wins", o: Options{Units: Centimetre}, parts: 1, area: 9600},
		{file: "metres.dxf", why: "a part of 12 m is not likely", parts: 1, area: 96e6, kinds: []Kind{UnitsImplausible}},
		{file: "unit-missing.dxf", why: "no unit: mm, and said so", parts: 1, area: 96, kinds: []Kind{UnitsAssumed}},
		{file: "imperial-only.dxf", why: "the measurement system counts", parts: 1, area: 96 * 25.4 * 25.4, kinds: []Kind{UnitsAssumed}},
		{file: "metric-only.dxf", why: "the measurement system counts", parts: 1, area: 96, kinds: []Kind{UnitsAssumed}},
		{file: "unit-odd.dxf", why: "a unit in astronomical lengths is not believed", parts: 1, area: 96, kinds: []Kind{UnitsUnknown}},
		{file: "far-away.dxf", why: "drawn in the coordinates of the land", parts: 1, holes: 1, area: 1500 - 25*pi, kinds: []Kind{Moved}},
		{file: "stray-point.dxf", why: "a stray far off does not spoil the rest", parts: 1, area: 1500, kinds: []Kind{OutOfRange}},
		{file: "utf16.dxf", why: "UTF-16 with byte order mark", parts: 1, area: 600},
		{file: "utf16be.dxf", why: "UTF-16, high byte first, without one", parts: 1, area: 600},
		{file: "bom.dxf", why: "UTF-8 with byte order mark", parts: 1, area: 600},
		{file: "carriage-returns.dxf", why: "lines end with carriage returns alone", parts: 1, area: 600},
		{file: "truncated.dxf", why: "what is there is read", open: 1, kinds: []Kind{Truncated, OpenChain}},
		{file: "stray-line.dxf", why: "reading finds its step again", parts: 1, area: 600, kinds: []Kind{StrayLine}},
		{file: "decimal-commas.dxf", why: "decimal commas are understood", parts: 1, area: 30.5 * 20.25, kinds: []Kind{BadNumber}},
		{file: "not-a-number.dxf", why: "entities with numbers that are none are left out and named", parts: 1, area: 600, kinds: []Kind{BadEntity}},
		{file: "binary-2000.dxf", why: "binary with codes of two bytes", parts: 1, holes: 2, area: (8 - pi/16 - pi/8) * 25.4 * 25.4},
		{file: "binary-12.dxf", why: "binary with codes of one byte", parts: 1, holes: 2, area: (8 - pi/16 - pi/8) * 25.4 * 25.4},
		{file: "shapes.svg", why: "every basic shape, and three pieces that join", parts: 3, holes: 2, area: 2400 - (36*4 - 36*pi) - 36*pi - 50*pi + 2*1600},
		{file: "svg-layers.svg", why: "hidden layers and elements, dashes, no paint", parts: 1, holes: 1, area: 48*48 - 25*pi, kinds: []Kind{HiddenLayer, Invisible, Construction, Annotation, AnnotationLayer}},
		{file: "svg-broken.svg", why: "read as far as it goes", parts: 1, holes: 2, area: 48*48 - 25*pi - 4*pi, kinds: []Kind{Truncated, Clipped}},
	} {
		t.Run(c.file, func(t *testing.T) {
			in, err := Read(c.file, readFile(t, c.file), c.o)
			if err != nil {
				t.Fatal(err)
			}
			checkIntake(t, in)
			area, holes := 0.0, 0
			for _, p := range in.Parts {
				area += p.Area()
				holes += len(p.Holes)
			}
			if len(in.Parts) != c.parts || holes != c.holes || len(in.Open) != c.open || len(in.Refused) != c.refused {
				t.Errorf("%s: %d parts, %d holes, %d open, %d refused; want %d, %d, %d, %d",
					c.why, len(in.Parts), holes, len(in.Open), len(in.Refused), c.parts, c.holes, c.open, c.refused)
			}
			// Gaps of up to 0.06 mm are closed in these drawings, and curves
			// fitted within CurveTolerance.
			if tol := math.Max(0.5, 1e-4*c.area); math.Abs(area-c.area) > tol {
				t.Errorf("%s: area %.3f mm², want %.3f", c.why, area, c.area)
			}
			for _, k := range c.kinds {
				if !hasKind(in, k) {
					t.Errorf("%s: no finding of kind %s", c.why, k)
				}
			}
		})
	}
}

func hasKind(in Intake, k Kind) bool {
	return slices.ContainsFunc(in.Findings, func(f Finding) bool { return f.Kind == k })
}

// Arcs must stay arcs: a slot is four segments, a circle two.
func TestArcsStayArcs(t *testing.T) {
	in, err := Read("arcs.dxf", readFile(t, "arcs.dxf"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	want := geom.Contour{
		{P: orb.Point{0, 10}, Bulge: math.Tan(math.Pi / 8)},
		{P: orb.Point{10, 0}},
		{P: orb.Point{90, 0}, Bulge: math.Tan(math.Pi / 8)},
		{P: orb.Point{100, 10}},
		{P: orb.Point{100, 50}},
		{P: orb.Point{0, 50}},
	}
	if !sameContour(in.Parts[0].Outer, want, 1e-6) {
		t.Errorf("outer contour %v, want %v", in.Parts[0].Outer, want)
	}
	if hole := in.Parts[0].Holes[0]; len(hole) != 2 || hole[0].Bulge != -1 || hole[1].Bulge != -1 {
		t.Errorf("hole %v, want two half circles, clockwise", hole)
	}
}

// sameContour reports whether two contours have the same vertices and bulges
// within tol, whatever vertex they start with. Contours run the same way.
func sameContour(a, b geom.Contour, tol float64) bool {
	if len(a) != len(b) {
		return false
	}
	for shift := range b {
		same := true
		for i := range a {
			k := (i + shift) % len(b)
			if dist(a[i].P, b[k].P) > tol || math.Abs(a[i].Bulge-b[k].Bulge) > tol {
				same = false
				break
			}
		}
		if same {
			return true
		}
	}
	return false
}

// A spline that draws a circle comes back as half circles; other curves come
// back as few arcs, tangent to one another.
func TestCurvesBecomeTangentArcs(t *testing.T) {
	in, err := Read("curves.dxf", readFile(t, "curves.dxf"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(in.Parts) != 5 {
		t.Fatalf("%d parts, want 5", len(in.Parts))
	}
	circle := in.Parts[0].Outer
	if len(circle) > 3 || math.Abs(circle.Area()-100*math.Pi) > 1e-3 {
		t.Errorf("circle drawn as a rational spline: %d segments, area %.4f, want at most 3 and %.4f", len(circle), circle.Area(), 100*math.Pi)
	}
	ellipse := in.Parts[1].Outer
	if math.Abs(ellipse.Area()-200*math.Pi) > 0.02 || len(ellipse) > 60 {
		t.Errorf("ellipse: %d segments, area %.4f, want at most 60 and %.4f", len(ellipse), ellipse.Area(), 200*math.Pi)
	}
	for i := range ellipse {
		s, next := segmentOf(ellipse, i), segmentOf(ellipse, (i+1)%len(ellipse))
		if d := dot(s.direction(1), next.direction(0)); d < 1-1e-6 {
			t.Errorf("corner of %.4f° at %v", math.Acos(d)*180/math.Pi, s.b)
		}
		p := orb.Point{(s.middle()[0] - 60) / 20, s.middle()[1] / 10}
		if r := math.Hypot(p[0], p[1]); math.Abs(r-1)*10 > 2*CurveTolerance {
			t.Errorf("arc leaves the ellipse at %v by about %.4f mm", s.middle(), math.Abs(r-1)*10)
		}
	}
}

// Names of layers survive every encoding.
func TestLayerNames(t *testing.T) {
	for _, c := range []struct{ file, layer string }{
		{"utf16.dxf", "Träger"},
		{"utf16be.dxf", "Träger"},
		{"bom.dxf", "Träger"},
		{"codepage.dxf", "Контур"},
		{"escaped-name.dxf", "Träger"},
	} {
		in, err := Read(c.file, readFile(t, c.file), Options{Layers: []string{strings.ToUpper(c.layer)}})
		if err != nil {
			t.Fatal(err)
		}
		if len(in.Parts) != 1 || len(in.Layers) != 1 || in.Layers[0].Name != c.layer {
			t.Errorf("%s: %d parts, layers %v, want one part on layer %s", c.file, len(in.Parts), in.Layers, c.layer)
		}
	}
}

// Findings say where: line, handle and place.
func TestFindingsSayWhere(t *testing.T) {
	in, err := Read("bow-tie.dxf", readFile(t, "bow-tie.dxf"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(in.Findings, func(f Finding) bool { return f.Kind == SelfCrossing })
	if i < 0 {
		t.Fatal("no finding of the crossing")
	}
	f := in.Findings[i]
	if f.Line != 20 || f.Handle != "21" || dist(f.At, orb.Point{20, 15}) > 1e-6 {
		t.Errorf("finding %+v, want line 20, handle 21, at 20, 15", f)
	}
}

// What is no drawing is refused with what it is and what to do.
func TestRefusals(t *testing.T) {
	for _, c := range []struct{ data, want string }{
		{"", "empty"},
		{"  \r\n ", "empty"},
		{"AC1027\x00\x00\x00\x00\x00", "DWG"},
		{"%PDF-1.7", "PDF"},
		{"PK\x03\x04zip", "zip"},
		{"\x89PNG\r\n\x1a\n", "picture"},
		{"ISO-10303-21;", "STEP"},
		{"<html><body>", "web page"},
		{"G0 X0 Y0\nG1 X10\n", "neither DXF nor SVG"},
		{"0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n", "no entities"},
	} {
		_, err := Read("order 7/part.dxf", []byte(c.data), Options{})
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "order 7/part.dxf: ") {
			t.Errorf("%.12q: error %v, want one that says %q", c.data, err, c.want)
		}
	}
	for _, o := range []Options{{Units: "furlong"}, {JoinTolerance: -1}, {JoinTolerance: math.NaN()}, {JoinTolerance: 25}, {JoinTolerance: 1e-9}} {
		if _, err := Read("x", readFile(t, "inches.dxf"), o); err == nil {
			t.Errorf("options %+v are accepted", o)
		}
	}
}
