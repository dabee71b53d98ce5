package verify

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"kerfold/geom"
)

// drawContour draws a star-shaped contour whose segments are lines and arcs too
// flat to meet each other.
func drawContour(t *rapid.T, label string) geom.Contour {
	n := rapid.IntRange(3, 9).Draw(t, label+" corners")
	var c geom.Contour
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.4*rapid.Float64Range(0, 1).Draw(t, "turn")) / float64(n))
		r := rapid.Float64Range(5, 10).Draw(t, "radius")
		v := geom.Vertex{P: orb.Point{r * cos, r * sin}}
		if rapid.Bool().Draw(t, "arc") {
			v.Bulge = rapid.Float64Range(-0.15, 0.15).Draw(t, "bulge")
		}
		c = append(c, v)
	}
	return c
}

func drawPose(t *rapid.T, reach float64) geom.Pose {
	return geom.Pose{
		X: rapid.Float64Range(-reach, reach).Draw(t, "x"), Y: rapid.Float64Range(-reach, reach).Draw(t, "y"),
		AngleDeg: rapid.Float64Range(0, 360).Draw(t, "angle"), Mirror: rapid.Bool().Draw(t, "mirror"),
	}
}

func posedRegion(c geom.Contour, p geom.Pose) *region {
	t := makeTemplate(geom.Shape{Outer: c})
	r := &region{edges: t.pose(p)}
	r.box = bound(r.edges)
	r.findCore()
	return r
}

// dense returns points along the region's edges no further apart than step, by
// way of the bulges rather than the edges.
func dense(c geom.Contour, p geom.Pose, step float64) []orb.Point {
	var out []orb.Point
	for i, v := range c {
		out = halve(out, v.P, c[(i+1)%len(c)].P, v.Bulge, step)
	}
	for i := range out {
		out[i] = p.Apply(out[i])
	}
	return out
}

func halve(out []orb.Point, a, b orb.Point, bulge, step float64) []orb.Point {
	if dist(a, b) <= step {
		return append(out, a)
	}
	m := bulgeMid(a, b, bulge)
	half := bulge / (1 + math.Sqrt(1+bulge*bulge))
	return halve(halve(out, a, m, half, step), m, b, half, step)
}

func TestPosedEdgesFollowTheOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, p := drawContour(t, "c"), drawPose(t, 1000)
		r := posedRegion(c, p)
		for _, q := range dense(c, p, 0.5) {
			if d := clearance(q, r.edges); d > chordSagitta {
				t.Fatalf("point %v of the outline is %v off the edges", q, d)
			}
		}
		length := 0.0
		for i := range r.edges {
			e := &r.edges[i]
			length += e.length()
			if d := e.pointDist(e.mid()); d > chordSagitta {
				t.Fatalf("the middle of %+v is %v off it", *e, d)
			}
			if e.arc && cross(sub(e.a, e.c), sub(e.b, e.c)) < 0 == e.ccw {
				t.Fatalf("arc %+v sweeps the wrong way", *e)
			}
		}
		if want := c.Length(); math.Abs(length-want) > chordSagitta {
			t.Fatalf("edges are %v long, the outline %v", length, want)
		}
	})
}

// TestBetweenAgainstSampling holds the shortest connection of two edges against
// the closest of many sampled pairs: never longer, and shorter by no more than
// the sampling step allows.
func TestBetweenAgainstSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawEdge(t)
		b := drawEdge(t)
		l := between(&a, &b)
		const n = 60
		best := math.Inf(1)
		pa, pb := along(&a, n), along(&b, n)
		for _, p := range pa {
			for _, q := range pb {
				best = math.Min(best, dist(p, q))
			}
		}
		slack := (a.length() + b.length()) / n
		if l.d > best+1e-9 || l.d < best-slack {
			t.Fatalf("%+v %+v: distance %v, sampled %v", a, b, l.d, best)
		}
		if math.Abs(dist(l.p, l.q)-l.d) > 1e-9 {
			t.Fatalf("the link's ends are %v apart, not %v", dist(l.p, l.q), l.d)
		}
		far := farthest(&a, &b)
		for _, p := range pa {
			if d := b.pointDist(p); d > far+1e-9 {
				t.Fatalf("a point of %+v is %v from %+v, bound %v", a, d, b, far)
			}
		}
	})
}

