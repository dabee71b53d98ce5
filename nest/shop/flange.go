package shop

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// flange is a disc with a bore and a circle of bolt holes, which may be slots
// along that circle.
func (f *fields) flange() (geom.Shape, string) {
	d := f.size("diameter", "give the flange's outer diameter, such as diameter_mm: 160")
	bore, _ := f.quantity("bore", &length, anySize)
	circleD := f.size("bolt_circle", "give the diameter of the circle the bolts stand on, such as bolt_circle_mm: 125")
	hole := f.size("bolt_hole", "give the diameter of a bolt hole or the width of a slot, such as bolt_hole_mm: 14")
	n, ok := f.whole("bolts", 1, 200)
	if !ok {
		f.missing("give the number of bolts, such as bolts: 8", "bolts")
	}
	slot, _ := f.quantity("bolt_slot", &angle, limits{low: 0, high: 180})
	start, _ := f.quantity("bolt_start", &angle, limits{low: -360, high: 360})
	if f.faulty || !f.boltsFit(d, bore, circleD, hole, n, slot) {
		return geom.Shape{}, ""
	}
	centre := orb.Point{d / 2, d / 2}
	s := geom.Shape{Outer: geom.CircleContour(centre, d/2)}
	if bore > 0 {
		s.Holes = append(s.Holes, geom.CircleContour(centre, bore/2))
	}
	for i := range n {
		at := start + 360*float64(i)/float64(n)
		s.Holes = append(s.Holes, moved(boltHole(circleD/2, hole, slot), at, centre[0], centre[1]))
	}
	return s, fmt.Sprintf("flange %s, %d bolts", short(d), n)
}

func (f *fields) boltsFit(d, bore, circleD, hole float64, n int, slot float64) bool {
	if bore > 0 && !f.less("bore", bore, "diameter", d) {
		return false
	}
	at := f.at(f.spelled("bolt_circle", &length))
	switch {
	case circleD+hole >= d:
		f.fault(at, "the bolt holes reach the rim", fmt.Sprintf("make bolt_circle smaller than %s mm", short(d-hole)))
	case circleD-hole <= bore:
		f.fault(at, "the bolt holes reach the bore", fmt.Sprintf("make bolt_circle larger than %s mm", short(bore+hole)))
	case boltGap(circleD/2, hole, n, slot) <= 0:
		f.fault(at, "the bolt holes reach each other", "make them fewer, smaller or shorter")
	default:
		return true
	}
	return false
}

// boltGap is the metal between neighbouring holes, along the chord between the
// nearest ends of their centre lines.
func boltGap(radius, hole float64, n int, slotDeg float64) float64 {
	if n == 1 {
		return 1
	}
	free := 2*math.Pi/float64(n) - slotDeg*math.Pi/180
	if free <= 0 {
		return free
	}
	return 2*radius*math.Sin(free/2) - hole
}

// boltHole stands at angle 0 of the bolt circle: a circle, or a slot whose
// centre line covers slotDeg of it.
func boltHole(radius, width, slotDeg float64) geom.Contour {
	if slotDeg == 0 {
		return geom.CircleContour(orb.Point{radius, 0}, width/2)
	}
	half := slotDeg / 2
	along := math.Tan(slotDeg * math.Pi / 180 / 4)
	out, in := radius+width/2, radius-width/2
	return geom.Contour{
		{P: polar(out, -half), Bulge: along},
		{P: polar(out, half), Bulge: 1},
		{P: polar(in, half), Bulge: -along},
		{P: polar(in, -half), Bulge: 1},
	}
}

func polar(r, deg float64) orb.Point {
	s, c := geom.SinCosDeg(deg)
	return orb.Point{r * c, r * s}
}
