package drawing

import (
	"math"

	"github.com/paulmach/orb"
)

// A hit is a point that two segments share, and how far along each it lies as
// a fraction of its length.
type hit struct {
	p    orb.Point
	u, v float64
}

// hits are the points that two segments share; at most two crossings and four
// ends.
type hits struct {
	n int
	h [6]hit
}

func (h *hits) list() []hit { return h.h[:h.n] }

// add keeps a hit unless one is there already within tol.
func (h *hits) add(x hit, tol float64) {
	for _, y := range h.list() {
		if dist(x.p, y.p) <= tol {
			return
		}
	}
	if h.n < len(h.h) {
		h.h[h.n] = x
		h.n++
	}
}

// meet returns where two segments touch or cross, taking points within tol for
// one. Of pieces that run along each other it gives the ends of the common
// part.
func meet(s, t segment, tol float64) (out hits) {
	for i, p := range [2]orb.Point{s.a, s.b} {
		if t.distance(p) <= tol {
			out.add(hit{p, float64(i), t.fraction(p)}, tol)
		}
	}
	for i, p := range [2]orb.Point{t.a, t.b} {
		if s.distance(p) <= tol {
			out.add(hit{p, s.fraction(p), float64(i)}, tol)
		}
	}
	var pts [2]orb.Point
	n := carriersMeet(s, t, tol, &pts)
	for _, p := range pts[:n] {
		u, v := s.fraction(p), t.fraction(p)
		if u >= 0 && u <= 1 && v >= 0 && v <= 1 {
			out.add(hit{p, u, v}, tol)
		}
	}
	return out
}

// carriersMeet finds where the lines or circles that the segments lie on meet.
func carriersMeet(s, t segment, tol float64, pts *[2]orb.Point) int {
	switch {
	case !s.isArc() && !t.isArc():
		return linesMeet(s, t, pts)
	case s.isArc() && t.isArc():
		return circlesMeet(s, t, tol, pts)
	case s.isArc():
		return lineMeetsCircle(t, s, tol, pts)
	default:
		return lineMeetsCircle(s, t, tol, pts)
	}
}

func linesMeet(s, t segment, pts *[2]orb.Point) int {
	dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
	ex, ey := t.b[0]-t.a[0], t.b[1]-t.a[1]
	cross := dx*ey - dy*ex
	if math.Abs(cross) <= 1e-12*math.Hypot(dx, dy)*math.Hypot(ex, ey) { // parallel
		return 0
	}
	u := ((t.a[0]-s.a[0])*ey - (t.a[1]-s.a[1])*ex) / cross
	pts[0] = orb.Point{s.a[0] + u*dx, s.a[1] + u*dy}
	return 1
}

func lineMeetsCircle(l, c segment, tol float64, pts *[2]orb.Point) int {
	o, r := c.centre()
	dx, dy := l.b[0]-l.a[0], l.b[1]-l.a[1]
	length := math.Hypot(dx, dy)
	if length == 0 {
		return 0
	}
	dx, dy = dx/length, dy/length
	along := (o[0]-l.a[0])*dx + (o[1]-l.a[1])*dy
	off := (o[0]-l.a[0])*dy - (o[1]-l.a[1])*dx
	half, ok := halfChord(r, math.Abs(off), tol)
	if !ok {
		return 0
	}
	at := func(k float64) orb.Point { return orb.Point{l.a[0] + k*dx, l.a[1] + k*dy} }
	pts[0], pts[1] = at(along-half), at(along+half)
	return 2
}

func circlesMeet(s, t segment, tol float64, pts *[2]orb.Point) int {
	p, r := s.centre()
	q, k := t.centre()
	d := dist(p, q)
	if d <= tol || d > r+k+tol || d < math.Abs(r-k)-tol { // concentric, apart or one inside the other
		return 0
	}
	a := (r*r - k*k + d*d) / (2 * d)
	half, ok := halfChord(r, math.Abs(a), tol)
	if !ok {
		half = 0
	}
	dx, dy := (q[0]-p[0])/d, (q[1]-p[1])/d
	pts[0] = orb.Point{p[0] + a*dx - half*dy, p[1] + a*dy + half*dx}
	pts[1] = orb.Point{p[0] + a*dx + half*dy, p[1] + a*dy - half*dx}
	return 2
}

// halfChord is half the chord that a circle of radius r cuts from a line at a
// distance: 0 where they only touch.
func halfChord(r, distance, tol float64) (float64, bool) {
	if distance > r+tol {
		return 0, false
	}
	return math.Sqrt(max(0, (r-distance)*(r+distance))), true
}

// fraction tells how far along the segment the foot of a point lies, as a
// fraction of its length: below 0 before the begin, above 1 past the end.
func (s segment) fraction(p orb.Point) float64 {
	if s.bulge == 0 {
		dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
		if l := dx*dx + dy*dy; l > 0 {
			return ((p[0]-s.a[0])*dx + (p[1]-s.a[1])*dy) / l
		}
		return 0
	}
	c, _ := s.centre()
	w := s.sweep()
	turn := math.Atan2(p[1]-c[1], p[0]-c[0]) - math.Atan2(s.a[1]-c[1], s.a[0]-c[0])
	if w < 0 {
		turn = -turn
	}
	w = math.Abs(w)
	turn = math.Mod(turn+4*math.Pi, 2*math.Pi)
	if turn > w && turn-w > 2*math.Pi-turn { // nearer to the begin
		turn -= 2 * math.Pi
	}
	return turn / w
}

// direction is the unit tangent at a fraction of the way.
func (s segment) direction(f float64) orb.Point {
	angle := math.Atan2(s.b[1]-s.a[1], s.b[0]-s.a[0]) + s.sweep()*(f-0.5)
	sin, cos := math.Sincos(angle)
	return orb.Point{cos, sin}
}