func drawEdge(t *rapid.T) edge {
	pt := func(l string) orb.Point {
		return orb.Point{rapid.Float64Range(-5, 5).Draw(t, l), rapid.Float64Range(-5, 5).Draw(t, l)}
	}
	if rapid.Bool().Draw(t, "line") {
		return line(pt("a"), pt("b"))
	}
	c, r := pt("c"), rapid.Float64Range(0.1, 8).Draw(t, "r")
	q := rapid.IntRange(0, 3).Draw(t, "quadrant")
	s := rapid.Float64Range(0, 0.9).Draw(t, "start")
	e := rapid.Float64Range(s+0.05, 1).Draw(t, "end")
	at := func(u float64) orb.Point {
		sin, cos := math.Sincos((float64(q) + u) * math.Pi / 2)
		return orb.Point{c[0] + r*cos, c[1] + r*sin}
	}
	if rapid.Bool().Draw(t, "ccw") {
		return arcEdge(at(s), at(e), c, r, true)
	}
	return arcEdge(at(e), at(s), c, r, false)
}

// along returns n+1 points of an edge.
func along(e *edge, n int) []orb.Point {
	var out []orb.Point
	u, v := sub(e.a, e.c), sub(e.b, e.c)
	from := math.Atan2(u[1], u[0])
	sweep := math.Atan2(cross(u, v), dot(u, v))
	for i := range n + 1 {
		s := float64(i) / float64(n)
		if !e.arc {
			out = append(out, orb.Point{e.a[0] + s*(e.b[0]-e.a[0]), e.a[1] + s*(e.b[1]-e.a[1])})
			continue
		}
		sin, cos := math.Sincos(from + s*sweep)
		out = append(out, orb.Point{e.c[0] + e.r*cos, e.c[1] + e.r*sin})
	}
	return out
}

// TestHoldsAgainstWinding holds the inside test against the winding number of
// the densely sampled outline, away from the outline.
func TestHoldsAgainstWinding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, p := drawContour(t, "c"), drawPose(t, 5)
		r := posedRegion(c, p)
		ring := dense(c, p, 0.02)
		for range 20 {
			q := orb.Point{rapid.Float64Range(-15, 15).Draw(t, "qx"), rapid.Float64Range(-15, 15).Draw(t, "qy")}
			if clearance(q, r.edges) < 0.01 {
				continue
			}
			if got, want := r.holds(q), winding(ring, q) != 0; got != want {
				t.Fatalf("%v inside: %v, winding number says %v", q, got, want)
			}
		}
	})
}

func winding(ring []orb.Point, q orb.Point) int {
	sum := 0.0
	for i, p := range ring {
		u, v := sub(p, q), sub(ring[(i+1)%len(ring)], q)
		sum += math.Atan2(cross(u, v), dot(u, v))
	}
	return int(math.Round(sum / (2 * math.Pi)))
}

