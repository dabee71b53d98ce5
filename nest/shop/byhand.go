package shop

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/geom/drawing"
)

// ParseLength reads a length with its unit, such as 1/8 in; a plain number is
// millimetres.
func ParseLength(s string) (mm float64, err error) {
	number, name := splitUnit(s)
	x, mend := parseNumber(number)
	if mend != "" {
		return 0, fmt.Errorf("%s is no length: %s, such as 3 or %s", quoteText(s), mend, length.example)
	}
	if name == "" {
		return x, nil
	}
	u := length.named(name)
	if u == nil {
		return 0, fmt.Errorf("%s is in %q, which is no unit of length known here: use %s", quoteText(s), name, listing(length.names()))
	}
	return x * u.size, nil
}

// ParseSize reads the size of a plain part or sheet: 120x80 is a rectangle, 90
// a disc; millimetres, or a unit behind the last number.
func ParseSize(s string) (geom.Shape, error) {
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == 'x' || r == '×' || r == '*' })
	if len(words) < 1 || len(words) > 2 {
		return geom.Shape{}, fmt.Errorf("%s is no size: write 120x80 for a rectangle or 90 for a disc", quoteText(s))
	}
	_, unit := splitUnit(words[len(words)-1])
	size := make([]float64, len(words))
	for i, w := range words {
		if _, own := splitUnit(w); own == "" {
			w += " " + unit
		}
		x, err := ParseLength(strings.TrimSpace(w))
		if err != nil {
			return geom.Shape{}, err
		}
		if !partSize.allows(x) {
			return geom.Shape{}, fmt.Errorf("%s: %s mm: %s", quoteText(s), short(x), partSize.text("mm"))
		}
		size[i] = x
	}
	if len(size) == 1 {
		return normal(geom.Shape{Outer: geom.CircleContour(orb.Point{size[0] / 2, size[0] / 2}, size[0]/2)}), nil
	}
	return normal(geom.Shape{Outer: geom.RectContour(0, 0, size[0], size[1])}), nil
}

// CheckThickness refuses a thickness that no sheet has, as a job file does.
func CheckThickness(mm float64) error {
	if !thickness.allows(mm) {
		return fmt.Errorf("%s mm: %s", short(mm), thickness.text("mm"))
	}
	return nil
}

// CheckQuantity refuses a number of parts that a job file would not take.
func CheckQuantity(n int) error {
	if n < 1 || n > maxQuantity {
		return fmt.Errorf("%d parts: give a whole number from 1 to %d", n, maxQuantity)
	}
	return nil
}

// DrawnParts returns the parts of a drawing that was read, each at its own
// lower left corner. A drawing whose contours do not all close is an error.
func DrawnParts(in drawing.Intake) ([]geom.Shape, error) {
	if !in.Closed() {
		return nil, fmt.Errorf("%s: %d parts, %d open chains, %d contours that cannot be cut: mend the drawing, see inspect", in.Name, len(in.Parts), len(in.Open), len(in.Refused))
	}
	out := make([]geom.Shape, len(in.Parts))
	for i, p := range in.Parts {
		out[i] = normal(p)
	}
	return out, nil
}

// OrderByHand is an order that no file describes: a quarter turn any way, edges
// of the grade given, no due date.
func OrderByHand(id string, s geom.Shape, quantity int, material string, thicknessMM float64, g cost.Grade) Order {
	return Order{
		ID: id, Part: id, Shape: s, Quantity: quantity, Material: material, ThicknessMM: roundThickness(thicknessMM),
		Grade: g, Angles: slices.Clone(quarterTurns), Where: "command line",
	}
}

// SheetByHand is a rectangular sheet that no file describes.
func SheetByHand(id, material string, thicknessMM, x, y, price float64) Stock {
	return Stock{
		ID: id, Material: material, ThicknessMM: roundThickness(thicknessMM),
		Outline: geom.RectContour(0, 0, geom.Snap(x), geom.Snap(y)), Count: 1, Cost: price, Source: "command line", Where: "command line",
	}
}

// DemoJob is a job without orders or stock: the built-in materials, two machines
// and demo prices, for a first look before a shop has written its own.
func DemoJob() *Job {
	return &Job{
		Name: "demo", Materials: cost.BuiltinMap(), Rates: cost.DefaultRates(), Spacing: math.NaN(), Margin: math.NaN(), Gaps: map[string]Gap{},
		Machines: []cost.Machine{
			{
				ID: "demo abrasive jet", Process: cost.Abrasive, PressureMPa: 380, MotorKW: 37, OrificeMM: 0.33, TubeMM: 1.02, AbrasiveGPerMin: 400,
				TableXMM: 3000, TableYMM: 2000, MaxStackMM: 60, MaxLayers: 20, HoursPerDay: 8, Source: cost.Demo,
			},
			{
				ID: "demo plain jet", Process: cost.Plain, PressureMPa: 350, MotorKW: 22, OrificeMM: 0.2,
				TableXMM: 3000, TableYMM: 2000, MaxStackMM: 100, HoursPerDay: 8, Source: cost.Demo,
			},
		},
	}
}

// FindMaterial finds a material by a name written a little differently.
func FindMaterial(materials map[string]cost.Material, written string) (name string, err error) {
	names := newNameList(sortedKeys(materials))
	name, ok := names.find(written)
	if !ok {
		name = written // a forbidden sheet is refused, known or not
	}
	if isAsbestos(materials[name], name) {
		return "", fmt.Errorf("%s holds asbestos: no such sheet is cut here; ask your safety officer", name)
	}
	if !ok {
		return "", fmt.Errorf("%s is not known; %s", quoteText(written), materialMeant(written, names.names))
	}
	return name, nil
}
