package verify

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// pointDist returns the distance of p from the edge.
func (e *edge) pointDist(p orb.Point) float64 { return dist(p, e.nearest(p)) }

// nearest returns the edge's point nearest to p.
func (e *edge) nearest(p orb.Point) orb.Point {
	if !e.arc {
		return nearestOnLine(e.a, e.b, p)
	}
	if w := sub(p, e.c); (w[0] != 0 || w[1] != 0) && e.sector(p) {
		k := e.r / norm(w)
		return orb.Point{e.c[0] + w[0]*k, e.c[1] + w[1]*k}
	}
	if dist(p, e.a) <= dist(p, e.b) {
		return e.a
	}
	return e.b
}

func nearestOnLine(a, b, p orb.Point) orb.Point {
	d, w := sub(b, a), sub(p, a)
	t := dot(w, d) / dot(d, d)
	switch {
	case !(t > 0): // also where a and b are one point
		return a
	case t >= 1:
		return b
	}
	return orb.Point{a[0] + d[0]*t, a[1] + d[1]*t}
}

// A link is a shortest connection found between two edges.
type link struct {
	d    float64
	p, q orb.Point
}

// between returns the shortest connection of two edges. The distance is 0 for
// lines exactly where they have a point in common; with an arc it is the least
// distance among all candidates for a nearest pair, each a true point of one
// edge, so it is off by rounding only.
func between(e, f *edge) link {
	if !e.arc && !f.arc {
		return betweenLines(e, f)
	}
	best := link{d: math.Inf(1)}
	for _, p := range [...]orb.Point{e.a, e.b} {
		best.offer(p, f.nearest(p))
	}
	for _, p := range [...]orb.Point{f.a, f.b} {
		best.offer(e.nearest(p), p)
	}
	if e.arc {
		offerArc(&best, f, e)
	} else {
		offerArc(&best, e, f)
	}
	return best
}

// offer keeps the connection p–q where it is shorter.
func (l *link) offer(p, q orb.Point) {
	if d := dist(p, q); d < l.d {
		*l = link{d, p, q}
	}
}

// offerArc offers the inner candidates for the edge e and the arc f: the foot
// of f's centre on e, and where e crosses f's circle.
func offerArc(best *link, e, f *edge) {
	foot := e.nearest(f.c)
	best.offer(foot, f.nearest(foot))
	if e.arc {
		offerCentres(best, e, f)
		return
	}
	d, w := sub(e.b, e.a), sub(e.a, f.c)
	ends, ok := roots(dot(d, d), dot(w, d), (norm(w)-f.r)*(norm(w)+f.r))
	if !ok {
		return
	}
	for _, t := range ends {
		if t > 0 && t < 1 {
			p := orb.Point{e.a[0] + d[0]*t, e.a[1] + d[1]*t}
			best.offer(p, f.nearest(p))
		}
	}
}

// offerCentres offers the candidates for two arcs: on the line of centres, and
// where the circles cross.
func offerCentres(best *link, e, f *edge) {
	for _, p := range centrePoints(e, f) {
		if e.sector(p) {
			best.offer(p, f.nearest(p))
		}
	}
	for _, p := range circleCross(e, f) {
		best.offer(e.nearest(p), f.nearest(p))
	}
}

// centrePoints returns the points of e's circle on the line of centres.
func centrePoints(e, f *edge) []orb.Point {
	u := sub(f.c, e.c)
	n := norm(u)
	if n == 0 {
		return nil
	}
	k := e.r / n
	return []orb.Point{
		{e.c[0] + u[0]*k, e.c[1] + u[1]*k},
		{e.c[0] - u[0]*k, e.c[1] - u[1]*k},
	}
}

// circleCross returns where the circles of two arcs cross. It measures from the
// smaller circle: there an error along the line of centres moves the point
// least.
func circleCross(e, f *edge) []orb.Point {
	if e.r > f.r {
		e, f = f, e
	}
	u := sub(f.c, e.c)
	n := norm(u)
	if n == 0 || n > e.r+f.r || n < math.Abs(e.r-f.r) {
		return nil
	}
	along := ((n-f.r)*(n+f.r) + e.r*e.r) / (2 * n)
	h := math.Sqrt(math.Max(0, (e.r-along)*(e.r+along)))
	u = orb.Point{u[0] / n, u[1] / n}
	m := orb.Point{e.c[0] + u[0]*along, e.c[1] + u[1]*along}
	return []orb.Point{
		{m[0] - u[1]*h, m[1] + u[0]*h},
		{m[0] + u[1]*h, m[1] - u[0]*h},
	}
}

// roots solves a·t² + 2·b·t + c = 0 without cancellation.
func roots(a, b, c float64) ([2]float64, bool) {
	disc := b*b - a*c
	if disc < 0 || a == 0 {
		return [2]float64{}, false
	}
	q := -b - math.Copysign(math.Sqrt(disc), b)
	if q == 0 {
		return [2]float64{}, true
	}
	return [2]float64{q / a, c / q}, true
}

func betweenLines(e, f *edge) link {
	if p, ok := linesMeet(e, f); ok {
		return link{0, p, p}
	}
	best := link{d: math.Inf(1)}
	best.offer(e.a, nearestOnLine(f.a, f.b, e.a))
	best.offer(e.b, nearestOnLine(f.a, f.b, e.b))
	best.offer(nearestOnLine(e.a, e.b, f.a), f.a)
	best.offer(nearestOnLine(e.a, e.b, f.b), f.b)
	return best
}

// linesMeet decides exactly whether two closed segments have a point in common,
// and returns one to float64 precision.
func linesMeet(e, f *edge) (orb.Point, bool) {
	if !boxesMeet(&e.box, &f.box) {
		return orb.Point{}, false
	}
	fa, fb := geom.Orient(e.a, e.b, f.a), geom.Orient(e.a, e.b, f.b)
	if fa*fb > 0 {
		return orb.Point{}, false
	}
	ea, eb := geom.Orient(f.a, f.b, e.a), geom.Orient(f.a, f.b, e.b)
	if ea*eb > 0 {
		return orb.Point{}, false
	}
	switch {
	case fa == 0 && inBox(f.a, &e.box):
		return f.a, true
	case fb == 0 && inBox(f.b, &e.box):
		return f.b, true
	case ea == 0 && inBox(e.a, &f.box):
		return e.a, true
	case eb == 0 && inBox(e.b, &f.box):
		return e.b, true
	}
	if fa == 0 && fb == 0 { // on one line, apart
		return orb.Point{}, false
	}
	return lineCross(e, f), true
}

// lineCross returns the crossing of two lines known to cross.
func lineCross(e, f *edge) orb.Point {
	d, g := sub(e.b, e.a), sub(f.b, f.a)
	den := cross(d, g)
	if den == 0 { // crossing by less than float64 can tell
		return e.nearest(f.a)
	}
	t := cross(sub(f.a, e.a), g) / den
	t = math.Max(0, math.Min(1, t))
	return orb.Point{e.a[0] + d[0]*t, e.a[1] + d[1]*t}
}

func inBox(p orb.Point, b *orb.Bound) bool {
	return p[0] >= b.Min[0] && p[0] <= b.Max[0] && p[1] >= b.Min[1] && p[1] <= b.Max[1]
}
