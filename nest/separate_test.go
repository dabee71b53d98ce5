package nest

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"

	kgeom "kerfold/geom"
)

// sepRectangle is a w × h rectangle at the origin.
func sepRectangle(w, h float64) orb.Polygon {
	return orb.Polygon{{{0, 0}, {w, 0}, {w, h}, {0, h}}}
}

// sepLShape is a w × w square without its upper right quarter.
func sepLShape(w float64) orb.Polygon {
	return orb.Polygon{{{0, 0}, {w, 0}, {w, w / 2}, {w / 2, w / 2}, {w / 2, w}, {0, w}}}
}

func TestSeparateStripReachesKnownOptimum(t *testing.T) {
	cases := []struct {
		name   string
		p      Problem
		length float64
	}{
		{"four squares two by two", Problem{StripWidth: 2.5, Parts: []Part{
			{Outline: sepRectangle(1, 1), Quantity: 4},
		}}, 2},
		{"two L make a rectangle", Problem{StripWidth: 31, Parts: []Part{
			{Outline: sepLShape(20), Quantity: 2, Angles: []float64{0, 180}},
		}}, 20},
		{"spacing and margin count", Problem{StripWidth: 31, Spacing: 2, Margin: 3, Parts: []Part{
			{Outline: sepRectangle(10, 10), Quantity: 4},
		}}, 28},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r, err := Separate(context.Background(), c.p, Result{}, Options{Seed: 1, Effort: 0.2})
			if err != nil {
				t.Fatal(err)
			}
			sepCheckStrip(t, c.p, r)
			if r.Length > c.length*1.002 {
				t.Errorf("length %g, want %g within 0.2 %%", r.Length, c.length)
			}
		})
	}
}

// TestSeparateStripHeedsItsHeight has parts that are too high for the strip in most
// of their turns, thrown on it without a layout to start from.
func TestSeparateStripHeedsItsHeight(t *testing.T) {
	for why, p := range map[string]Problem{
		"one of two turns": {StripWidth: 10, Parts: []Part{
			{Outline: sepRectangle(20, 5), Quantity: 9, Angles: []float64{0, 90}},
		}},
		"one of two sides": {StripWidth: 60, Margin: 3, Parts: []Part{
			{Outline: orb.Polygon{{{0, 0}, {45, 0}, {45, 12}, {15, 12}, {15, 37}, {0, 37}}}, Quantity: 6, Angles: []float64{30}, Mirror: true},
		}},
		"hardly any angle": {StripWidth: 2.1, Parts: []Part{
			{Outline: sepRectangle(60, 2), Quantity: 3, FreeAngle: true},
		}},
	} {
		t.Run(why, func(t *testing.T) {
			r, err := Separate(context.Background(), p, Result{}, Options{Seed: 1, Effort: 0.01})
			if err != nil {
				t.Fatal(err)
			}
			sepCheckStrip(t, p, r)
		})
	}
}

