package shop

import (
	"math"
	"strings"
	"testing"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/geom/drawing"
)

func TestParseLength(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{{"3", 3}, {"1/8 in", 3.175}, {"1 1/2 in", 38.1}, {"2 cm", 20}, {"0.125\"", 3.175}} {
		if got, err := ParseLength(c.text); err != nil || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%q: %v, %v; want %v", c.text, got, err, c.want)
		}
	}
	for _, text := range []string{"", "three", "3 parsec", "3,5 mm"} {
		if _, err := ParseLength(text); err == nil {
			t.Errorf("%q is taken for a length", text)
		}
	}
}

func TestFindMaterialRefusesAsbestos(t *testing.T) {
	_, err := FindMaterial(map[string]cost.Material{"cork": {}}, "asbestos board")
	if err == nil || !strings.Contains(err.Error(), "holds asbestos") {
		t.Errorf("an asbestos sheet nobody described: %v", err)
	}
	if _, err = FindMaterial(map[string]cost.Material{"cork": {}}, "asbestos-free board"); err == nil || !strings.Contains(err.Error(), "not known") {
		t.Errorf("a sheet free of it that nobody described: %v", err)
	}
}

func TestParseSize(t *testing.T) {
	for _, c := range []struct {
		text string
		area float64
	}{{"120x80", 9600}, {"120 × 80", 9600}, {"4x2 in", 8 * 25.4 * 25.4}, {"90", math.Pi * 45 * 45}, {"2 in", math.Pi * 25.4 * 25.4}} {
		s, err := ParseSize(c.text)
		if err != nil || math.Abs(s.Area()-c.area) > 1e-3 {
			t.Errorf("%q: area %v, %v; want %v", c.text, s.Area(), err, c.area)
		}
		if b := s.Bounds(); math.Abs(b.Min[0]) > geom.Grid || math.Abs(b.Min[1]) > geom.Grid {
			t.Errorf("%q lies at %v", c.text, b.Min)
		}
	}
	for _, text := range []string{"", "x", "1x2x3", "0x5", "ax5", "1e9", "-4"} {
		if s, err := ParseSize(text); err == nil {
			t.Errorf("%q is taken for a size: %v", text, s)
		}
	}
}

func TestDrawnParts(t *testing.T) {
	good := drawing.Intake{Parts: []geom.Shape{{Outer: geom.RectContour(50, 60, 70, 90)}}}
	parts, err := DrawnParts(good)
	if err != nil || len(parts) != 1 || parts[0].Area() != 600 || parts[0].Bounds().Min[0] != 0 {
		t.Errorf("%v, %v", parts, err)
	}
	good.Open = []geom.Path{{}}
	if _, err := DrawnParts(good); err == nil || !strings.Contains(err.Error(), "1 open") {
		t.Errorf("open chain: %v", err)
	}
}

func TestDemoJobIsSound(t *testing.T) {
	for _, m := range DemoJob().Machines {
		if err := m.Validate(); err != nil {
			t.Error(err)
		}
	}
}
