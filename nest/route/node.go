package route

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A node is one contour to cut.
type node struct {
	piece   int // index into Input.Pieces
	hole    int // −1 for the outer contour
	contour geom.Contour
	outline outline
	flat    orb.Ring
	box     orb.Bound
	small   bool
	tab     float64
	lengths []float64 // of lead-in to try
	starts  []start
	reach   orb.Bound // of the starts
}

// size is the diameter of a circle as long as the contour: a measure that does
// not depend on how the part is turned.
func (n *node) size() float64 { return n.outline.length / math.Pi }

// sizeSlack keeps the size of a turned contour from passing a limit by rounding.
const sizeSlack = geom.TouchTolerance

// nodes returns the contours of all pieces, each with its material on the left.
// Contours without length are left out and named.
func nodes(in Input, o Options) (out []node, warnings []string) {
	for i, p := range in.Pieces {
		for h := -1; h < len(p.Shape.Holes); h++ {
			c := p.Shape.Outer
			if h >= 0 {
				c = p.Shape.Holes[h]
			}
			n, ok := newNode(i, h, c, o)
			if !ok {
				warnings = append(warnings, name(p, h)+": the contour has no area and is left out; correct the drawing")
				continue
			}
			out = append(out, n)
		}
	}
	return out, warnings
}

func newNode(piece, hole int, c geom.Contour, o Options) (node, bool) {
	for _, v := range c {
		if !finite(v.P) || math.IsNaN(v.Bulge) || math.IsInf(v.Bulge, 0) {
			return node{}, false
		}
	}
	n := node{piece: piece, hole: hole, contour: c.Oriented(hole < 0)}
	n.outline = newOutline(n.contour)
	if len(n.outline.segs) < 2 {
		return node{}, false
	}
	n.flat = n.contour.Flatten(flatTolerance, geom.OnCurve)
	if len(n.flat) < 3 {
		return node{}, false
	}
	n.box = n.contour.Bounds()
	n.small = hole >= 0 && n.size() <= math.Max(o.SmallMM, o.ThicknessMM)+sizeSlack
	if hole < 0 && o.TabMM > 0 && n.size() <= o.TabBelowMM+sizeSlack {
		n.tab = math.Min(o.TabMM+o.KerfMM, n.outline.length/4)
	}
	return n, true
}

// flatTolerance is the distance in mm between a contour and the chords that
// stand for it in clearance tests; clearances are asked for with that much more.
const flatTolerance = geom.ChordTolerance
