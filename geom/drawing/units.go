package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// A Unit is a length unit of a drawing.
type Unit string

const (
	UnitAuto       Unit = "" // from the header, else stated assumption
	Micrometre     Unit = "um"
	Millimetre     Unit = "mm"
	Centimetre     Unit = "cm"
	Decimetre      Unit = "dm"
	Metre          Unit = "m"
	Mil            Unit = "mil" // a thousandth of an inch
	Inch           Unit = "in"
	Foot           Unit = "ft"
	Yard           Unit = "yd"
	Pixel          Unit = "px" // 1/96 inch, the unit of the web
	Point          Unit = "pt" // 1/72 inch
	Pica           Unit = "pc" // 1/6 inch
	UnitUnresolved Unit = "?"  // a header code that names no unit we know
)

// mmPer gives each unit's length in mm. The inch is 25.4 mm by international
// agreement (1959); pixel, point and pica are parts of it by the CSS
// recommendation.
var mmPer = map[Unit]float64{
	Micrometre: 0.001, Millimetre: 1, Centimetre: 10, Decimetre: 100, Metre: 1000,
	Mil: 0.0254, Inch: 25.4, Foot: 304.8, Yard: 914.4,
	Pixel: 25.4 / 96, Point: 25.4 / 72, Pica: 25.4 / 6,
}

// MM returns the unit's length in mm; ok is false for a unit without one.
func (u Unit) MM() (mm float64, ok bool) {
	mm, ok = mmPer[u]
	return mm, ok
}

// ParseUnit reads a unit as people write it: "mm", "in", "inch", "inches" …
func ParseUnit(s string) (Unit, error) {
	s = strings.ToLower(strings.TrimSpace(s))
	if u, ok := unitWords[s]; ok {
		return u, nil
	}
	if _, ok := mmPer[Unit(s)]; ok {
		return Unit(s), nil
	}
	return UnitAuto, fmt.Errorf("unit %q is not known; use one of um, mm, cm, dm, m, mil, in, ft, yd", s)
}

var unitWords = map[string]Unit{
	"": UnitAuto, "auto": UnitAuto,
	"millimetre": Millimetre, "millimetres": Millimetre, "millimeter": Millimetre, "millimeters": Millimetre,
	"centimetre": Centimetre, "centimetres": Centimetre, "centimeter": Centimetre, "centimeters": Centimetre,
	"metre": Metre, "metres": Metre, "meter": Metre, "meters": Metre,
	"inch": Inch, "inches": Inch, "\"": Inch, "foot": Foot, "feet": Foot, "'": Foot, "yard": Yard, "yards": Yard,
	"thou": Mil, "mils": Mil, "micron": Micrometre, "microns": Micrometre, "µm": Micrometre,
}

// insUnits are the values of $INSUNITS that name a length a part may be drawn
// in (DXF reference).
var insUnits = map[int]Unit{
	1: Inch, 2: Foot, 4: Millimetre, 5: Centimetre, 6: Metre,
	9: Mil, 10: Yard, 13: Micrometre, 14: Decimetre,
}

// unitsOf decides in which unit a DXF is drawn: the job's word, else the
// header's unit, else its measurement system, else millimetres.
func (d *document) unitsOf(o Options) (u Unit, from string) {
	if _, ok := o.Units.MM(); ok {
		return o.Units, "job"
	}
	if u, ok := insUnits[d.units]; ok {
		return u, "header"
	}
	switch {
	case d.units != 0:
		return UnitUnresolved, "assumed"
	case d.metric == 1:
		return Millimetre, "measurement"
	case d.metric == 0:
		return Inch, "measurement"
	}
	return Millimetre, "assumed"
}

// Sizes in mm between which a flat part to be cut is plausible: the feature
// size of a waterjet's kerf at one end, the longest common tables at the other
// (common practice).
const (
	smallestPlausible = 2.0
	largestPlausible  = 8000.0
)

