package nest

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// discDensity is the largest share of the plane that discs cover whose radii
// differ by no more than from q to 1: that of a triangle between the centres of
// three discs that touch, two of radius q and one of radius 1 (Florian 1960,
// "Ausfüllung der Ebene durch Kreise", from memory, unverified; at q = 1 it is
// π/√12 of Thue and Fejes Tóth). That no triangle of the three other kinds is
// denser is checked by numbers in the tests.
func discDensity(q float64) float64 {
	return (math.Pi*q*q + 2*(1-q*q)*math.Asin(q/(1+q))) / (2 * q * math.Sqrt(2*q+1))
}

// A sheet in a box tiles the plane with copies of its box, so no discs that lie
// in the box cover more of it than discs can cover of the plane.

// A claim says of every part how much room, in mm², a copy takes at least among
// copies that lie side by side; what lies on the sheets never takes more than
// there is. Parts in holes of others take no room of the sheet.
type claim struct {
	takes []float64 // by part
	// Of a claim of discs, the radius from which on they count, and the share of the
	// room that they can cover.
	least, share float64
}

// claims lists those that hold on a set of grounds, the area of the outlines
// first. The others are of discs inside the parts: those of at least some radius,
// the ones above another radius cut down to it, which cover no more than the
// density of discs so alike.
func (b *bounder) claims(on groundSet) []claim {
	list := []claim{{takes: b.filled}}
	boxed := b.boxed(on)
	radii := spread(b.discs, discRadii)
	for i, most := range radii {
		for _, least := range radii[:i+1] {
			share := discDensity(least/most) * boxed
			if share >= 1 {
				continue // says no more than the area does
			}
			c := claim{takes: make([]float64, len(b.discs)), least: least, share: share}
			for part, r := range b.discs {
				if r >= least {
					r = min(r, most)
					c.takes[part] = math.Pi * r * r / share
				}
			}
			list = append(list, c)
		}
	}
	return list
}

// discRadii is how many radii are told apart.
const discRadii = 8

// spread picks up to n of the distinct positive values, the least and the largest
// among them, in rising order.
func spread(values []float64, n int) []float64 {
	var all []float64
	for _, v := range values {
		if v > 0 {
			all = append(all, v)
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	if len(all) <= n {
		return all
	}
	picked := make([]float64, n)
	for i := range picked {
		picked[i] = all[i*(len(all)-1)/(n-1)]
	}
	return picked
}

// boxed is the boxes of a set's grounds over the room in them, at its largest.
func (b *bounder) boxed(on groundSet) float64 {
	most := 1.0
	for g, room := range b.room {
		if on&bitOf(g) != 0 && room > 0 {
			most = max(most, b.box[g]/room)
		}
	}
	return most
}

// innerDisc is the radius of the disc that a part and half the spacing round it
// hold for sure.
func innerDisc(outline orb.Polygon, half float64) float64 {
	d := geom.Pole(outline[:1], 0)
	return max(0, d.Radius+half-geom.TouchTolerance)
}

// boxOf is the area of the boxes round the pieces that a ground's room is made of;
// of the strip, which is a box, the room itself.
func (b *bounder) boxOf(g *ground) float64 {
	if g.strip {
		return b.roomOf(g)
	}
	half, sum := b.pre.problem.Spacing/2+geom.TouchTolerance, 0.0
	for _, piece := range g.region {
		box := geom.Bounds(piece)
		sum += (box.Max[0] - box.Min[0] + 2*half) * (box.Max[1] - box.Min[1] + 2*half)
	}
	return sum
}
