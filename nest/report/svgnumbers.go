package report

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// numberSpots are where a part's number may stand, in the part's own frame: the
// widest spot of the material, and of the widest hole.
type numberSpots struct {
	material, hole geom.Disc
	others         []orb.Point // in the material, along the part
}

func newNumberSpots(s geom.Shape) numberSpots {
	out := numberSpots{material: labelPlace(s)}
	for _, h := range s.Holes {
		if d := labelPlace(geom.Shape{Outer: h.Oriented(true)}); d.Radius > out.hole.Radius {
			out.hole = d
		}
	}
	ring := s.Outer.Flatten(labelTolerance, geom.OnCurve)
	for _, p := range alongBox(s, out.material.Center) {
		if geom.LocateInRing(ring, p) == geom.Inside {
			out.others = append(out.others, p)
		}
	}
	return out
}

// alongBox is points on both sides of another, along the longer side of a part's
// box.
func alongBox(s geom.Shape, from orb.Point) []orb.Point {
	b := s.Outer.Bounds()
	long, axis := b.Max[0]-b.Min[0], 0
	if h := b.Max[1] - b.Min[1]; h > long {
		long, axis = h, 1
	}
	var out []orb.Point
	for _, share := range []float64{0.15, -0.15, 0.3, -0.3, 0.45, -0.45, 0.6, -0.6} {
		p := from
		p[axis] += share * long
		out = append(out, p)
	}
	return out
}

const (
	// plainNumber is the size in mm on paper at which a number is read at arm's
	// length; a number that would be smaller may stand in the part's hole, or fill
	// the part from edge to edge.
	plainNumber = 2.6
	mostNumber  = 4.2
	// leastNumber is the least size of a number on paper. Where a part has less
	// room its number stands over its edges, on a rim of the sheet's colour.
	leastNumber = 2.0
	// capShare is the height of a digit as a share of its size.
	capShare = 0.74
)

// numberSize fits a number of so many digits into a disc on paper.
func numberSize(radius float64, digits int) float64 {
	wide := 2 * radius * 0.85 / (emWidth * float64(digits))
	return min(mostNumber, 1.3*radius, wide)
}

// snugNumber is the size at which a number all but touches the disc.
func snugNumber(radius float64, digits int) float64 {
	return 1.9 * radius / math.Hypot(capShare, emWidth*float64(digits))
}

// A numberPlace is where a copy's number stands on the sheet, and its size on
// paper. A number that is tight is larger than its part. A copy whose number would
// cover the number of an equal part beside it has none of its own, and a line
// leads to it from there.
type numberPlace struct {
	at    orb.Point
	size  float64
	tight bool
	led   bool
	to    orb.Point // the copy, where the line ends; at is where it begins
}

// A numbering chooses the places of all numbers of a layout.
type numbering struct {
	scale  float64 // mm on paper for one of the sheet
	copies []placedPart
	spots  map[int]numberSpots
	boxes  []orb.Bound // of the numbers so far
	places []numberPlace
}

// numberPlaces chooses where the numbers of copies stand at a scale.
func numberPlaces(copies []placedPart, scale float64) []numberPlace {
	n := &numbering{scale: scale, copies: copies, spots: map[int]numberSpots{}}
	n.places = make([]numberPlace, len(copies))
	n.boxes = make([]orb.Bound, len(copies))
	for i := range copies { // those with room first: the others keep off them
		n.places[i] = n.roomy(i)
		n.boxes[i] = n.box(i)
	}
	for i := range copies {
		if n.places[i].tight {
			n.squeeze(i)
		}
	}
	return n.places
}

func (n *numbering) spot(i int) numberSpots {
	part := n.copies[i].part
	s, known := n.spots[part]
	if !known {
		s = newNumberSpots(n.copies[i].own)
		n.spots[part] = s
	}
	return s
}

// roomy is the best place in the part or its hole; tight where there is none.
func (n *numbering) roomy(i int) numberPlace {
	c, s := &n.copies[i], n.spot(i)
	digits := len(c.number)
	p := numberPlace{at: c.pose.Apply(s.material.Center), size: numberSize(s.material.Radius*n.scale, digits)}
	if p.size >= plainNumber {
		return p
	}
	inHole := min(plainNumber+0.6, numberSize(s.hole.Radius*n.scale*0.8, digits))
	if at := c.pose.Apply(s.hole.Center); inHole > p.size && !n.occupied(i, at, s.hole.Radius) {
		p.at, p.size = at, inHole
	}
	if snug := min(plainNumber, snugNumber(s.material.Radius*n.scale, digits)); snug > p.size {
		p.at, p.size = c.pose.Apply(s.material.Center), snug
	}
	if p.size < leastNumber {
		p.size, p.tight = leastNumber, true
	}
	return p
}

// box is what a number covers on the sheet; nothing where it has no place yet.
func (n *numbering) box(i int) orb.Bound {
	p := &n.places[i]
	if p.tight || p.led {
		return orb.Bound{Min: orb.Point{1, 1}, Max: orb.Point{0, 0}}
	}
	return n.boxAt(p.at, p.size, len(n.copies[i].number))
}

func (n *numbering) boxAt(at orb.Point, size float64, digits int) orb.Bound {
	w, h := emWidth*size*float64(digits)/2/n.scale, capShare*size/2/n.scale
	return orb.Bound{Min: orb.Point{at[0] - w, at[1] - h}, Max: orb.Point{at[0] + w, at[1] + h}}
}

// squeeze gives a number without room a place where it covers no other: on its
// part, along it, or at the number of an equal part beside it.
func (n *numbering) squeeze(i int) {
	p, c, s := &n.places[i], &n.copies[i], n.spot(i)
	here := p.at
	clash := n.covered(i, here)
	for _, o := range s.others {
		if clash < 0 {
			break
		}
		if at := c.pose.Apply(o); n.covered(i, at) < 0 {
			p.at, clash = at, -1
		}
	}
	if clash >= 0 && n.copies[clash].part == c.part {
		p.led, p.tight, p.at, p.to = true, false, n.places[clash].at, here
		return
	}
	n.boxes[i] = n.boxAt(p.at, p.size, len(c.number))
}

// covered is the first copy whose number a number of the copy i at a point would
// touch, or −1.
func (n *numbering) covered(i int, at orb.Point) int {
	b := n.boxAt(at, n.places[i].size, len(n.copies[i].number))
	for k := range n.boxes {
		if k != i && n.boxes[k].Min[0] <= n.boxes[k].Max[0] && n.boxes[k].Intersects(b) {
			return k
		}
	}
	return -1
}

// occupied reports whether another part lies in the disc of a part's hole. What
// the part itself lies in does not count.
func (n *numbering) occupied(i int, c orb.Point, r float64) bool {
	disc := orb.Bound{Min: orb.Point{c[0] - r, c[1] - r}, Max: orb.Point{c[0] + r, c[1] + r}}
	own := n.copies[i].box
	for k := range n.copies {
		b := n.copies[k].box
		if k != i && b.Intersects(disc) && own.Contains(b.Min) && own.Contains(b.Max) {
			return true
		}
	}
	return false
}
