package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"
)

// toOracle turns polygons into a geometry of the other library.
func toOracle(t testing.TB, ps []orb.Polygon) sf.Geometry {
	var polys []sf.Polygon
	for _, p := range ps {
		var rings []sf.LineString
		for _, r := range p {
			var xy []float64
			for i := range len(r) + 1 {
				xy = append(xy, r[i%len(r)][0], r[i%len(r)][1])
			}
			rings = append(rings, sf.NewLineString(sf.NewSequence(xy, sf.DimXY)))
		}
		polys = append(polys, sf.NewPolygon(rings))
	}
	g := sf.NewMultiPolygon(polys).AsGeometry()
	if err := g.Validate(); err != nil {
		t.Fatalf("not a valid multipolygon: %v\n%v", err, ps)
	}
	return g
}

func sumLength(ps []orb.Polygon) float64 {
	sum := 0.0
	for _, p := range ps {
		sum += PolygonLength(p)
	}
	return sum
}

// The areas of union, difference and intersection agree with another
// implementation, and each result is valid to it.
func TestBooleansAgainstOracle(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for k := range 300 {
		a := []orb.Polygon{starWithHole(rng)}
		b := []orb.Polygon{TranslatePolygon(starWithHole(rng), orb.Point{Snap(rng.Float64() * 60), Snap(rng.Float64() * 60)})}
		if k%3 == 0 { // a coarse lattice, where edges and vertices coincide
			a, b = []orb.Polygon{latticePolygon(rng)}, []orb.Polygon{latticePolygon(rng)}
		}
		ga, gb := toOracle(t, a), toOracle(t, b)
		for _, op := range []struct {
			name string
			got  []orb.Polygon
			want func(sf.Geometry, sf.Geometry) (sf.Geometry, error)
		}{
			{"union", Union(a[0], b[0]), sf.Union},
			{"difference", Difference(a, b), sf.Difference},
			{"intersection", Intersection(a, b), sf.Intersection},
		} {
			want, err := op.want(ga, gb)
			if err != nil {
				t.Logf("%s: the other library gives up: %v", op.name, err)
				continue
			}
			tol := Grid * (1 + sumLength(a) + sumLength(b))
			if got := sumArea(op.got); math.Abs(got-want.Area()) > tol {
				t.Errorf("case %d, %s: area %g, want %g", k, op.name, got, want.Area())
			}
			toOracle(t, op.got)
		}
	}
}

func starWithHole(rng *rand.Rand) orb.Polygon {
	p := randomStar(rng, 3+rng.IntN(20), 50)
	if rng.IntN(2) == 0 {
		return p
	}
	hole := randomStar(rng, 3+rng.IntN(8), 15)
	if !Within(hole, p) {
		return p
	}
	return NormalPolygon(append(p, hole[0]))
}

// latticePolygon is a union of random rectangles on a small lattice: the
// largest piece.
func latticePolygon(rng *rand.Rand) orb.Polygon {
	var ps []orb.Polygon
	for range 4 {
		x, y := float64(rng.IntN(8)), float64(rng.IntN(8))
		ps = append(ps, rect(x, y, x+1+float64(rng.IntN(4)), y+1+float64(rng.IntN(4))))
	}
	return largest(Union(ps...))
}

func TestUnionKeepsHolesAndTouches(t *testing.T) {
	got := Union(rect(0, 0, 3, 1), rect(0, 2, 3, 3), rect(0, 0, 1, 3), rect(2, 0, 3, 3))
	if len(got) != 1 || len(got[0]) != 2 || PolygonArea(got[0]) != 8 || len(got[0][0]) != 4 {
		t.Errorf("a frame of four bars: %v", got)
	}
	got = Union(rect(0, 0, 1, 1), rect(1, 1, 2, 2))
	if len(got) != 2 {
		t.Errorf("two squares that share a corner: %v", got)
	}
	got = Union(rect(0, 0, 5, 5), rect(5, 0, 9, 5))
	if len(got) != 1 || len(got[0][0]) != 4 {
		t.Errorf("two rectangles side by side: %v", got)
	}
	nested := Difference([]orb.Polygon{rect(0, 0, 9, 9)}, []orb.Polygon{rect(1, 1, 8, 8)})
	nested = Union(append(nested, rect(3, 3, 5, 5))...)
	if len(nested) != 2 || len(nested[0]) != 2 {
		t.Errorf("an island in a frame: %v", nested)
	}
}