// judgeUnits adds what must be said about the unit, given the size drawn.
func judgeUnits(l *log, u Unit, from string, size orb.Bound) {
	if size.IsEmpty() {
		return
	}
	w, h := size.Max[0]-size.Min[0], size.Max[1]-size.Min[1]
	as := describe(w, h)
	switch {
	case u == UnitUnresolved:
		l.add(Finding{Kind: UnitsUnknown, Level: Suspect, Text: "the header names a unit that no part is drawn in; read as mm, which makes the drawing " + as + ": state the unit in the job"})
	case from == "assumed" && u == Pixel:
		l.add(Finding{Kind: UnitsAssumed, Level: Suspect, Text: "the drawing names no unit; read as pixels of 1/96 inch, which makes it " + as + inUnits(w, h, u, Millimetre) + ": state the unit in the job"})
	case from == "assumed":
		l.add(Finding{Kind: UnitsAssumed, Level: Suspect, Text: "the drawing names no unit; read as mm, which makes it " + as + inUnits(w, h, u, Inch) + ": state the unit in the job"})
	case from == "measurement" && u == Inch:
		l.add(Finding{Kind: UnitsAssumed, Level: Suspect, Text: "the header names no unit, only the imperial system; read as inches, which makes the drawing " + as + inUnits(w, h, u, Millimetre) + ": state the unit in the job"})
	case from == "measurement":
		l.add(Finding{Kind: UnitsAssumed, Level: Note, Text: "the header names no unit, only the metric system; read as mm, which makes the drawing " + as})
	}
	if big := max(w, h); big < smallestPlausible || big > largestPlausible {
		l.add(Finding{Kind: UnitsImplausible, Level: Suspect, Text: "in " + words[u] + " the drawing is " + as + ", which no flat part is likely to be; check its unit, and that nothing lies far off"})
	}
}

// inUnits says how large the drawing would be in another unit.
func inUnits(w, h float64, is, other Unit) string {
	a, _ := is.MM()
	b, _ := other.MM()
	return " (in " + words[other] + " it would be " + describe(w/a*b, h/a*b) + ")"
}

// describe writes a size, both sides to the same decimal.
func describe(w, h float64) string {
	n := decimals(w, h)
	return fixed(w, n) + " × " + fixed(h, n) + " mm"
}

// decimals is how many decimals the sizes in a drawing of a given size are
// written with, in mm.
func decimals(w, h float64) int {
	if max(w, h) < 10 {
		return 3
	}
	return 1
}

// fixed writes a figure to n decimals, never as minus nothing.
func fixed(v float64, n int) string {
	text := strconv.FormatFloat(v, 'f', n, 64)
	if text[0] == '-' && strings.Trim(text, "-0.") == "" {
		return text[1:]
	}
	return text
}

// number writes a length with three digits, or to 0.1 when it is longer.
func number(v float64) string {
	switch {
	case v == 0 || math.Abs(v) >= 100:
		return fmt.Sprintf("%.1f", v)
	default:
		return fmt.Sprintf("%.3g", v)
	}
}

// some writes a figure to n decimals, and one too small for them as less than
// the last.
func some(v float64, n int) string {
	if least := math.Pow10(-n); v > 0 && v < least/2 {
		return "<" + fixed(least, n)
	}
	return fixed(v, n)
}

// place writes a point in mm.
func place(p orb.Point) string { return fixed(p[0], 2) + ", " + fixed(p[1], 2) }

// words names the units as text does.
var words = map[Unit]string{
	Micrometre: "micrometres", Millimetre: "mm", Centimetre: "cm", Decimetre: "dm", Metre: "metres",
	Mil: "mils", Inch: "inches", Foot: "feet", Yard: "yards", Pixel: "pixels of 1/96 inch", Point: "points", Pica: "picas",
	UnitUnresolved: "an unknown unit, taken as mm",
}

// mm writes a length with its unit.
func mm(v float64) string { return number(v) + " mm" }