func TestSeparateDoesNotDependOnWorkers(t *testing.T) {
	p := sepMixedProblem()
	var first Result
	for i, workers := range []int{1, 2, 5} {
		r, err := Separate(context.Background(), p, Result{}, Options{Seed: 7, Effort: 0.3, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			first = r
		} else if d := cmp.Diff(first, r); d != "" {
			t.Errorf("%d workers differ from one: %s", workers, d)
		}
	}
}

func sepMixedProblem() Problem {
	return Problem{StripWidth: 100, Parts: []Part{
		{Outline: sepLShape(30), Quantity: 4, Angles: []float64{0, 90, 180, 270}, Mirror: true},
		{Outline: orb.Polygon{{{0, 0}, {40, 0}, {10, 25}}}, Quantity: 5, Angles: []float64{0, 180}},
		{Outline: orb.Polygon{{{0, 0}, {50, 0}, {50, 50}, {0, 50}}, {{10, 10}, {10, 40}, {40, 40}, {40, 10}}}, Quantity: 2},
		{Outline: sepRectangle(12, 12), Quantity: 8, Angles: []float64{0, 45}},
	}}
}

func TestSeparateLaysMixedPartsLegally(t *testing.T) {
	p := sepMixedProblem()
	for _, spacing := range []float64{0, 1.5} {
		p.Spacing = spacing
		r, err := Separate(context.Background(), p, Result{}, Options{Seed: 3, Effort: 0.5})
		if err != nil {
			t.Fatal(err)
		}
		sepCheckStrip(t, p, r)
	}
}

// sepCheckStrip judges a strip layout with another library's overlay and
// distance: all parts there, inside, and apart.
func sepCheckStrip(t *testing.T, p Problem, r Result) {
	t.Helper()
	var shapes []geom.Geometry
	want := 0
	for _, part := range p.Parts {
		want += part.Quantity
	}
	for _, pl := range r.Layouts[0].Placements {
		var rings [][]float64
		for _, ring := range p.Parts[pl.Part].Outline {
			var flat []float64
			for k := 0; k <= len(ring); k++ {
				q := pl.Pose.Apply(ring[k%len(ring)])
				flat = append(flat, q[0], q[1])
				sepCheckInside(t, p, r, q)
			}
			rings = append(rings, flat)
		}
		shapes = append(shapes, sepFeature(rings))
	}
	if len(shapes) != want {
		t.Fatalf("%d placements, want %d", len(shapes), want)
	}
	for i := range shapes {
		for j := range i {
			sepCheckApart(t, p.Spacing, shapes[i], shapes[j], i, j)
		}
	}
}

func sepFeature(rings [][]float64) geom.Geometry {
	var lines []geom.LineString
	for _, flat := range rings {
		lines = append(lines, geom.NewLineString(geom.NewSequence(flat, geom.DimXY)))
	}
	return geom.NewPolygon(lines).AsGeometry()
}

func sepCheckInside(t *testing.T, p Problem, r Result, q orb.Point) {
	t.Helper()
	const tol = kgeom.TouchTolerance
	if q[0] < p.Margin-tol || q[0] > r.Length-p.Margin+tol || q[1] < p.Margin-tol || q[1] > p.StripWidth-p.Margin+tol {
		t.Errorf("point %v outside the strip of length %g", q, r.Length)
	}
}

func sepCheckApart(t *testing.T, spacing float64, a, b geom.Geometry, i, j int) {
	t.Helper()
	common, err := geom.Intersection(a, b)
	if err != nil {
		t.Fatal(err)
	}
	if area := common.Area(); area > kgeom.TouchTolerance*common.Boundary().Length()+1e-9 {
		t.Errorf("placements %d and %d overlap by %g mm²", i, j, area)
	}
	if d, ok := geom.Distance(a, b); ok && d < spacing-kgeom.TouchTolerance {
		t.Errorf("placements %d and %d are %g mm apart, want %g", i, j, d, spacing)
	}
}

// TestSepTableAgainstSums compares the cell index with the plain definition:
// inside some convex sum or not, and the distance by marching.
func TestSepTableAgainstSums(t *testing.T) {
	p, q := sepLShape(30), orb.Polygon{{{0, 0}, {40, 0}, {10, 25}, {12, 8}}}
	a, b := kgeom.ConvexPieces(p), kgeom.ConvexPieces(q)
	for _, gap := range []float64{0, 2.5} {
		exact := sepTableOf(p, q, gap, func() []sepSum { return sepSums(a, b) })
		for _, tab := range []*sepTable{sepNewTable(a, b, gap), exact} {
			for i := range 200 {
				for j := range 200 {
					x, y := -60+float64(i)*0.607, -60+float64(j)*0.611
					sepCheckDepth(t, tab, gap, x, y)
				}
			}
		}
	}
}

// TestSepTablesAgree compares the two ways to make a table on pairs of drawn
// parts, in quarter turns and mirrored, at random places and on the boundary.
func TestSepTablesAgree(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 4))
	for range 60 {
		p, q := randomPart(rng, 14), randomPart(rng, 14)
		a, b := kgeom.ConvexPieces(p), kgeom.ConvexPieces(q)
		m := sepTurnMatrix(Turn{AngleDeg: 90 * float64(rng.IntN(4)), Mirror: rng.IntN(2) == 0})
		turned, gap := sepTurned(q, m), float64(rng.IntN(2))*1.5
		sums := func() []sepSum { return sepSums(a, sepTurned(b, m)) }
		one, other := sepNewTable(a, sepTurned(b, m), gap), sepTableOf(p, turned, gap, sums)
		at := func(x, y float64) {
			d, e := one.depth(x, y), other.depth(x, y)
			if (d > sepTouch) != (e > sepTouch) && math.Abs(d-e) > 4*sepTouch {
				t.Fatalf("(%v, %v), gap %g: depth %g by sums, %g by the no-fit polygon of\n%v\n%v", x, y, gap, d, e, p, turned)
			}
		}
		box := kgeom.NoFit(p, turned).Bounds()
		for range 2000 {
			at(box.Min[0]+rng.Float64()*(box.Max[0]-box.Min[0]), box.Min[1]+rng.Float64()*(box.Max[1]-box.Min[1]))
		}
		for i := range other.segs {
			s := &other.segs[i]
			mid := s.length / 2
			at(s.ax, s.ay)
			at(s.ax+s.ux*mid, s.ay+s.uy*mid)
		}
	}
}

