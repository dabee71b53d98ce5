package report

import (
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// lying makes copies of one shape at places.
func lying(part int, s geom.Shape, at ...orb.Point) []placedPart {
	var out []placedPart
	for _, p := range at {
		c := placedPart{part: part, number: "7", own: s, pose: geom.Pose{X: p[0], Y: p[1]}}
		c.shape = posed(s, c.pose)
		c.box = c.shape.Outer.Bounds()
		out = append(out, c)
	}
	return out
}

func disc(r float64) geom.Shape { return geom.Shape{Outer: geom.CircleContour(orb.Point{}, r)} }

func ringShape(r, bore float64) geom.Shape {
	return geom.Shape{Outer: geom.CircleContour(orb.Point{}, r), Holes: []geom.Contour{geom.CircleContour(orb.Point{}, bore)}}
}

// However small the parts are on paper, no number is smaller than can be read;
// one that does not fill its part is never larger than it.
func TestNumbersAreLegibleAtEveryScale(t *testing.T) {
	for _, scale := range []float64{1, 0.3, 0.1, 0.03, 0.01} {
		var list []placedPart
		for i := range 12 {
			list = append(list, lying(0, disc(15), orb.Point{40 * float64(i), 0})...)
		}
		for i, p := range numberPlaces(list, scale) {
			if p.led {
				continue
			}
			if p.size < leastNumber {
				t.Errorf("scale %v, number %d is %.2f mm", scale, i, p.size)
			}
			if !p.tight && capShare*p.size > 2*15*scale {
				t.Errorf("scale %v, number %d of %.2f mm is higher than its part of %.2f", scale, i, p.size, 2*15*scale)
			}
		}
	}
}

// Of equal parts so near that their numbers would cover each other, one carries
// the number, and a line leads from it to the others; numbers that are written
// keep off each other.
func TestNumbersOfCloseNeighboursAreShared(t *testing.T) {
	var list []placedPart
	for i := range 10 {
		list = append(list, lying(0, disc(5), orb.Point{12 * float64(i), 0})...)
	}
	places, led := numberPlaces(list, 0.05), 0
	n := &numbering{scale: 0.05, copies: list}
	var boxes []orb.Bound
	for i, p := range places {
		if p.led {
			led++
			if d := list[i].box.Center(); d != p.to && geom.LocateInRing(list[i].shape.Outer.Flatten(0.1, geom.OnCurve), p.to) != geom.Inside {
				t.Errorf("the line to copy %d ends at %v, not on it", i, p.to)
			}
			continue
		}
		b := n.boxAt(p.at, p.size, 1)
		for _, o := range boxes {
			if o.Intersects(b) {
				t.Errorf("number %d covers another", i)
			}
		}
		boxes = append(boxes, b)
	}
	if led == 0 || led > 8 {
		t.Errorf("%d of 10 copies share a number, want some and not all but one", led)
	}
}

// A ring in a ring has its number in its own empty hole; where a part lies in the
// hole, on the ring.
func TestNumberStandsInAnEmptyHole(t *testing.T) {
	plug := lying(2, disc(20), orb.Point{})
	outer := lying(0, ringShape(100, 70), orb.Point{})
	inner := lying(1, ringShape(60, 52), orb.Point{})
	alone := numberPlaces(append(outer, inner...), 0.1)
	if got := alone[1]; got.at != (orb.Point{}) || got.tight {
		t.Errorf("the inner ring's number is at %v", got.at)
	}
	filled := numberPlaces(append(append(outer, inner...), plug...), 0.1)
	if got := filled[1]; got.at == (orb.Point{}) {
		t.Error("the inner ring's number covers the plug")
	}
}
