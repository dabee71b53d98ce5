package shop

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// shapeKinds are the plain shapes an order may name instead of a drawing.
var shapeKinds = []string{"rectangle", "disc", "ring", "flange", "polygon", "obround", "outline"}

// Sizes of parts and sheets, in mm.
var (
	partSize  = limits{low: 0.1, high: 20000}
	anySize   = limits{low: 0, high: 20000}
	anyOffset = limits{low: -20000, high: 20000}
)

// shape reads a plain shape from the keys of an order or a hole. ok is false
// where something was wrong, which has then been reported.
func (f *fields) shape(kind string) (s geom.Shape, name string, ok bool) {
	before := f.faulty
	f.faulty = false
	switch kind {
	case "rectangle":
		s, name = f.rectangle()
	case "disc":
		s, name = f.disc()
	case "ring":
		s, name = f.ring()
	case "flange":
		s, name = f.flange()
	case "polygon":
		s, name = f.polygon()
	case "obround":
		s, name = f.obround()
	case "outline":
		s, name = f.outline()
	}
	ok = !f.faulty
	f.faulty = f.faulty || before
	return s, name, ok && len(s.Outer) > 0
}

// size reads a length that must be there.
func (f *fields) size(base, why string) float64 {
	x, ok := f.quantity(base, &length, partSize)
	if !ok {
		f.missing(why, length.keys(base)...)
	}
	return x
}

func (f *fields) rectangle() (geom.Shape, string) {
	w := f.size("width", "give the rectangle's size along x, such as width_mm: 120")
	h := f.size("height", "give the rectangle's size along y, such as height_mm: 80")
	r, _ := f.quantity("corner_radius", &length, anySize)
	if f.faulty {
		return geom.Shape{}, ""
	}
	outer := f.roundOff([]orb.Point{{0, 0}, {w, 0}, {w, h}, {0, h}}, r)
	return geom.Shape{Outer: outer}, fmt.Sprintf("rectangle %s x %s", short(w), short(h))
}

// roundOff rounds corners and reports a radius that does not fit.
func (f *fields) roundOff(points []orb.Point, r float64) geom.Contour {
	c, most, ok := rounded(points, r)
	if !ok {
		f.fault(f.at(f.spelled("corner_radius", &length)), fmt.Sprintf("corner_radius is %s mm, more than the edges have room for", short(r)),
			fmt.Sprintf("write %s mm or less", short(math.Floor(most*1000)/1000)))
	}
	return c
}

// spelled is the spelling of a quantity's key that was used.
func (f *fields) spelled(base string, d *dimension) string {
	for _, k := range d.keys(base) {
		if f.has(k) {
			return k
		}
	}
	return base
}

func (f *fields) disc() (geom.Shape, string) {
	d := f.size("diameter", "give the disc's diameter, such as diameter_mm: 90")
	if f.faulty {
		return geom.Shape{}, ""
	}
	return geom.Shape{Outer: geom.CircleContour(orb.Point{d / 2, d / 2}, d/2)}, "disc " + short(d)
}

func (f *fields) ring() (geom.Shape, string) {
	d := f.size("diameter", "give the ring's outer diameter, such as diameter_mm: 90")
	b := f.size("bore", "give the ring's inner diameter, such as bore_mm: 60")
	if f.faulty || !f.less("bore", b, "diameter", d) {
		return geom.Shape{}, ""
	}
	centre := orb.Point{d / 2, d / 2}
	return geom.Shape{Outer: geom.CircleContour(centre, d/2), Holes: []geom.Contour{geom.CircleContour(centre, b/2)}},
		fmt.Sprintf("ring %s/%s", short(d), short(b))
}

// less reports where a is not less than b.
func (f *fields) less(aKey string, a float64, bKey string, b float64) bool {
	if a < b {
		return true
	}
	f.fault(f.at(f.spelled(aKey, &length)), fmt.Sprintf("%s is %s mm, not less than %s %s mm", aKey, short(a), bKey, short(b)),
		fmt.Sprintf("make %s smaller or %s larger", aKey, bKey))
	return false
}

func (f *fields) obround() (geom.Shape, string) {
	w := f.size("width", "give the size along x, ends included, such as width_mm: 40")
	h := f.size("height", "give the size along y, such as height_mm: 12")
	if f.faulty {
		return geom.Shape{}, ""
	}
	outer, _, _ := rounded([]orb.Point{{0, 0}, {w, 0}, {w, h}, {0, h}}, math.Min(w, h)/2)
	return geom.Shape{Outer: snapped(outer)}, fmt.Sprintf("obround %s x %s", short(w), short(h))
}

// polygon is regular, with one edge at the bottom.
func (f *fields) polygon() (geom.Shape, string) {
	n, ok := f.whole("sides", 3, 100)
	if !ok {
		f.missing("give the number of sides, such as sides: 6", "sides")
	}
	flats, byFlats := f.quantity("across_flats", &length, partSize)
	points, byPoints := f.quantity("across_corners", &length, partSize)
	if !byFlats && !byPoints {
		f.missing("give the diameter of the circle inside (across_flats_mm) or around (across_corners_mm)",
			append(length.keys("across_flats"), length.keys("across_corners")...)...)
	}
	if byFlats && byPoints {
		f.fault(f.v.at, "across_flats and across_corners say the same", "keep one")
	}
	r, _ := f.quantity("corner_radius", &length, anySize)
	if f.faulty {
		return geom.Shape{}, ""
	}
	if byFlats {
		points = flats / math.Cos(math.Pi/float64(n))
	}
	return geom.Shape{Outer: f.roundOff(regular(n, points/2), r)}, fmt.Sprintf("polygon %d x %s", n, short(points))
}

func regular(n int, radius float64) []orb.Point {
	points := make([]orb.Point, n)
	for i := range points {
		s, c := math.Sincos(2*math.Pi*(float64(i)+0.5)/float64(n) - math.Pi/2)
		points[i] = orb.Point{radius * c, radius * s}
	}
	return points
}

// outline reads points: [x, y] or [x, y, bulge].
func (f *fields) outline() (geom.Shape, string) {
	r, _ := f.quantity("corner_radius", &length, anySize)
	c, ok := f.contour("points", &length)
	if !ok {
		f.missing("list the corners, such as points_mm: [[0, 0], [80, 0], [0, 60]]", length.keys("points")...)
		return geom.Shape{}, ""
	}
	if r > 0 {
		c = f.roundedContour(c, r)
	}
	b := c.Bounds()
	return geom.Shape{Outer: c}, fmt.Sprintf("outline %s x %s", short(b.Max[0]-b.Min[0]), short(b.Max[1]-b.Min[1]))
}

func (f *fields) roundedContour(c geom.Contour, r float64) geom.Contour {
	var points []orb.Point
	for _, v := range c {
		if v.Bulge != 0 {
			f.fault(f.at(f.spelled("corner_radius", &length)), "corner_radius rounds straight edges, and this outline has arcs",
				"draw the rounding as arcs, or leave out the bulges")
			return nil
		}
		points = append(points, v.P)
	}
	return f.roundOff(points, r)
}