func sepCheckDepth(t *testing.T, tab *sepTable, gap, x, y float64) {
	t.Helper()
	d := tab.depth(x, y)
	signed := math.Inf(1)
	for i := range tab.segs {
		signed = min(signed, math.Sqrt(tab.segs[i].distance2(x, y)))
	}
	if !sepCovered(tab.sums(), x, y) {
		signed = -signed
	}
	if collides := signed+gap > sepSeam; collides != (d > sepSeam) {
		t.Fatalf("(%g, %g) is %g deep with gap %g, but its depth is %g", x, y, signed, gap, d)
	}
	if d == 0 {
		return
	}
	// Some point at the depth is clear, and none much nearer.
	clear := func(r float64) bool {
		for k := range 720 {
			s, c := math.Sincos(float64(k) * math.Pi / 360)
			if tab.depth(x+r*c, y+r*s) == 0 {
				return true
			}
		}
		return false
	}
	const cell = 2.5 // interpolation error inside
	if !clear(d+cell) || (d > cell && clear(d-cell)) {
		t.Fatalf("(%g, %g): depth %g is not the distance to the nearest clear point", x, y, d)
	}
}

// A strip as short as its widest part cannot be shortened: the search must end
// with its effort, not look for something shorter for ever.
func TestSeparateEndsAtTheWidestPart(t *testing.T) {
	disc := kgeom.CircleContour(orb.Point{}, 30).Flatten(kgeom.ChordTolerance, kgeom.Outward)
	p := Problem{StripWidth: 250, Parts: []Part{
		{ID: "disc", Outline: orb.Polygon{disc}, Quantity: 2, Angles: []float64{0, 90}, Mirror: true},
	}}
	done := make(chan Result, 1)
	go func() {
		r, err := Solve(context.Background(), p, Options{Seed: 1, Effort: 0.01, Workers: 2})
		if err != nil {
			t.Error(err)
		}
		done <- r
	}()
	select {
	case r := <-done:
		if width := disc.Bound().Max[0] - disc.Bound().Min[0]; math.Abs(r.Length-width) > kgeom.TouchTolerance {
			t.Errorf("the strip is %v long, the part %v wide", r.Length, width)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("the search goes on after its effort is spent")
	}
}
