package drawing

import (
	"math"

	"github.com/paulmach/orb"
)

// A fitter replaces curves by tangent arcs: pairs of arcs that meet with one
// tangent and start and end on the curve with its tangents (Bolton, Biarc
// curves, 1975). A pair that strays from the curve is halved.
type fitter struct {
	tol  float64 // mm, between curve and arcs
	left int     // how many arcs may still be made
}

// maxHalvings bounds how often a span is halved before a chord is accepted.
const maxHalvings = 12

// maxTurn is the most that one fitted arc may turn, in radians. Few samples
// then suffice to judge it.
const maxTurn = math.Pi / 2

// A station is a place on a curve with the direction of travel.
type station struct {
	p, d orb.Point // d has length 1, or 0 where the curve stands still
}

// arcs appends segments that follow the curve.
func (f *fitter) arcs(dst []segment, c curve) []segment {
	start := len(dst)
	for lo := 0; lo < c.spans(); {
		hi := smoothRun(c, lo)
		dst = f.run(dst, c, lo, hi)
		lo = hi
	}
	merged := mergeAlike(dst[start:], f.tol/10)
	return dst[:start+len(merged)]
}

// smoothRun returns the end of the spans from lo on that join without a
// corner.
func smoothRun(c curve, lo int) int {
	hi := lo + 1
	for ; hi < c.spans(); hi++ {
		_, t := c.span(hi - 1)
		before := stationAt(c, hi-1, t, -1)
		t, _ = c.span(hi)
		after := stationAt(c, hi, t, 1)
		if dot(before.d, after.d) < 1-1e-9 { // about 0.003°
			break
		}
	}
	return hi
}

// run follows the spans lo ≤ i < hi.
func (f *fitter) run(dst []segment, c curve, lo, hi int) []segment {
	from, end := c.span(lo)
	if hi-lo == 1 {
		return f.halve(dst, c, lo, from, end, maxHalvings)
	}
	_, to := c.span(hi - 1)
	if hi-lo <= 64 {
		a, b := stationAt(c, lo, from, 1), stationAt(c, hi-1, to, -1)
		if pair, ok := biarc(a, b); ok && f.spansFit(c, lo, hi, pair) {
			f.left -= 2
			return append(dst, pair[:]...)
		}
	}
	mid := (lo + hi) / 2
	return f.run(f.run(dst, c, lo, mid), c, mid, hi)
}

// halve follows a stretch of one span.
func (f *fitter) halve(dst []segment, c curve, i int, from, to float64, depth int) []segment {
	a, b := stationAt(c, i, from, 1), stationAt(c, i, to, -1)
	pair, ok := biarc(a, b)
	if ok && f.fits(c, i, from, to, pair) {
		f.left -= 2
		return append(dst, pair[:]...)
	}
	if depth == 0 || f.left <= 0 {
		f.left--
		return append(dst, segment{a.p, b.p, 0})
	}
	mid := (from + to) / 2
	return f.halve(f.halve(dst, c, i, from, mid, depth-1), c, i, mid, to, depth-1)
}

// spansFit reports whether whole spans keep to a pair of arcs.
func (f *fitter) spansFit(c curve, lo, hi int, pair [2]segment) bool {
	for i := lo; i < hi; i++ {
		from, to := c.span(i)
		if !f.fits(c, i, from, to, pair) {
			return false
		}
	}
	return true
}

// fits reports whether a stretch of curve keeps to a pair of arcs.
func (f *fitter) fits(c curve, i int, from, to float64, pair [2]segment) bool {
	const samples = 8
	for k := 1; k < samples; k++ {
		p, _ := c.eval(i, from+(to-from)*float64(k)/samples)
		if min(pair[0].distance(p), pair[1].distance(p)) > 0.9*f.tol {
			return false
		}
	}
	return true
}

