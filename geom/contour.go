package geom

import "github.com/paulmach/orb"

// A Vertex is a corner of a contour together with the segment that leaves it.
type Vertex struct {
	P orb.Point
	// Bulge describes the leaving segment: 0 is a straight line; otherwise it
	// is a circular arc and Bulge = tan(sweep/4), positive when the arc turns
	// counter-clockwise, as in the DXF reference. A circle is two vertices with
	// bulge ±1.
	Bulge float64
}

// A Contour is a closed outline of lines and arcs; the last vertex's segment
// leads back to the first. Outer contours run counter-clockwise, holes
// clockwise.
type Contour []Vertex

// A Path is an open chain of lines and arcs. The last vertex's bulge is unused.
type Path []Vertex

// A Shape is a region with a true outline: one outer contour less its holes.
type Shape struct {
	Outer Contour
	Holes []Contour
}

// Side says on which side of the true outline a flattened one must stay.
type Side int

const (
	// Outward flattening contains the true region: for parts.
	Outward Side = iota
	// Inward flattening is contained in the true region: for sheets.
	Inward
	// OnCurve puts every flat vertex on the curve: for drawing and lengths.
	OnCurve
)
