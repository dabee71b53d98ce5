package shop

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"kerfold/geom"
	"kerfold/geom/drawing"
)

// drawingKeys belong to an order that comes from a drawing.
var drawingKeys = []string{"drawing", "drawing_units", "layers", "exclude_layers", "take", "accept"}

func (f *fields) knowDrawing() { f.known = append(f.known, drawingKeys...) }

// knowShapes makes the keys of all shapes known, so that a missing or
// misspelled shape is not followed by complaints about its sizes.
func (f *fields) knowShapes() {
	for _, got := range f.v.fields {
		if isShapeKey(got.key) {
			f.known = append(f.known, got.key)
		}
	}
}

func isShapeKey(key string) bool {
	for _, base := range []string{
		"width", "height", "diameter", "bore", "bolt_circle", "bolt_hole", "corner_radius",
		"across_flats", "across_corners", "points", "size",
	} {
		if slices.Contains(length.keys(base), key) {
			return true
		}
	}
	return slices.Contains([]string{"sides", "bolts", "holes", "bolt_slot_deg", "bolt_start_deg"}, key)
}

// drawnOrders makes an order of each part that is taken from a drawing.
func (l *loader) drawnOrders(f *fields, o *Order) []Order {
	opt := f.drawingOptions()
	accept := f.words("accept")
	take, takeAt, taken := f.takeWord()
	file, ok := f.text("drawing")
	if !ok {
		return nil
	}
	f.noSizes()
	d := l.drawing(f, file, opt)
	if d == nil || f.faulty && !taken {
		return nil
	}
	o.Drawing = d.name
	if o.Part == "" {
		o.Part = partName(d.name)
	}
	l.findings(f, d, accept)
	picked := f.pick(d, take, takeAt)
	return f.asOrders(o, d, picked, take == takeKit)
}

// noSizes refuses the sizes of a plain shape beside a drawing.
func (f *fields) noSizes() {
	for _, got := range f.v.fields {
		if isShapeKey(got.key) {
			f.known = append(f.known, got.key)
			f.fault(got.at, got.key+" belongs to a plain shape, and this order has a drawing", "remove one of them")
		}
	}
}

func (f *fields) drawingOptions() drawing.Options {
	var opt drawing.Options
	if v, ok := f.scalar("drawing_units"); ok {
		if u := length.named(v.text); u != nil {
			opt.Units = drawing.Unit(u.suffix)
		} else {
			f.fault(v.at, fmt.Sprintf("drawing_units is %s", quoteText(v.text)), "use "+listing(length.names()))
		}
	}
	opt.Layers = f.words("layers")
	opt.Exclude = f.words("exclude_layers")
	return opt
}

// takeKit takes every part of a drawing, as one kit.
const takeKit = -1

// takeWord reads which parts of a drawing are meant: a number from 1, or kit.
// 0 is not told.
func (f *fields) takeWord() (take int, at spot, ok bool) {
	v, given := f.scalar("take")
	if !given {
		return 0, f.at("drawing"), !f.has("take")
	}
	if strings.EqualFold(v.text, "kit") {
		return takeKit, v.at, true
	}
	n, err := strconv.Atoi(v.text)
	if err != nil || n < 1 {
		f.fault(v.at, fmt.Sprintf("take is %s", quoteText(v.text)),
			"write the number of the part, counted from the left as they lie in the drawing, or kit for all of them")
		return 0, v.at, false
	}
	return n, v.at, true
}

// pick chooses the parts of a drawing an order means.
func (f *fields) pick(d *drawn, take int, at spot) []geom.Shape {
	parts := d.intake.Parts
	switch {
	case len(parts) == 0:
		f.fault(f.at("drawing"), fmt.Sprintf("%s holds no closed outline", d.name), "draw the part as closed contours, or look at its layers")
		return nil
	case take == takeKit:
		return parts
	case take > len(parts):
		f.fault(at, fmt.Sprintf("take is %d, and %s holds %s", take, d.name, plural(len(parts), "part")), fmt.Sprintf("write a number from 1 to %d", len(parts)))
		return nil
	case take == 0 && len(parts) > 1:
		f.fault(at, fmt.Sprintf("%s holds %d parts: %s", d.name, len(parts), sizes(parts)),
			"say which with take: 1, counted from the left, or take: kit for all of them")
		return nil
	case take == 0:
		return parts[:1]
	}
	return parts[take-1 : take]
}

// sizes lists the first few parts by their boxes.
func sizes(parts []geom.Shape) string {
	var words []string
	for i, p := range parts {
		if i == 5 {
			words = append(words, "…")
			break
		}
		b := p.Bounds()
		words = append(words, fmt.Sprintf("%s x %s mm", short(math.Round((b.Max[0]-b.Min[0])*10)/10), short(math.Round((b.Max[1]-b.Min[1])*10)/10)))
	}
	return strings.Join(words, ", ")
}

// asOrders gives each part an order of its own; the parts of a kit are numbered.
func (f *fields) asOrders(o *Order, d *drawn, parts []geom.Shape, kit bool) []Order {
	if !kit || len(parts) == 1 {
		return f.single(o, parts)
	}
	if o.Kit == "" {
		o.Kit, o.PerKit = o.ID, 1
	}
	var orders []Order
	for i, p := range parts {
		one := *o
		one.ID = fmt.Sprintf("%s.%d", o.ID, i+1)
		one.Part = fmt.Sprintf("%s.%d", o.Part, i+1)
		one.Shape = normal(p)
		orders = append(orders, one)
	}
	return orders
}

func (f *fields) single(o *Order, parts []geom.Shape) []Order {
	if len(parts) == 0 {
		return nil
	}
	o.Shape = normal(parts[0])
	return []Order{*o}
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