// stationAt looks at the curve. Where the derivative vanishes, as it does at
// doubled control points, the direction is taken from a point a little way on
// (way 1) or back (way −1).
func stationAt(c curve, i int, t, way float64) station {
	p, d := c.eval(i, t)
	l := dist(orb.Point{}, d)
	from, to := c.span(i)
	if l*(to-from) < 1e-9 || !finite(l) {
		q, _ := c.eval(i, t+way*(to-from)/1024)
		d = orb.Point{way * (q[0] - p[0]), way * (q[1] - p[1])}
		l = dist(orb.Point{}, d)
	}
	if l == 0 || !finite(l) {
		return station{p: p}
	}
	return station{p, orb.Point{d[0] / l, d[1] / l}}
}

func dot(a, b orb.Point) float64 { return a[0]*b[0] + a[1]*b[1] }

// biarc returns the two arcs that join the stations, with the joint at equal
// distance along both tangents. It fails where they would turn too far.
func biarc(a, b station) ([2]segment, bool) {
	v := orb.Point{b.p[0] - a.p[0], b.p[1] - a.p[1]}
	d, ok := reach(a.d, b.d, v)
	if !ok {
		return [2]segment{}, false
	}
	joint := orb.Point{
		(a.p[0] + b.p[0] + d*(a.d[0]-b.d[0])) / 2,
		(a.p[1] + b.p[1] + d*(a.d[1]-b.d[1])) / 2,
	}
	back := orb.Point{-b.d[0], -b.d[1]}
	first, ok1 := tangentArc(a.p, a.d, joint)
	second, ok2 := tangentArc(b.p, back, joint)
	return [2]segment{first, second.reversed()}, ok1 && ok2
}

// reach is the distance d along both tangents that makes the joint lie half
// way: |v − d(t0+t1)|² = (2d)², where t0 and t1 are the unit tangents.
func reach(t0, t1, v orb.Point) (float64, bool) {
	vv, vt := dot(v, v), dot(v, orb.Point{t0[0] + t1[0], t0[1] + t1[1]})
	k := 2 * (1 - dot(t0, t1))
	if vv == 0 || dot(t0, t0) == 0 || dot(t1, t1) == 0 {
		return 0, false
	}
	root := math.Sqrt(vt*vt + k*vv)
	d := vv / (root + vt) // of the two forms of the solution the one without cancellation
	if vt < 0 {
		d = (root - vt) / k
	}
	return d, d > 0 && finite(d)
}

// tangentArc is the arc from a point along a unit direction to another point.
// The chord makes half the sweep with the direction.
func tangentArc(p, dir, q orb.Point) (segment, bool) {
	chord := orb.Point{q[0] - p[0], q[1] - p[1]}
	cross := dir[0]*chord[1] - dir[1]*chord[0]
	half := math.Atan2(cross, dot(dir, chord))
	if math.Abs(half) > maxTurn/2 {
		return segment{}, false
	}
	bulge := math.Tan(half / 2)
	if math.Abs(bulge)*dist(p, q)/2 < straightTolerance {
		bulge = 0
	}
	return segment{p, q, bulge}, true
}

// mergeAlike joins neighbours that lie on one circle or line within tol, in
// place. Splines often draw true arcs; they come back as one arc each.
func mergeAlike(segs []segment, tol float64) []segment {
	out := segs[:0]
	for _, s := range segs {
		if len(out) > 0 {
			if both, ok := joined(out[len(out)-1], s, tol); ok {
				out[len(out)-1] = both
				continue
			}
		}
		out = append(out, s)
	}
	return out
}

// joined returns one segment for two, where it strays from neither by more
// than tol.
func joined(s, t segment, tol float64) (segment, bool) {
	w := s.sweep() + t.sweep()
	if s.isArc() != t.isArc() || s.bulge*t.bulge < 0 || math.Abs(w) > math.Pi+1e-9 || s.a == t.b {
		return segment{}, false
	}
	both := segment{s.a, t.b, math.Tan(w / 4)}
	for _, p := range [3]orb.Point{s.b, s.middle(), t.middle()} {
		if both.distance(p) > tol {
			return segment{}, false
		}
	}
	return both, true
}
