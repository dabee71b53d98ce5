package shop

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// maxPoints bounds an outline written by hand; checking it for crossings takes
// the square of this.
const maxPoints = 5000

// contour reads points as [x, y] or [x, y, bulge], in the unit the key names,
// checks that they bound an area, and leaves the contour counter-clockwise
// where it was drawn.
func (f *fields) contour(base string, d *dimension) (geom.Contour, bool) {
	got, scale := f.listOf(base, d)
	if got == nil {
		return nil, false
	}
	c, ok := f.vertices(got, scale)
	return c, ok && f.simple(got, c)
}

// listOf finds a list under one spelling of a key that names a unit.
func (f *fields) listOf(base string, d *dimension) (*field, float64) {
	var found *field
	scale := 1.0
	for _, u := range d.units {
		if got := f.get(base + "_" + u.suffix); got != nil {
			found, scale = got, u.size
		}
	}
	if found == nil && f.has(base) {
		f.known = append(f.known, base)
		f.fault(f.at(base), base+" names no unit", fmt.Sprintf("write %s_%s", base, d.units[0].suffix))
	}
	return found, scale
}

func (f *fields) vertices(got *field, scale float64) (geom.Contour, bool) {
	items := got.val.points()
	if got.val.kind != list && !got.val.cell || len(items) < 2 || len(items) > maxPoints {
		f.fault(got.val.at, got.key+" holds no outline",
			fmt.Sprintf("list 3 to %d corners, such as [[0, 0], [80, 0], [0, 60]]", maxPoints))
		return nil, false
	}
	var c geom.Contour
	for _, item := range items {
		v, ok := f.vertex(got.key, item, scale)
		if !ok {
			return nil, false
		}
		c = append(c, v)
	}
	if c = snapped(c); len(c) < 2 {
		f.fault(got.val.at, got.key+" names one place only", "list different corners")
		return nil, false
	}
	return c, true
}

// points returns the corners of an outline; a table's cell holds them parted by
// bars, the numbers of each by spaces: 0 0|720 0|720 480 -0.5|0 480.
func (v *value) points() []*value {
	items := v.list()
	if v.cell {
		for i, item := range items {
			items[i] = &value{kind: list, at: v.at, items: item.numbers()}
		}
	}
	return items
}

func (f *fields) vertex(key string, item *value, scale float64) (geom.Vertex, bool) {
	if item.kind != list || len(item.items) < 2 || len(item.items) > 3 {
		f.fault(item.at, key+" holds something that is no point", "write [x, y], or [x, y, bulge] where an arc leaves")
		return geom.Vertex{}, false
	}
	var x [3]float64
	for i, n := range item.items {
		v, mend := parseNumber(n.text)
		if n.kind != scalar || mend != "" {
			f.fault(n.at, fmt.Sprintf("%s holds %s", key, quoteText(n.text)), "write a number, such as 12.5")
			return geom.Vertex{}, false
		}
		x[i] = v
	}
	p := orb.Point{x[0] * scale, x[1] * scale}
	if math.Abs(p[0]) > partSize.high || math.Abs(p[1]) > partSize.high {
		f.fault(item.at, fmt.Sprintf("the point [%s, %s] lies more than %s mm away", short(x[0]), short(x[1]), short(partSize.high)),
			"keep within it")
		return geom.Vertex{}, false
	}
	if math.Abs(x[2]) > maxBulge {
		f.fault(item.at, fmt.Sprintf("bulge is %s", short(x[2])), fmt.Sprintf("bulge is tan(sweep/4); keep it within ±%d", maxBulge))
		return geom.Vertex{}, false
	}
	return geom.Vertex{P: p, Bulge: x[2]}, true
}

// maxBulge is an arc of 358.9 degrees.
const maxBulge = 200

// simple reports contours without area and those that cross themselves.
func (f *fields) simple(got *field, c geom.Contour) bool {
	ring := flat(c)
	if len(ring) < 3 || math.Abs(c.Area()) < leastArea {
		f.fault(got.val.at, got.key+" encloses no area", "list the corners in order around the outline")
		return false
	}
	if at, crosses := crossing(ring); crosses {
		f.fault(got.val.at, fmt.Sprintf("%s crosses itself near (%s, %s) mm", got.key, short(at[0]), short(at[1])),
			"list the corners in order around the outline")
		return false
	}
	return true
}

// leastArea in mm² is below anything a jet leaves standing: its own kerf squared
// (about 1 mm, common practice).
const leastArea = 1
