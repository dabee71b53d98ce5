package verify

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// An edge is a straight segment or a circular arc from a to b. An arc sweeps at
// most a quarter turn between neighbouring axis directions, so that it is
// monotone in x and in y.
type edge struct {
	a, b orb.Point
	arc  bool
	ccw  bool
	c    orb.Point // centre
	r    float64
	box  orb.Bound
}

func line(a, b orb.Point) edge {
	return edge{a: a, b: b, box: span(a, b)}
}

// arcEdge returns a monotone arc; its box is that of its ends.
func arcEdge(a, b, c orb.Point, r float64, ccw bool) edge {
	return edge{a: a, b: b, arc: true, ccw: ccw, c: c, r: r, box: span(a, b)}
}

func span(a, b orb.Point) orb.Bound {
	return orb.Bound{
		Min: orb.Point{math.Min(a[0], b[0]), math.Min(a[1], b[1])},
		Max: orb.Point{math.Max(a[0], b[0]), math.Max(a[1], b[1])},
	}
}

// mid returns the middle of the edge.
func (e *edge) mid() orb.Point {
	m := orb.Point{(e.a[0] + e.b[0]) / 2, (e.a[1] + e.b[1]) / 2}
	if !e.arc {
		return m
	}
	d := sub(m, e.c)
	n := norm(d)
	if n == 0 {
		return e.a
	}
	return orb.Point{e.c[0] + d[0]/n*e.r, e.c[1] + d[1]/n*e.r}
}

// halves splits the edge in its middle.
func (e *edge) halves() (edge, edge) {
	m := e.mid()
	p, q := *e, *e
	p.b, q.a = m, m
	p.box, q.box = span(p.a, p.b), span(q.a, q.b)
	return p, q
}

// length returns the edge's length, for an arc never less than the true one by
// more than rounding.
func (e *edge) length() float64 {
	chord := norm(sub(e.b, e.a))
	if !e.arc {
		return chord
	}
	return 2 * e.r * math.Asin(math.Min(1, chord/(2*e.r)))
}

// apex returns the third corner of a triangle that contains the edge: where the
// tangents at its ends meet. For a line it is an end.
func (e *edge) apex() orb.Point {
	if !e.arc {
		return e.b
	}
	m := orb.Point{(e.a[0] + e.b[0]) / 2, (e.a[1] + e.b[1]) / 2}
	d := sub(m, e.c)
	n2 := dot(d, d)
	if n2 == 0 {
		return e.b
	}
	k := e.r * e.r / n2
	return orb.Point{e.c[0] + d[0]*k, e.c[1] + d[1]*k}
}

// sector reports whether the ray from the centre through p meets the arc.
func (e *edge) sector(p orb.Point) bool {
	u, v, w := sub(e.a, e.c), sub(e.b, e.c), sub(p, e.c)
	if e.ccw {
		return cross(u, w) >= 0 && cross(w, v) >= 0
	}
	return cross(u, w) <= 0 && cross(w, v) <= 0
}

// A template is a part's outline as edges in the part's own frame: lines, and
// arcs of any sweep with their centres, ready to be posed.
type template struct {
	strokes []stroke
	reach   float64 // greatest distance from the part's own origin
}

// A stroke is one segment of a contour before it is posed and split.
type stroke struct {
	a, b orb.Point
	arc  bool
	ccw  bool
	c    orb.Point
	r    float64
}

func makeTemplate(s geom.Shape) template {
	var t template
	t.add(s.Outer)
	for _, h := range s.Holes {
		t.add(h)
	}
	for _, s := range t.strokes {
		far := norm(s.a)
		if s.arc {
			far = norm(s.c) + s.r
		}
		t.reach = math.Max(t.reach, far)
	}
	return t
}

func (t *template) add(c geom.Contour) {
	for i, v := range c {
		t.strokes = appendStroke(t.strokes, v.P, c[(i+1)%len(c)].P, v.Bulge)
	}
}

// appendStroke adds the segment from a to b. A zero segment is dropped; an arc
// too flat for its centre to be of use is halved until it is a chord.
func appendStroke(out []stroke, a, b orb.Point, bulge float64) []stroke {
	d := sub(b, a)
	chord := norm(d)
	if chord == 0 {
		return out
	}
	if bulge == 0 || chord*math.Abs(bulge)/2 < chordSagitta {
		return append(out, stroke{a: a, b: b})
	}
	r := chord * (1 + bulge*bulge) / (4 * math.Abs(bulge))
	if r > maxRadius && math.Abs(bulge) < 1 {
		m := bulgeMid(a, b, bulge)
		half := bulge / (1 + math.Sqrt(1+bulge*bulge))
		return appendStroke(appendStroke(out, a, m, half), m, b, half)
	}
	k := (1 - bulge*bulge) / (4 * bulge)
	c := orb.Point{(a[0]+b[0])/2 - d[1]*k, (a[1]+b[1])/2 + d[0]*k}
	return append(out, stroke{a: a, b: b, arc: true, ccw: bulge > 0, c: c, r: r})
}

// bulgeMid returns the middle of the arc from a to b.
func bulgeMid(a, b orb.Point, bulge float64) orb.Point {
	d := sub(b, a)
	return orb.Point{
		(a[0]+b[0])/2 + d[1]*bulge/2,
		(a[1]+b[1])/2 - d[0]*bulge/2,
	}
}

// pose returns the template's edges where the pose takes them.
func (t *template) pose(p geom.Pose) []edge {
	out := make([]edge, 0, len(t.strokes)+4)
	for _, s := range t.strokes {
		a, b := p.Apply(s.a), p.Apply(s.b)
		if !s.arc {
			out = append(out, line(a, b))
			continue
		}
		out = appendArc(out, a, b, p.Apply(s.c), s.r, s.ccw != p.Mirror)
	}
	return out
}

// appendArc splits an arc where its tangent is parallel to an axis.
func appendArc(out []edge, a, b, c orb.Point, r float64, ccw bool) []edge {
	if !ccw {
		from := len(out)
		out = appendArc(out, b, a, c, r, true)
		for i, j := from, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
		for i := from; i < len(out); i++ {
			out[i].a, out[i].b, out[i].ccw = out[i].b, out[i].a, false
		}
		return out
	}
	start := math.Atan2(a[1]-c[1], a[0]-c[0])
	end := math.Atan2(b[1]-c[1], b[0]-c[0])
	if end <= start {
		end += 2 * math.Pi
	}
	for q := math.Floor(start/(math.Pi/2)) + 1; q*(math.Pi/2) < end; q++ {
		m := compass(c, r, int(q))
		out = append(out, arcEdge(a, m, c, r, true))
		a = m
	}
	return append(out, arcEdge(a, b, c, r, true))
}

// compass returns the point of a circle at q quarter turns.
func compass(c orb.Point, r float64, q int) orb.Point {
	switch ((q % 4) + 4) % 4 {
	case 0:
		return orb.Point{c[0] + r, c[1]}
	case 1:
		return orb.Point{c[0], c[1] + r}
	case 2:
		return orb.Point{c[0] - r, c[1]}
	}
	return orb.Point{c[0], c[1] - r}
}
