package drawing

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"kerfold/geom"
)

// randomSegment is a line or an arc of up to a half circle.
func randomSegment(rng *rand.Rand) segment {
	p := func() orb.Point { return orb.Point{100 * rng.Float64(), 100 * rng.Float64()} }
	s := segment{p(), p(), 0}
	if rng.IntN(3) > 0 {
		s.bulge = 2*rng.Float64() - 1
	}
	return s
}

// along returns n+1 points of a segment, by the arc of package geom: another
// way than the segment's own.
func samples(s segment, n int) []orb.Point {
	out := make([]orb.Point, n+1)
	arc, isArc := geom.ArcBetween(s.a, s.b, s.bulge)
	for i := range out {
		f := float64(i) / float64(n)
		if isArc {
			out[i] = arc.At(f)
		} else {
			out[i] = orb.Point{s.a[0] + f*(s.b[0]-s.a[0]), s.a[1] + f*(s.b[1]-s.a[1])}
		}
	}
	return out
}

// A segment's measures agree with many points along it.
func TestSegmentMeasures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 4))
		s := randomSegment(rng)
		const n = 4000
		pts := samples(s, n)
		box, length := emptyBound(), 0.0
		q := orb.Point{150*rng.Float64() - 25, 150*rng.Float64() - 25}
		nearest := math.Inf(1)
		for i, p := range pts {
			box = box.Extend(p)
			nearest = min(nearest, dist(p, q))
			if i > 0 {
				length += dist(pts[i-1], p)
			}
		}
		b := s.bound()
		if d := max(dist(b.Min, box.Min), dist(b.Max, box.Max)); d > 1e-3 {
			t.Errorf("%v: extents %v, sampled %v", s, b, box)
		}
		if math.Abs(s.length()-length) > 1e-4*length {
			t.Errorf("%v: length %v, sampled %v", s, s.length(), length)
		}
		if d := s.distance(q); d > nearest+1e-9 || d < nearest-s.length()/n {
			t.Errorf("%v: distance of %v is %v, sampled %v", s, q, d, nearest)
		}
		if dist(s.middle(), pts[n/2]) > 1e-9 {
			t.Errorf("%v: middle %v, sampled %v", s, s.middle(), pts[n/2])
		}
		k := 1 + rng.IntN(n-1)
		first, second := s.split(float64(k) / n)
		if dist(first.b, pts[k]) > 1e-9 || math.Abs(first.length()+second.length()-s.length()) > 1e-9*s.length() {
			t.Errorf("%v: split at %d of %d gives %v and %v", s, k, n, first, second)
		}
		if f := s.fraction(pts[k]); math.Abs(f-float64(k)/n) > 1e-9 {
			t.Errorf("%v: fraction of point %d of %d is %v", s, k, n, f)
		}
	})
}

// Segments meet where one changes sides of the other, found by walking along
// it in small steps.
func TestMeetAgainstWalking(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 5))
		s, u := randomSegment(rng), randomSegment(rng)
		found := meet(s, u, 1e-6)
		for _, h := range found.list() {
			if s.distance(h.p) > 1e-5 || u.distance(h.p) > 1e-5 {
				t.Fatalf("%v and %v: %v lies on one of them only", s, u, h)
			}
		}
		crossings := 0
		pts := samples(s, 2000)
		for i := 1; i < len(pts); i++ {
			if changesSides(u, pts[i-1], pts[i]) {
				crossings++
				near := false
				for _, h := range found.list() {
					near = near || dist(h.p, pts[i]) < 0.5
				}
				if !near {
					t.Fatalf("%v crosses %v near %v, not found in %v", s, u, pts[i], found.list())
				}
			}
		}
		if found.n < crossings {
			t.Fatalf("%v and %v: %d crossings found, %d walked over", s, u, found.n, crossings)
		}
	})
}

// changesSides reports whether the step from p to q crosses the segment.
func changesSides(s segment, p, q orb.Point) bool {
	pts := samples(s, 400)
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		if geom.Orient(a, b, p)*geom.Orient(a, b, q) < 0 && geom.Orient(p, q, a)*geom.Orient(p, q, b) < 0 {
			return true
		}
	}
	return false
}

// A point's side of a contour with arcs agrees with a fine polygon's.
func TestContainsAgainstPolygon(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 6))
		c := star(rng, orb.Point{}, 100)
		var ring orb.Ring
		for _, s := range contourSegments(c) {
			ring = append(ring, samples(s, 500)[:500]...)
		}
		for range 50 {
			p := orb.Point{240*rng.Float64() - 120, 240*rng.Float64() - 120}
			near := false
			for _, s := range contourSegments(c) {
				near = near || s.distance(p) < 1e-2
			}
			if want := geom.LocateInRing(ring, p) == geom.Inside; !near && contains(c, p) != want {
				t.Fatalf("%v in %v: %v, want %v", p, c, !want, want)
			}
		}
		p, ok := inner(c, boundOf(c))
		if !ok || geom.LocateInRing(ring, p) != geom.Inside {
			t.Fatalf("inner point %v of %v, found %v", p, c, ok)
		}
	})
}

// The tree finds the boxes that a look at each finds.
func TestBoxTreeAgainstAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 7))
		boxes := make([]orb.Bound, 1+rng.IntN(300))
		for i := range boxes {
			boxes[i] = randomSegment(rng).bound()
		}
		tree := newBoxTree(boxes)
		q := randomSegment(rng).bound()
		got := make([]bool, len(boxes))
		tree.meet(q, func(i int) bool { got[i] = true; return true })
		for i, b := range boxes {
			if got[i] != boxesMeet(b, q) {
				t.Fatalf("box %d: found %v, meets %v", i, got[i], !got[i])
			}
		}
	})
}

// Points within reach are found whatever cells they fall in.
func TestPointIndexAgainstAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 8))
		x := newPointIndex(0.5, 0)
		var pts []orb.Point
		for range rng.IntN(200) {
			p := orb.Point{20*rng.Float64() - 10, 20*rng.Float64() - 10}
			pts = append(pts, p)
			x.add(p)
		}
		q := orb.Point{20*rng.Float64() - 10, 20*rng.Float64() - 10}
		d := 0.5 * rng.Float64()
		found := map[int]bool{}
		x.near(q, d, func(i int) bool { found[i] = true; return true })
		for i, p := range pts {
			if found[i] != (dist(p, q) <= d) {
				t.Fatalf("point %v of %v: found %v", p, q, found[i])
			}
		}
	})
}