// TestCompareAgainstSampling judges random pairs of outlines with arcs and
// holds verdict, depth and missing distance against dense samples of both
// outlines.
func TestCompareAgainstSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ca, cb := drawContour(t, "a"), drawContour(t, "b")
		pa, pb := drawPose(t, 12), drawPose(t, 12)
		a, b := posedRegion(ca, pa), posedRegion(cb, pb)
		const gap, step = 3, 0.1
		v := compare(a, b, gap, geom.TouchTolerance)
		inside, apart := math.Inf(-1), math.Inf(1)
		sample := func(ps []orb.Point, r *region) {
			for _, p := range ps {
				inside = math.Max(inside, r.depthAt(p))
				apart = math.Min(apart, clearance(p, r.edges))
			}
		}
		sample(dense(ca, pa, step), b)
		sample(dense(cb, pb, step), a)
		switch {
		case inside > 0 && v.finding != shared:
			t.Fatalf("a sample lies %v inside, verdict %+v", inside, v)
		case v.finding == shared && v.amount < inside*(1-2*measureShare):
			t.Fatalf("depth %v, a sample lies %v inside", v.amount, inside)
		case v.finding == shared:
			if d := math.Min(a.depthAt(v.at), b.depthAt(v.at)); d < -1e-9 {
				t.Fatalf("overlap shown at %v, %v outside", v.at, d)
			}
		case inside < -step && apart < gap && v.finding != tooNear:
			t.Fatalf("samples are %v apart, verdict %+v", apart, v)
		case v.finding == tooNear && (gap-v.amount > apart+1e-9 || gap-v.amount < apart-step):
			t.Fatalf("%v apart, samples %v", gap-v.amount, apart)
		case v.finding == fine && apart < gap-geom.TouchTolerance-1e-9:
			t.Fatalf("passed at %v", apart)
		}
	})
}

// TestShiftSeparates checks the promise of the package comment: a shift shorter
// than the reported depth never separates a pair.
func TestShiftSeparates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ca, cb := drawContour(t, "a"), drawContour(t, "b")
		pa, pb := drawPose(t, 6), drawPose(t, 6)
		a := posedRegion(ca, pa)
		v := compare(a, posedRegion(cb, pb), 0, geom.TouchTolerance)
		if v.finding != shared {
			t.Skip("apart")
		}
		sin, cos := math.Sincos(rapid.Float64Range(0, 2*math.Pi).Draw(t, "direction"))
		way := 0.99 * v.amount
		pb.X, pb.Y = pb.X+way*cos, pb.Y+way*sin
		if w := compare(a, posedRegion(cb, pb), 0, geom.TouchTolerance); w.finding != shared {
			t.Fatalf("depth %v, yet a shift of %v separates: %+v", v.amount, way, w)
		}
	})
}

// TestFlatArcs puts a part on arcs of growing radius, past the one at which
// they are judged as chords.
func TestFlatArcs(t *testing.T) {
	for _, r := range []float64{1e3, 1e5, 1e7, 1.6e7, 1e8, 1.3e8, 1.4e8, 1e9} {
		const half = 400.0
		sagitta := half * half / (r + math.Sqrt(r*r-half*half))
		lens := geom.Contour{{P: orb.Point{half, 0}, Bulge: sagitta / half}, {P: orb.Point{-half, 0}}, {P: orb.Point{-half, -10}}, {P: orb.Point{half, -10}}}
		for _, shift := range []float64{0, geom.TouchTolerance / 2, 4 * geom.TouchTolerance, 1} {
			body := geom.Contour{{P: orb.Point{-5, sagitta - shift}}, {P: orb.Point{5, sagitta - shift}}, {P: orb.Point{0, sagitta + 10}}}
			v := compare(posedRegion(lens, geom.Pose{}), posedRegion(body, geom.Pose{}), 0, geom.TouchTolerance)
			if want := shift > geom.TouchTolerance; (v.finding == shared) != want {
				t.Errorf("radius %g, shift %g: %+v", r, shift, v)
			}
		}
	}
}

// TestThinPartsInOnePlace: parts so thin that no search cell fits into them are
// still seen to lie on each other.
func TestThinPartsInOnePlace(t *testing.T) {
	for _, w := range []float64{1, 1e-2, 1e-3, 1e-4} {
		c := geom.Contour{{P: orb.Point{0, 0}}, {P: orb.Point{3000, 1000}}, {P: orb.Point{3000, 1000 + w}}, {P: orb.Point{0, w}}}
		a := posedRegion(c, geom.Pose{})
		if v := compare(a, posedRegion(c, geom.Pose{}), 0, geom.TouchTolerance); v.finding != shared {
			t.Errorf("width %g: %+v, core %v deep", w, v, a.coreDepth)
		}
	}
}
