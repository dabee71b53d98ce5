package report

import (
	"github.com/paulmach/orb"

	"kerfold/geom"
)

// numberSpots are where a part's number may stand, in the part's own frame: the
// widest spot of the material, and of the widest hole.
type numberSpots struct {
	material, hole geom.Disc
	narrow         float64 // shorter side of the part's box
}

func newNumberSpots(s geom.Shape) numberSpots {
	b := s.Outer.Bounds()
	out := numberSpots{material: labelPlace(s), narrow: min(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1])}
	for _, h := range s.Holes {
		if d := labelPlace(geom.Shape{Outer: h.Oriented(true)}); d.Radius > out.hole.Radius {
			out.hole = d
		}
	}
	return out
}

const (
	// plainNumber is the size in mm on paper at which a number is read at arm's
	// length; a number that would be smaller may stand in the part's hole.
	plainNumber = 2.6
	mostNumber  = 4.2
)

// numberSize fits a number of so many digits into a disc on paper.
func numberSize(radius float64, digits int) float64 {
	wide := 2 * radius * 0.85 / (emWidth * float64(digits))
	return min(mostNumber, 1.3*radius, wide)
}

// numberAt is where the number of the copy i stands and how large; tight says
// that it is larger than its place and needs a white rim.
func (d *sheetDrawing) numberAt(i int, s numberSpots) (at orb.Point, size float64, tight bool) {
	p := &d.placed[i]
	digits := len(p.number)
	at, size = p.pose.Apply(s.material.Center), numberSize(s.material.Radius*d.v.scale, digits)
	if size < plainNumber {
		inHole := min(plainNumber+0.6, numberSize(s.hole.Radius*d.v.scale*0.8, digits))
		if c := p.pose.Apply(s.hole.Center); inHole > size && !d.occupied(i, c, s.hole.Radius) {
			at, size = c, inHole
		}
	}
	if least := min(leastText, s.narrow*d.v.scale); size < least {
		return at, least, true
	}
	return at, size, false
}

// occupied reports whether another part lies in the disc of a part's hole.
func (d *sheetDrawing) occupied(i int, c orb.Point, r float64) bool {
	disc := orb.Bound{Min: orb.Point{c[0] - r, c[1] - r}, Max: orb.Point{c[0] + r, c[1] + r}}
	for k := range d.placed {
		if k != i && d.placed[k].box.Intersects(disc) && disc.Contains(d.placed[k].box.Center()) {
			return true
		}
	}
	return false
}
