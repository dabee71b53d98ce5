package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// svgOf wraps elements in a page of 1 mm to the unit, 100 units high.
func svgOf(body string) []byte {
	return []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">` + body + `</svg>`)
}

// Path commands, in both cases, with what may be left out left out.
func TestPathCommands(t *testing.T) {
	square := "M10,10 L30,10 L30,30 L10,30 Z"
	for _, d := range []string{
		"M10 10 30 10 30 30 10 30z",
		"m10 10 20 0 0 20 -20 0z",
		"M10,10H30V30H10Z",
		"m10,10h20v20h-20z",
		"M10-20m0,30h2e1v.2e+2h-20.0z",
		"M10 10h10 10v20h-10-10z",
		"M 10 10 L 30 10 L 30 30 L 10 30 L 10 10",
		"M10 10C15 10 30 10 30 10S30 25 30 30Q25 30 20 30T10 30z",
	} {
		got, want := onePart(t, d), onePart(t, square)
		if math.Abs(got.Area()-400) > 1e-3 || dist(boundOf(got.Outer).Min, boundOf(want.Outer).Min) > 1e-3 {
			t.Errorf("%s: %v, want %v", d, got, want)
		}
	}
}

func onePart(t *testing.T, d string) geom.Shape {
	t.Helper()
	in, err := Read(d, svgOf(`<path d="`+d+`"/>`), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(in.Parts) != 1 || !in.Closed() {
		t.Fatalf("%s: %s, %d parts: %v", d, in.Verdict(), len(in.Parts), in.Findings)
	}
	return in.Parts[0]
}

// The four arcs between two points lie where the flags say: sweep 1 runs in
// the direction of growing angle, which is clockwise on the page; the large
// one is the longer way round.
func TestPathArcs(t *testing.T) {
	for _, c := range []struct {
		large, sweep int
		area         float64 // between arc and chord, in a circle of radius 10
		below        bool    // the arc lies below the chord on the page
	}{
		{0, 0, 25*math.Pi - 50, true},
		{0, 1, 25*math.Pi - 50, false},
		{1, 0, 75*math.Pi + 50, true},
		{1, 1, 75*math.Pi + 50, false},
	} {
		// A chord of 10·√2 in a circle of radius 10 stands for a quarter turn.
		d := fmt.Sprintf("M50 50A10 10 0 %d%d%g 50z", c.large, c.sweep, 50+10*math.Sqrt2)
		p := onePart(t, d)
		if math.Abs(p.Area()-c.area) > 1e-4 {
			t.Errorf("%s: area %v, want %v", d, p.Area(), c.area)
		}
		m := boundOf(p.Outer)
		if below := (m.Min[1]+m.Max[1])/2 < 50; below != c.below {
			t.Errorf("%s: extents %v, want the arc below: %v", d, m, c.below)
		}
		if len(p.Outer) > 4 {
			t.Errorf("%s: %d segments, want circular arcs kept", d, len(p.Outer))
		}
	}
}

// An arc too small for its chord grows until it fits; one without radius is a
// line.
func TestPathArcRadii(t *testing.T) {
	if p := onePart(t, "M20 50A1 1 0 0 1 60 50z"); math.Abs(p.Area()-math.Pi*400/2) > 1e-4 {
		t.Errorf("area %v, want half a circle of radius 20", p.Area())
	}
	if p := onePart(t, "M20 50A0 5 0 0 1 60 50L60 60z"); math.Abs(p.Area()-200) > 1e-4 {
		t.Errorf("area %v, want a triangle", p.Area())
	}
	if p := onePart(t, "M20 50A20 10 90 0 1 40 50A20 10 90 0 1 20 50z"); math.Abs(p.Area()-math.Pi*200) > 0.02 {
		t.Errorf("area %v, want an ellipse of 20 by 10 turned upright", p.Area())
	}
}

// Transforms nest, and act from right to left; y runs up in mm.
func TestTransforms(t *testing.T) {
	for _, c := range []struct {
		transform string
		want      orb.Bound // of a rectangle 0 0 20 10
	}{
		{"", orb.Bound{Min: orb.Point{0, 90}, Max: orb.Point{20, 100}}},
		{"translate(5)", orb.Bound{Min: orb.Point{5, 90}, Max: orb.Point{25, 100}}},
		{"translate(5,7) scale(2)", orb.Bound{Min: orb.Point{5, 73}, Max: orb.Point{45, 93}}},
		{"scale(2) translate(5 7)", orb.Bound{Min: orb.Point{10, 66}, Max: orb.Point{50, 86}}},
		{"rotate(90 50 50)", orb.Bound{Min: orb.Point{90, 80}, Max: orb.Point{100, 100}}},
		{"matrix(1,0,0,-1,0,100)", orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{20, 10}}},
		{"skewX(45)", orb.Bound{Min: orb.Point{0, 90}, Max: orb.Point{30, 100}}},
		{"skewY(45)", orb.Bound{Min: orb.Point{0, 70}, Max: orb.Point{20, 100}}},
		{"unknown(3) scale(1 2)", orb.Bound{Min: orb.Point{0, 80}, Max: orb.Point{20, 100}}},
	} {
		in, err := Read(c.transform, svgOf(`<g transform="`+c.transform+`"><rect width="20" height="10"/></g>`), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if dist(in.Bounds.Min, c.want.Min) > 1e-5 || dist(in.Bounds.Max, c.want.Max) > 1e-5 {
			t.Errorf("%s: %v, want %v", c.transform, in.Bounds, c.want)
		}
	}
}

// The scale comes from the job, the page and its view box, or the web's 96
// units to the inch, and the intake says which.
func TestSVGUnits(t *testing.T) {
	for _, c := range []struct {
		root  string
		o     Options
		width float64 // of a rectangle 48 units wide, mm
		unit  Unit
		from  string
	}{
		{`width="100mm" viewBox="0 0 100 100"`, Options{}, 48, Millimetre, "header"},
		{`width="5in" height="5in" viewBox="0 0 480 480"`, Options{}, 12.7, Inch, "header"},
		{`width="200mm" height="100mm" viewBox="0 0 100 100"`, Options{}, 48, Millimetre, "header"},
		{`width="200mm" height="100mm" viewBox="0 0 100 100" preserveAspectRatio="none"`, Options{}, 96, Millimetre, "header"},
		{`height="144pt" viewBox="0 0 96 96"`, Options{}, 25.4, Point, "header"},
		{`width="10cm"`, Options{}, 12.7, Centimetre, "header"},
		{`viewBox="0 0 100 100"`, Options{}, 12.7, Pixel, "assumed"},
		{`width="960" height="960" viewBox="0 0 480 480"`, Options{}, 25.4, Pixel, "assumed"},
		{`width="100%" height="100%" viewBox="0 0 9 9"`, Options{}, 12.7, Pixel, "assumed"},
		{`width="100mm" viewBox="0 0 100 100"`, Options{Units: Inch}, 48 * 25.4, Inch, "job"},
	} {
		in, err := Read(c.root, []byte(`<svg `+c.root+`><rect width="48" height="10"/></svg>`), c.o)
		if err != nil {
			t.Fatal(err)
		}
		if w := in.Bounds.Max[0] - in.Bounds.Min[0]; math.Abs(w-c.width) > 1e-4 || in.Units != c.unit || in.UnitsFrom != c.from {
			t.Errorf("%s: %v mm wide, %s from %s; want %v, %s from %s", c.root, w, in.Units, in.UnitsFrom, c.width, c.unit, c.from)
		}
	}
}

// Elements that use themselves, or each other, over and over, end.
func TestUseEnds(t *testing.T) {
	deep := strings.Repeat("<g>", 3000) + `<rect width="9" height="9"/>` + strings.Repeat("</g>", 3000)
	bomb := `<g id="a0"><rect width="9" height="9"/></g>`
	for i := range 40 {
		bomb += fmt.Sprintf(`<g id="a%d">%s</g>`, i+1, strings.Repeat(fmt.Sprintf(`<use href="#a%d" x="1"/>`, i), 10))
	}
	for _, body := range []string{`<g id="x"><use href="#x"/></g>`, deep, bomb} {
		in, err := Read("use", svgOf(body), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if in.Worst() != Problem {
			t.Errorf("%.30s: no problem is named", body)
		}
	}
}
