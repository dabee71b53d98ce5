package drawing

import (
	"math"
	"strings"

	"github.com/paulmach/orb"
)

// A viewport maps user units to mm.
type viewport struct {
	m    affine2
	w, h float64 // in user units
}

// rootViewport finds the scale of a drawing: the job's word; else the size of
// the page where it has a unit; else the web's, 96 units to the inch.
func rootViewport(svg *element, o Options) (viewport, Unit, string) {
	box, boxed := viewBox(svg)
	w, wu := svgLength(svg.get("width"))
	h, hu := svgLength(svg.get("height"))
	if wu == UnitUnresolved || wu == UnitAuto && hu != UnitUnresolved && hu != UnitAuto {
		wu = hu
	}
	unit, from := Pixel, "assumed"
	per, _ := mmPer[Pixel]
	sx, sy := per, per
	switch {
	case o.Units != UnitAuto:
		unit, from = o.Units, "job"
		per, _ = o.Units.MM()
		sx, sy = per, per
	case wu != UnitAuto && wu != UnitUnresolved && wu != Pixel:
		unit, from = wu, "header"
		sx, sy = pageScale(svg, w, h, box, boxed)
	case boxed && w > 0: // pixels, but the page stretches the box
		sx, sy = pageScale(svg, w, h, box, boxed)
	}
	if !boxed {
		box = [4]float64{0, 0, w / sx, h / sy}
	}
	m := affine2{orb.Point{sx, 0}, orb.Point{0, -sy}, orb.Point{-box[0] * sx, (box[1] + box[3]) * sy}}
	return viewport{m, box[2], box[3]}, unit, from
}

// pageScale is how many mm a user unit is, given the page's size in mm.
func pageScale(svg *element, w, h float64, box [4]float64, boxed bool) (sx, sy float64) {
	px := mmPer[Pixel]
	if !boxed {
		return px, px
	}
	sx, sy = w/box[2], h/box[3]
	if !(w > 0) {
		sx = sy
	}
	if !(h > 0) {
		sy = sx
	}
	switch aspect := svg.get("preserveAspectRatio"); {
	case !(sx > 0) || !(sy > 0):
		return px, px
	case strings.HasPrefix(aspect, "none"):
		return sx, sy
	case strings.HasSuffix(aspect, "slice"):
		return max(sx, sy), max(sx, sy)
	default:
		return min(sx, sy), min(sx, sy)
	}
}

func viewBox(e *element) (box [4]float64, ok bool) {
	s := &numberScanner{s: e.get("viewBox")}
	for i := range box {
		if box[i], ok = s.number(); !ok {
			return box, false
		}
	}
	return box, box[2] > 0 && box[3] > 0
}

// svgLength reads a length in mm with the unit it was written in: UnitAuto
// where it is missing or a share of the page, Pixel where it has no unit.
func svgLength(s string) (mm float64, u Unit) {
	sc := &numberScanner{s: s}
	v, ok := sc.number()
	if !ok {
		return 0, UnitAuto
	}
	u = Unit(strings.ToLower(strings.TrimSpace(sc.s[sc.i:])))
	switch u {
	case "":
		u = Pixel
	case "%", "em", "ex", "rem", "vw", "vh":
		return 0, UnitAuto
	}
	per, known := mmPer[u]
	if !known {
		return 0, UnitUnresolved
	}
	return v * per, u
}

// length reads a length attribute in user units; whole is what a percentage is
// a share of.
func (st svgState) length(e *element, name string, whole float64) float64 {
	s := e.get(name)
	if rest, ok := strings.CutSuffix(s, "%"); ok {
		v, _ := (&numberScanner{s: rest}).number()
		return v / 100 * whole
	}
	mm, _ := svgLength(s)
	return mm / mmPer[Pixel]
}

// nested returns the state inside a nested svg or symbol element.
func (st svgState) nested(e *element) svgState {
	x, y := st.length(e, "x", st.viewW), st.length(e, "y", st.viewH)
	w, h := st.length(e, "width", st.viewW), st.length(e, "height", st.viewH)
	box, boxed := viewBox(e)
	sx, sy := 1.0, 1.0
	if boxed && w > 0 && h > 0 {
		sx, sy = w/box[2], h/box[3]
		if !strings.HasPrefix(e.get("preserveAspectRatio"), "none") {
			s := min(sx, sy)
			x += (w - s*box[2]) / 2 // centred, as is the default
			y += (h - s*box[3]) / 2
			sx, sy = s, s
		}
	}
	if boxed {
		st.viewW, st.viewH = box[2], box[3]
	}
	st.m = st.m.after(affine2{orb.Point{sx, 0}, orb.Point{0, sy}, orb.Point{x - sx*box[0], y - sy*box[1]}})
	return st
}

// A svgRect is a rectangle with rounded corners.
type svgRect struct{ x, y, w, h, rx, ry float64 }

func (st svgState) rect(e *element) svgRect {
	r := svgRect{
		x: st.length(e, "x", st.viewW), y: st.length(e, "y", st.viewH),
		w: st.length(e, "width", st.viewW), h: st.length(e, "height", st.viewH),
	}
	rx, ry := e.get("rx"), e.get("ry")
	if rx == "" || rx == "auto" {
		rx = ry
	}
	if ry == "" || ry == "auto" {
		ry = rx
	}
	corner := &element{attr: e.attr[:0:0]}
	corner.set("rx", rx)
	corner.set("ry", ry)
	r.rx = min(max(0, st.length(corner, "rx", st.viewW)), r.w/2)
	r.ry = min(max(0, st.length(corner, "ry", st.viewH)), r.h/2)
	return r
}

// ellipse returns the centre and half axes of a circle or ellipse element.
func (st svgState) ellipse(e *element) (c orb.Point, rx, ry float64) {
	c = orb.Point{st.length(e, "cx", st.viewW), st.length(e, "cy", st.viewH)}
	if e.name == "circle" {
		r := st.length(e, "r", math.Sqrt((st.viewW*st.viewW+st.viewH*st.viewH)/2))
		return c, r, r
	}
	rx, ry = st.length(e, "rx", st.viewW), st.length(e, "ry", st.viewH)
	if e.get("rx") == "" || e.get("rx") == "auto" {
		rx = ry
	}
	if e.get("ry") == "" || e.get("ry") == "auto" {
		ry = rx
	}
	return c, rx, ry
}
