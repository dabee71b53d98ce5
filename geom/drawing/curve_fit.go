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
		if pair, ok := biarc(a, b); ok && newTrial(f.tol, c, pair).spans(lo, hi) {
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
	if depth == 0 || f.left <= 0 {
		f.left--
		return append(dst, segment{a.p, b.p, 0})
	}
	pair, ok := biarc(a, b)
	if ok && newTrial(f.tol, c, pair).stretch(i, from, to) {
		f.left -= 2
		return append(dst, pair[:]...)
	}
	mid := (from + to) / 2
	return f.halve(f.halve(dst, c, i, from, mid, depth-1), c, i, mid, to, depth-1)
}

// A trial judges whether a pair of arcs may stand for a stretch of curve. The
// curve is sampled so that samples lie no further apart than an eighth of the
// arcs' length. Every sample must keep to the arcs, and every arc must have a
// sample near its middle: else it is a hook that the curve does not take.
type trial struct {
	tol    float64
	c      curve
	pair   [2]segment
	apart  float64
	middle [2]orb.Point
	seen   [2]float64 // how near a sample came to the middle of each arc
}

func newTrial(tol float64, c curve, pair [2]segment) *trial {
	return &trial{
		tol: tol, c: c, pair: pair, apart: (pair[0].length() + pair[1].length()) / 8,
		middle: [2]orb.Point{pair[0].middle(), pair[1].middle()},
		seen:   [2]float64{math.Inf(1), math.Inf(1)},
	}
}

// spans judges whole spans.
func (t *trial) spans(lo, hi int) bool {
	for i := lo; i < hi; i++ {
		from, to := t.c.span(i)
		if !t.samples(i, from, to) {
			return false
		}
	}
	return t.bothSeen()
}

// stretch judges a stretch of one span.
func (t *trial) stretch(i int, from, to float64) bool {
	return t.samples(i, from, to) && t.bothSeen()
}

func (t *trial) bothSeen() bool {
	limit := t.apart/2 + 0.8*t.tol
	return t.seen[0] <= limit && t.seen[1] <= limit
}

func (t *trial) samples(i int, from, to float64) bool {
	const samples = 8
	last, _ := t.c.eval(i, from)
	for k := 1; k <= samples; k++ {
		u, v := from+(to-from)*float64(k-1)/samples, from+(to-from)*float64(k)/samples
		p, _ := t.c.eval(i, v)
		if !t.keeps(p) || !t.between(i, u, v, last, p, 8) {
			return false
		}
		last = p
	}
	return true
}

// between looks closer where a curve runs far between two samples, as it does
// where its weights differ.
func (t *trial) between(i int, u, v float64, p, q orb.Point, depth int) bool {
	if depth == 0 || dist(p, q) <= t.apart {
		return true
	}
	m := (u + v) / 2
	r, _ := t.c.eval(i, m)
	return t.keeps(r) && t.between(i, u, m, p, r, depth-1) && t.between(i, m, v, r, q, depth-1)
}

// keeps reports whether a sample keeps to the arcs. A tenth of the tolerance is
// left for what lies between samples, and a tenth for merging.
func (t *trial) keeps(p orb.Point) bool {
	for k, m := range t.middle {
		t.seen[k] = min(t.seen[k], dist(m, p))
	}
	return min(t.pair[0].distance(p), t.pair[1].distance(p)) <= 0.8*t.tol
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

// maxMerged bounds how many fitted arcs become one.
const maxMerged = 64

// mergeAlike joins neighbours that lie on one circle or line within tol, in
// place. Splines often draw true arcs; they come back as one arc each.
func mergeAlike(segs []segment, tol float64) []segment {
	out := segs[:0]
	var of []segment // the fitted arcs that the last of out stands for
	for _, s := range segs {
		if len(of) > 0 && len(of) < maxMerged {
			of = append(of, s)
			if one, ok := oneFor(of, tol); ok {
				out[len(out)-1] = one
				continue
			}
		}
		out = append(out, s)
		of = append(of[:0], s)
	}
	return out
}

// oneFor returns one segment for several that follow one another, where it
// strays from none by more than tol.
func oneFor(segs []segment, tol float64) (segment, bool) {
	first, last := segs[0], segs[len(segs)-1]
	w := 0.0
	for _, s := range segs {
		if s.isArc() != first.isArc() || s.bulge*first.bulge < 0 {
			return segment{}, false
		}
		w += s.sweep()
	}
	if math.Abs(w) > math.Pi+1e-9 || first.a == last.b {
		return segment{}, false
	}
	one := segment{first.a, last.b, math.Tan(w / 4)}
	for i, s := range segs {
		if one.distance(s.middle()) > tol || i+1 < len(segs) && one.distance(s.b) > tol {
			return segment{}, false
		}
	}
	return one, true
}