// Soup: rings that cross themselves, repeat points, collapse.
func drawSoup(t *rapid.T, name string) orb.Polygon {
	var p orb.Polygon
	for range rapid.IntRange(0, 3).Draw(t, name+" rings") {
		var r orb.Ring
		for range rapid.IntRange(0, 12).Draw(t, name+" points") {
			x := rapid.Float64Range(-4, 4).Draw(t, "x")
			y := rapid.Float64Range(-4, 4).Draw(t, "y")
			if rapid.Bool().Draw(t, "coarse") {
				x, y = math.Round(x), math.Round(y)
			}
			r = append(r, orb.Point{x, y})
		}
		p = append(p, r)
	}
	return p
}

// The arrangement of any soup is sound: the sweep ends with nothing left over
// at the first noding, and the outcome's stretches meet only at ends.
func TestNodingIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ar := borrowArrangement(false)
		defer ar.release()
		ar.addPolygon(drawSoup(t, "a"), 0)
		ar.addPolygon(drawSoup(t, "b"), 1)
		ar.noder.run()
		if !ar.sweeper.run(&ar.noder, nil) {
			t.Fatal("the sweep is left with stretches")
		}
		n := &ar.noder
		for i, s := range n.stretches {
			for _, u := range n.stretches[i+1:] {
				rel := RelateSegments(n.verts[s.from], n.verts[s.to], n.verts[u.from], n.verts[u.to])
				if rel == Crossing || rel == Overlapping {
					t.Fatalf("stretches %v and %v cross", s, u)
				}
			}
		}
	})
}

// Segments crowded into a few pixels, where rounding decides.
func TestNodingCrowded(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	for range 400 {
		ar := borrowArrangement(false)
		var r orb.Ring
		span := 2 + rng.Int64N(12)
		for range 4 + rng.IntN(16) {
			r = append(r, orb.Point{float64(rng.Int64N(span)) * Grid, float64(rng.Int64N(span)) * Grid})
		}
		ar.addRing(OpenRing(r), 0)
		ar.noder.run()
		if !ar.sweeper.run(&ar.noder, nil) {
			t.Fatalf("the sweep is left with stretches: %v", r)
		}
		for i, s := range ar.stretches {
			for _, u := range ar.stretches[i+1:] {
				if rel := RelateSegments(ar.verts[s.from], ar.verts[s.to], ar.verts[u.from], ar.verts[u.to]); rel > Touching {
					t.Fatalf("stretches cross: %v", r)
				}
			}
		}
		ar.release()
	}
}

// In an exclusive partition the pieces' areas add up.
func TestBooleanAreasAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := []orb.Polygon{drawStar(t, "a")}, []orb.Polygon{drawStar(t, "b")}
		both, onlyA, onlyB := sumArea(Intersection(a, b)), sumArea(Difference(a, b)), sumArea(Difference(b, a))
		if got, want := sumArea(Union(a[0], b[0])), both+onlyA+onlyB; math.Abs(got-want) > 1e-4 {
			t.Fatalf("union %g, pieces %g", got, want)
		}
		if math.Abs(onlyA+both-sumArea(a)) > 1e-4 {
			t.Fatalf("a %g, pieces %g", sumArea(a), onlyA+both)
		}
	})
}

func FuzzOverlay(f *testing.F) {
	f.Add([]byte{0, 0, 9, 0, 9, 9, 0, 9, 3, 3, 12, 3, 12, 12, 3, 12}, uint8(4), 1.0)
	f.Add([]byte{0, 0, 9, 9, 9, 0, 0, 9, 5, 5, 5, 5, 1, 200, 77, 3}, uint8(5), 1e-6)
	f.Add([]byte{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14}, uint8(3), 1e300)
	f.Fuzz(func(t *testing.T, data []byte, cut uint8, scale float64) {
		a, b := soupFromBytes(data, int(cut), scale)
		for _, got := range [][]orb.Polygon{Union(a, b), Difference([]orb.Polygon{a}, []orb.Polygon{b}), Intersection([]orb.Polygon{a}, []orb.Polygon{b}), Offset(a, 2, 0.1), Offset(b, -0.5, 0.1)} {
			for _, p := range got {
				if !(PolygonArea(p) > 0) {
					t.Errorf("a polygon without area: %v", p)
				}
			}
		}
	})
}

// soupFromBytes makes two rings of at most 40 points each.
func soupFromBytes(data []byte, cut int, scale float64) (a, b orb.Polygon) {
	var pts orb.Ring
	for i := 0; i+1 < len(data) && len(pts) < 80; i += 2 {
		pts = append(pts, orb.Point{float64(int8(data[i])) * scale, float64(int8(data[i+1])) * scale})
	}
	cut = min(cut, len(pts))
	return orb.Polygon{pts[:cut]}, orb.Polygon{pts[cut:]}
}
