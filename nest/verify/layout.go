package verify

import (
	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A Layout is what is judged: parts, sheets, where the parts lie, and the rules.
type Layout struct {
	Parts  []Part
	Sheets []Sheet
	// Uses lists the sheets cut, each with the parts on it.
	Uses []Use
	// Spacing is the least distance between two parts, Margin the least
	// distance from a part to the sheet's edge and to a blocked zone, both in
	// mm. 0 allows touching.
	Spacing, Margin float64
	// Rounding is how far, in mm, a printed layout's numbers may have moved an
	// outline against another; it is added to [geom.TouchTolerance]. 0 for
	// layouts with full precision.
	Rounding float64
	// Limit bounds the number of violations listed; 0 lists all. Those beyond
	// it are still counted.
	Limit int
}

// A Part is one kind of part and what the order says of it.
type Part struct {
	ID    string
	Shape geom.Shape // in the part's own frame, mm; either orientation
	// Min and Max bound how many copies there must be, over all uses and
	// their copies.
	Min, Max int
	// Angles lists the allowed turns in degrees; FreeAngle allows any. No
	// angles and no freedom means 0 only.
	Angles    []float64
	FreeAngle bool
	Mirror    bool // whether the part may be turned over
	// GrainDeg, where not nil, is the direction in the part's own frame, in
	// degrees modulo 180, that must lie along the sheet's grain.
	GrainDeg *float64
	// Kit, where not empty, names the kit whose parts must lie together: each
	// sheet holds whole kits only. PerKit is how many copies make one kit; where
	// it is 0 for any member, the kit's parts stand to each other as their Min.
	Kit    string
	PerKit int
}

// A Sheet is one kind of sheet.
type Sheet struct {
	ID      string
	Outline geom.Contour // mm; either orientation
	Blocked []geom.Contour
	// Count is how many there are; 0 means as many as asked for.
	Count int
	// GrainDeg, where not nil, is the direction of the grain in degrees modulo
	// 180. Nil means the sheet has none, which suits every part.
	GrainDeg *float64
}

// A Use is one sheet with parts on it.
type Use struct {
	Sheet int // index into Layout.Sheets
	// Copies is how many sheets are cut with this same layout; 0 means 1.
	Copies     int
	Placements []Placement
}

// A Placement is one copy of a part in its pose.
type Placement struct {
	Part int // index into Layout.Parts
	Pose geom.Pose
}

// Strip returns a strip as a sheet: x in [0, length], y in [0, width], mm. Its
// grain runs along its length, as that of goods from a roll.
func Strip(width, length float64) Sheet {
	return Sheet{ID: "strip", GrainDeg: new(float64), Outline: geom.Contour{
		{P: orb.Point{0, 0}},
		{P: orb.Point{length, 0}},
		{P: orb.Point{length, width}},
		{P: orb.Point{0, width}},
	}, Count: 1}
}

// Plain returns a polygon as a shape: its first ring is the outline, the others
// are holes. Closing points are dropped.
func Plain(p orb.Polygon) geom.Shape {
	var s geom.Shape
	for i, ring := range p {
		c := plainContour(ring)
		if i == 0 {
			s.Outer = c
			continue
		}
		s.Holes = append(s.Holes, c)
	}
	return s
}

func plainContour(r orb.Ring) geom.Contour {
	c := make(geom.Contour, 0, len(r))
	for i, p := range r {
		if i > 0 && i == len(r)-1 && p == r[0] {
			break
		}
		c = append(c, geom.Vertex{P: p})
	}
	return c
}
