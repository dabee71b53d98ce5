package cost

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

func circle(x, y, r float64) geom.Contour {
	return geom.Contour{{P: orb.Point{x - r, y}, Bulge: 1}, {P: orb.Point{x + r, y}, Bulge: 1}}
}

func slot(x, y, l, w float64) geom.Contour {
	h, r := (l-w)/2, w/2
	return geom.Contour{
		{P: orb.Point{x - h, y - r}},
		{P: orb.Point{x + h, y - r}, Bulge: 1},
		{P: orb.Point{x + h, y + r}},
		{P: orb.Point{x - h, y + r}, Bulge: 1},
	}
}

// notchedPlate is a 40 × 22 mm plate with corners of radius 1 and four notches
// of 2 × 2 mm in its upper edge.
func notchedPlate() geom.Contour {
	const b = 0.41421356237309503 // quarter circle
	c := geom.Contour{
		{P: orb.Point{1, 0}},
		{P: orb.Point{39, 0}, Bulge: b},
		{P: orb.Point{40, 1}},
		{P: orb.Point{40, 21}, Bulge: b},
		{P: orb.Point{39, 22}},
	}
	for i := range 4 {
		x := 34 - 8*float64(i)
		for _, p := range []orb.Point{{x + 1, 22}, {x + 1, 20}, {x - 1, 20}, {x - 1, 22}} {
			c = append(c, geom.Vertex{P: p})
		}
	}
	return append(c, geom.Vertex{P: orb.Point{1, 22}, Bulge: b}, geom.Vertex{P: orb.Point{0, 21}}, geom.Vertex{P: orb.Point{0, 1}, Bulge: b})
}

// facets is a circle given as n lines.
func facets(n int, r float64) geom.Contour {
	out := make(geom.Contour, n)
	for i := range out {
		a := 2 * math.Pi * float64(i) / float64(n)
		out[i] = geom.Vertex{P: orb.Point{r * math.Cos(a), r * math.Sin(a)}}
	}
	return out
}

// withLead adds a straight lead-in of l mm that meets the contour's start at
// right angles to its first chord.
func withLead(c geom.Contour, l float64) Stroke {
	p, q := c[0].P, c[1].P
	n := orb.Point{p[0] + q[1] - p[1], p[1] - q[0] + p[0]}
	return Stroke{LeadIn: geom.Path{{P: along(p, n, l)}, {P: p}}, Contour: c}
}

func along(p, q orb.Point, l float64) orb.Point {
	dx, dy := q[0]-p[0], q[1]-p[1]
	d := l / math.Hypot(dx, dy)
	return orb.Point{p[0] + d*dx, p[1] + d*dy}
}

// smallPart is a part with about 216 mm of path: the notched plate, two holes
// of 6 mm and a slot of 10 × 3 mm, each with a lead-in of 4 mm.
func smallPart() Work {
	w := Work{Parts: 1, RapidsMM: []float64{20, 12, 20}}
	for _, c := range []geom.Contour{circle(8, 10, 3), circle(32, 10, 3), slot(20, 10, 10, 3), notchedPlate()} {
		w.Strokes = append(w.Strokes, withLead(c, 4))
	}
	return w
}
