package cost

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A span is one line or arc of a path: its length, its radius (infinite for a
// line) and the unit tangents at its ends.
type span struct {
	mm, radius float64
	in, out    orb.Point
}

// A spanChain collects the spans of a continuous motion. Lines shorter than
// least are merged into the next: a controller does not see them.
type spanChain struct {
	spans []span
	least float64
	from  orb.Point
	begun bool
}

func strokeSpans(k Stroke, least float64) []span {
	n := len(k.LeadIn) + len(k.Contour) + len(k.LeadOut)
	c := spanChain{spans: make([]span, 0, n), least: least}
	c.addPath(k.LeadIn)
	c.addContour(k.Contour)
	c.addPath(k.LeadOut)
	return c.spans
}

// length is the length of a chain in mm.
func length(spans []span) float64 {
	sum := 0.0
	for _, s := range spans {
		sum += s.mm
	}
	return sum
}

func (c *spanChain) addPath(p geom.Path) {
	for i := 0; i+1 < len(p); i++ {
		c.add(p[i], p[i+1].P)
	}
}

func (c *spanChain) addContour(p geom.Contour) {
	for i, v := range p {
		c.add(v, p[(i+1)%len(p)].P)
	}
}

// straightBulge is the bulge below which an arc is a line: on a chord of a
// metre it bows by less than the coordinate grid.
const straightBulge = geom.Grid / 1000

func (c *spanChain) add(v geom.Vertex, to orb.Point) {
	if math.Abs(v.Bulge) > straightBulge {
		c.addArc(v.P, to, v.Bulge)
		c.from, c.begun = to, true
		return
	}
	if !c.begun {
		c.from, c.begun = v.P, true
	}
	dx, dy := to[0]-c.from[0], to[1]-c.from[1]
	d := math.Sqrt(dx*dx + dy*dy)
	if d <= c.least {
		return
	}
	t := orb.Point{dx / d, dy / d}
	c.spans = append(c.spans, span{mm: d, radius: math.Inf(1), in: t, out: t})
	c.from = to
}

// addArc adds the arc from a to b with the given bulge. Its tangents are the
// chord's direction turned back and forth by half the sweep, the sine and
// cosine of which follow from the bulge without an inverse tangent.
func (c *spanChain) addArc(a, b orb.Point, bulge float64) {
	dx, dy := b[0]-a[0], b[1]-a[1]
	chord := math.Sqrt(dx*dx + dy*dy)
	if chord == 0 {
		return
	}
	b2 := bulge * bulge
	radius := chord * (1 + b2) / (4 * math.Abs(bulge))
	cos, sin := (1-b2)/(1+b2), 2*bulge/(1+b2)
	ux, uy := dx/chord, dy/chord
	c.spans = append(c.spans, span{
		mm: radius * 4 * math.Atan(math.Abs(bulge)), radius: radius,
		in:  orb.Point{ux*cos + uy*sin, uy*cos - ux*sin},
		out: orb.Point{ux*cos - uy*sin, uy*cos + ux*sin},
	})
}
