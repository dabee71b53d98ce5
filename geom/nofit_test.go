package geom

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func ringsArea(rings []orb.Ring) float64 {
	sum := 0.0
	for _, r := range rings {
		sum += RingArea(r)
	}
	return sum
}

func TestNoFitTouching(t *testing.T) {
	tee := poly(orb.Ring{{0, 0}, {3, 0}, {3, 1}, {2, 1}, {2, 2}, {1, 2}, {1, 1}, {0, 1}})
	ell := poly(orb.Ring{{0, 0}, {3, 0}, {3, 1}, {1, 1}, {1, 3}, {0, 3}})
	ellHole := poly(RectRing(-2, -2, 5, 5), ReverseRing(ell[0]))
	jigsaw := poly(orb.Ring{{0, 0}, {10, 0}, {10, 5}, {6, 5}, {6, 4}, {7, 4}, {7, 2}, {3, 2}, {3, 4}, {4, 4}, {4, 5}, {0, 5}})
	knob := poly(orb.Ring{{3, 2}, {7, 2}, {7, 4}, {6, 4}, {6, 5}, {10, 5}, {10, 9}, {0, 9}, {0, 5}, {4, 5}, {4, 4}, {3, 4}})
	wedgeHole := poly(RectRing(-5, -5, 10, 10), orb.Ring{{0, 0}, {1, 3}, {4, 1}})
	for _, tc := range []struct {
		name          string
		fixed, moving orb.Polygon
		segments      [][2]orb.Point
		points        []orb.Point
	}{
		{"two squares", rect(0, 0, 1, 1), rect(0, 0, 1, 1), nil, nil},
		{"square peg, square slot", socket, rect(0, 0, 1, 1), [][2]orb.Point{{{5, 6}, {5, 10}}}, nil},
		{"thin peg", socket, rect(0, 0, 0.5, 1), nil, nil},
		{"thick peg", socket, rect(0, 0, 1.5, 1), nil, nil},
		{"block of the window's size", frame, rect(0, 0, 4, 4), nil, []orb.Point{{3, 3}}},
		{"block of the window's height", frame, rect(0, 0, 3, 4), [][2]orb.Point{{{3, 3}, {4, 3}}}, nil},
		{"small block", frame, rect(0, 0, 1, 1), nil, nil},
		{"L into its own hole", ellHole, ell, nil, []orb.Point{{0, 0}}},
		{"T has no place in an L's hole", ellHole, tee, nil, nil},
		{"jigsaw knob in its socket", jigsaw, knob, nil, []orb.Point{{0, 0}}},
		{"triangle in its own hole", wedgeHole, poly(orb.Ring{{0, 0}, {4, 1}, {1, 3}}), nil, []orb.Point{{0, 0}}},
		{"frame around a block of the window's size", rect(0, 0, 4, 4), frame, nil, []orb.Point{{-3, -3}}},
		{"frame around a small block", rect(0, 0, 1, 1), frame, nil, nil},
	} {
		got := NoFit(tc.fixed, tc.moving)
		if want, ok := cellArea(tc.fixed, tc.moving); ok && ringsArea(got.Rings) != want {
			t.Errorf("%s: area %g, want %g", tc.name, ringsArea(got.Rings), want)
		}
		if !slices.Equal(got.Segments, tc.segments) || !slices.Equal(got.Points, tc.points) {
			t.Errorf("%s: segments %v points %v, want %v and %v", tc.name, got.Segments, got.Points, tc.segments, tc.points)
		}
	}
}

// cellArea counts the square cells of half a millimetre whose middle is a
// forbidden translation. For polygons with sides along the axes and corners on
// the half-millimetre lattice the forbidden set consists of such cells.
func cellArea(fixed, moving orb.Polygon) (float64, bool) {
	if !onHalves(fixed) || !onHalves(moving) {
		return 0, false
	}
	ia, ib := NewIndex(fixed), NewIndex(moving)
	count := 0
	for x := -25.25; x < 25; x += 0.5 {
		for y := -25.25; y < 25; y += 0.5 {
			if ia.Overlaps(ib, orb.Point{x, y}) {
				count++
			}
		}
	}
	return float64(count) / 4, true
}

func onHalves(p orb.Polygon) bool {
	for _, r := range p {
		for i, v := range r {
			w := r[(i+1)%len(r)]
			if v[0] != w[0] && v[1] != w[1] || v[0]*2 != math.Round(v[0]*2) || v[1]*2 != math.Round(v[1]*2) {
				return false
			}
		}
	}
	return true
}

func TestInnerFitTable(t *testing.T) {
	ell := poly(orb.Ring{{0, 0}, {3, 0}, {3, 1}, {1, 1}, {1, 3}, {0, 3}})
	disc := NormalPolygon(Shape{Outer: CircleContour(orb.Point{0, 0}, 5)}.Flatten(0.01, Outward))
	for _, tc := range []struct {
		name              string
		container, moving orb.Polygon
		area              float64
		segments          [][2]orb.Point
		points            []orb.Point
	}{
		{"loose", rect(0, 0, 10, 6), rect(0, 0, 3, 2), 28, nil, nil},
		{"as high as the strip", rect(0, 0, 10, 6), rect(0, 0, 3, 6), 0, [][2]orb.Point{{{0, 0}, {7, 0}}}, nil},
		{"as wide as the strip", rect(0, 0, 10, 6), rect(-1, 0, 9, 2), 0, [][2]orb.Point{{{1, 0}, {1, 4}}}, nil},
		{"the strip's own size", rect(0, 0, 10, 6), rect(0, 0, 10, 6), 0, nil, []orb.Point{{0, 0}}},
		{"too high", rect(0, 0, 10, 6), rect(0, 0, 3, 7), 0, nil, nil},
		{"too large both ways", rect(0, 0, 10, 6), rect(-50, -50, 50, 50), 0, nil, nil},
		{"L in an L", ell, ell, 0, nil, []orb.Point{{0, 0}}},
		{"square in an L's arms", ell, rect(0, 0, 1, 1), 0, [][2]orb.Point{{{0, 0}, {0, 2}}, {{0, 0}, {2, 0}}}, nil},
		{"small square in an L", ell, rect(0, 0, 0.5, 0.5), 0.5*2.5 + 2*0.5, nil, nil},
		{"beside a blocked zone", frame, rect(0, 0, 3, 3), 0, [][2]orb.Point{{{0, 0}, {0, 7}}, {{0, 0}, {7, 0}}, {{0, 7}, {7, 7}}, {{7, 0}, {7, 7}}}, nil},
		{"frame around a blocked zone", frame, poly(RectRing(0, 0, 6, 6), ReverseRing(RectRing(1, 1, 5, 5))), 0, nil, []orb.Point{{2, 2}}},
		{"disc in its own outline", disc, disc, 0, nil, []orb.Point{{0, 0}}},
	} {
		got := InnerFit(tc.container, tc.moving)
		if area := ringsArea(got.Rings); math.Abs(area-tc.area) > 1e-9 {
			t.Errorf("%s: area %g, want %g", tc.name, area, tc.area)
		}
		if !slices.Equal(got.Segments, tc.segments) || !slices.Equal(got.Points, tc.points) {
			t.Errorf("%s: segments %v points %v, want %v and %v", tc.name, got.Segments, got.Points, tc.segments, tc.points)
		}
	}
}

// Random translations: inside the rings means that interiors overlap, outside
// that they do not. Points nearer to a ring than its rounding are left out.
func TestNoFitAgainstOverlap(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 18))
	inside, outside, holes := 0, 0, 0
	for k := range 150 {
		a, b := samplePolygon(rng, k), samplePolygon(rng, k/3)
		r := NoFit(a, b)
		ia, ib := NewIndex(a), NewIndex(b)
		box := r.Bounds()
		for _, ring := range r.Rings {
			if RingArea(ring) < 0 {
				holes++
			}
		}
		for range 300 {
			p := SnapPoint(orb.Point{
				box.Min[0] + rng.Float64()*(box.Max[0]-box.Min[0]),
				box.Min[1] + rng.Float64()*(box.Max[1]-box.Min[1]),
			})
			if regionDistance(r, p) < 2*Grid {
				continue
			}
			want := ia.Overlaps(ib, p)
			if got := r.LocateRings(p) == Inside; got != want {
				t.Fatalf("case %d at %v: in the region %v, overlap %v\n%v\n%v", k, p, got, want, a, b)
			}
			if want {
				inside++
			} else {
				outside++
			}
		}
	}
	if inside < 1000 || outside < 1000 || holes < 10 {
		t.Errorf("samples are one-sided: %d inside, %d outside, %d holes", inside, outside, holes)
	}
}

// samplePolygon draws one of several kinds of polygon.
func samplePolygon(rng *rand.Rand, kind int) orb.Polygon {
	switch kind % 4 {
	case 0:
		return latticePolygon(rng)
	case 1:
		return bracket(rng)
	case 2:
		return starWithHole(rng)
	}
	return randomStar(rng, 3+rng.IntN(14), 20)
}

// bracket is a C with a big window or opening, so that parts can lie inside.
func bracket(rng *rand.Rand) orb.Polygon {
	s := 20 + 20*rng.Float64()
	w := s * (0.1 + 0.2*rng.Float64())
	outer, window := RectRing(0, 0, s, s), RectRing(w, w, s-w, s-2*w)
	p := NormalPolygon(SnapPolygon(poly(outer, window)))
	if rng.IntN(2) == 0 {
		gap := SnapPolygon(rect(s/2, s/2, s/2+s*0.3*rng.Float64()+1, 2*s))
		return largest(Difference([]orb.Polygon{p}, []orb.Polygon{gap}))
	}
	return p
}

func regionDistance(r Region, p orb.Point) float64 {
	best := math.Inf(1)
	for _, ring := range r.Rings {
		best = math.Min(best, ringDistance(p, ring))
	}
	return best
}

// Every degenerate piece is legal, and so is a brute-force search's finding:
// on a lattice with integer corners all exact fits have integer positions.
func TestDegenerateFitsAreComplete(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 20))
	segments, points := 0, 0
	for k := range 300 {
		a, b := latticePolygon(rng), latticePolygon(rng)
		if k%3 == 0 {
			b = rect(0, 0, float64(1+k%2), 1)
		}
		if k%2 == 0 { // b's own shape as a notch or hole in a block
			at := orb.Point{float64(rng.IntN(5)) - 2, float64(rng.IntN(5)) - 2}
			a = largest(Difference([]orb.Polygon{rect(-2, -2, 12, 12)}, []orb.Polygon{TranslatePolygon(b, at)}))
		}
		r := NoFit(a, b)
		segments, points = segments+len(r.Segments), points+len(r.Points)
		ia, ib := NewIndex(a), NewIndex(b)
		for x := -16.0; x <= 16; x += 0.5 {
			for y := -16.0; y <= 16; y += 0.5 {
				p := orb.Point{x, y}
				legal := !ia.Overlaps(ib, p)
				if got := r.LocateRings(p) != Inside || r.OnDegenerate(p); got != legal {
					t.Fatalf("case %d at %v: region says %v, overlap test %v\n%v\n%v", k, p, got, legal, a, b)
				}
			}
		}
	}
	if segments < 20 || points < 20 {
		t.Errorf("too few degenerate fits to tell: %d segments, %d points", segments, points)
	}
}

func TestInnerFitAgainstWithin(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	in, out := 0, 0
	for k := range 200 {
		c, b := samplePolygon(rng, k), scalePolygon(samplePolygon(rng, k/2), 0.1+0.5*rng.Float64())
		exact := k%4 == 0
		if exact {
			c, b = latticePolygon(rng), rect(0, 0, float64(1+rng.IntN(3)), float64(1+rng.IntN(3)))
		}
		r := InnerFit(c, b)
		ic, ib := NewIndex(c), NewIndex(b)
		box := Bounds(c)
		for range 300 {
			p := SnapPoint(orb.Point{
				box.Min[0] - 9 + rng.Float64()*(box.Max[0]-box.Min[0]+18),
				box.Min[1] - 9 + rng.Float64()*(box.Max[1]-box.Min[1]+18),
			})
			if exact {
				p = orb.Point{math.Round(2*p[0]) / 2, math.Round(2*p[1]) / 2}
			} else if regionDistance(r, p) < 2*Grid {
				continue
			}
			want := ic.Holds(ib, p)
			if got := r.LocateRings(p) != Outside || r.OnDegenerate(p); got != want {
				t.Fatalf("case %d at %v: in the region %v, within %v\n%v\n%v", k, p, got, want, c, b)
			}
			if want {
				in++
			} else {
				out++
			}
		}
	}
	if in < 500 || out < 500 {
		t.Errorf("samples are one-sided: %d in, %d out", in, out)
	}
}

func scalePolygon(p orb.Polygon, f float64) orb.Polygon {
	q := p.Clone()
	for _, r := range q {
		for i := range r {
			r[i] = orb.Point{r[i][0] * f, r[i][1] * f}
		}
	}
	return NormalPolygon(SnapPolygon(q))
}

// Swapping the two polygons turns the region about the origin; moving one moves
// the region along.
func TestNoFitSymmetry(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawStar(t, "a"), drawStar(t, "b")
		r, s := NoFit(a, b), NoFit(b, a)
		if x, y := ringsArea(r.Rings), ringsArea(s.Rings); math.Abs(x-y) > 1e-4 {
			t.Fatalf("areas %g and %g", x, y)
		}
		if len(r.Points) != len(s.Points) {
			t.Fatalf("points %v and %v", r.Points, s.Points)
		}
		for range 50 {
			p := orb.Point{rng.Float64()*24 - 12, rng.Float64()*24 - 12}
			if at := r.LocateRings(p); at != s.LocateRings(orb.Point{-p[0], -p[1]}) && regionDistance(r, p) > 2*Grid {
				t.Fatalf("swapped regions disagree at %v", p)
			}
		}
		d := orb.Point{float64(rapid.IntRange(-20, 20).Draw(t, "dx")), float64(rapid.IntRange(-20, 20).Draw(t, "dy"))}
		moved := NoFit(TranslatePolygon(a, d), b)
		want := r.Translate(d)
		if len(moved.Rings) != len(want.Rings) || math.Abs(ringsArea(moved.Rings)-ringsArea(want.Rings)) > 1e-5 {
			t.Fatalf("moved by %v: %v, want %v", d, moved, want)
		}
	})
}

// datasets finds the folder of public instances.
func datasets(t testing.TB) string {
	for _, dir := range []string{os.Getenv("KERFOLD_DATASETS"), filepath.Join("..", "..", "shared", "datasets")} {
		if dir == "" {
			continue
		}
		if st, err := os.Stat(filepath.Join(dir, "nfp")); err == nil && st.IsDir() {
			return dir
		}
	}
	t.Skip("no data sets: set KERFOLD_DATASETS to their folder, or put them into ../shared/datasets beside the repository")
	return ""
}

type outlineFile struct {
	Parts []struct {
		ID      string
		Outline orb.Ring
	}
}

type nofitFile struct {
	Pairs []struct {
		Fixed, Moving string
		NFP           orb.Ring
	}
}

func readJSON(t testing.TB, path string, into any) {
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
}

func outlines(t testing.TB, dir, name string) map[string]orb.Polygon {
	var f outlineFile
	readJSON(t, filepath.Join(dir, "strip", name+".json"), &f)
	parts := map[string]orb.Polygon{}
	for _, p := range f.Parts {
		parts[p.ID] = NormalPolygon(SnapPolygon(poly(p.Outline)))
	}
	return parts
}

// Published no-fit polygons, printed to about 1e-4 of their area.
func TestPublishedNoFit(t *testing.T) {
	dir := datasets(t)
	for _, name := range []string{"albano", "dagli", "fu"} {
		parts := outlines(t, dir, name)
		var f nofitFile
		readJSON(t, filepath.Join(dir, "nfp", name+".json"), &f)
		worst := 0.0
		for _, pair := range f.Pairs {
			got := NoFit(parts[pair.Fixed], parts[pair.Moving])
			want := math.Abs(RingArea(pair.NFP))
			rel := math.Abs(ringsArea(got.Rings)-want) / want
			worst = max(worst, rel)
			if rel > 1e-4 {
				t.Errorf("%s %s/%s: area %g, published %g", name, pair.Fixed, pair.Moving, ringsArea(got.Rings), want)
			}
		}
		t.Logf("%s: %d pairs, worst relative difference %.1e", name, len(f.Pairs), worst)
	}
}

func FuzzNoFit(f *testing.F) {
	f.Add([]byte{0, 0, 9, 0, 9, 9, 0, 9, 3, 3, 12, 3, 12, 12, 3, 12}, uint8(4), 1.0)
	f.Add([]byte{0, 0, 9, 9, 9, 0, 0, 9, 5, 5, 5, 5, 1, 200, 77, 3}, uint8(5), 1e-6)
	f.Fuzz(func(t *testing.T, data []byte, cut uint8, scale float64) {
		if len(data) > 60 {
			data = data[:60]
		}
		a, b := soupFromBytes(data, int(cut), scale)
		for _, r := range []Region{NoFit(a, b), InnerFit(a, b)} {
			for _, ring := range r.Rings {
				if len(ring) < 3 {
					t.Errorf("a ring of %d points", len(ring))
				}
			}
		}
	})
}

func BenchmarkNoFit(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	convex := func(n int) orb.Polygon {
		return SnapPolygon(Shape{Outer: CircleContour(orb.Point{}, 50)}.Flatten(50*(1/math.Cos(math.Pi/float64(n))-1)*1.0001, Outward))
	}
	for _, tc := range []struct {
		name string
		a, b orb.Polygon
	}{
		{"convex/12", convex(12), convex(12)},
		{"convex/100", convex(100), convex(100)},
		{"concave/8", randomStar(rng, 8, 100), randomStar(rng, 8, 60)},
		{"concave/20", randomStar(rng, 20, 100), randomStar(rng, 20, 60)},
		{"concave/60", randomStar(rng, 60, 100), randomStar(rng, 60, 60)},
		{"frame/small", frame, rect(0, 0, 1, 1)},
	} {
		b.Run(tc.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				NoFit(tc.a, tc.b)
			}
		})
	}
}

func BenchmarkNoFitInstance(b *testing.B) {
	dir := datasets(b)
	for _, name := range []string{"albano", "shirts", "swim", "shapes0"} {
		parts := outlines(b, dir, name)
		var ids []string
		for id := range parts {
			ids = append(ids, id)
		}
		slices.Sort(ids)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				for _, i := range ids {
					for _, j := range ids {
						NoFit(parts[i], parts[j])
					}
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(ids)*len(ids)), "µs/pair")
		})
	}
}

// Placed at any vertex of its no-fit polygon a part touches and does not run in
// deeper than rounding explains, in every turn and on every public outline.
func TestNoFitVerticesTouch(t *testing.T) {
	dir := datasets(t)
	files, err := filepath.Glob(filepath.Join(dir, "strip", "*.json"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no instances in %s: %v", dir, err)
	}
	checked := 0
	for _, f := range files {
		parts := outlines(t, dir, strings.TrimSuffix(filepath.Base(f), ".json"))
		var ids []string
		for id := range parts {
			ids = append(ids, id)
		}
		slices.Sort(ids)
		for i, id := range ids {
			a := parts[id]
			b := TransformPolygon(parts[ids[(i*7+3)%len(ids)]], Pose{AngleDeg: []float64{0, 180, 37, 211}[i%4]})
			checked += checkTouching(t, a, b)
		}
	}
	if checked < 1000 {
		t.Errorf("only %d vertices checked", checked)
	}
}

func checkTouching(t *testing.T, a, b orb.Polygon) int {
	t.Helper()
	ia, ib := NewIndex(a), NewIndex(b)
	r := NoFit(a, b)
	n := 0
	for _, ring := range r.Rings {
		for _, v := range ring {
			n++
			if ia.OverlapsBeyond(ib, v, TouchTolerance) {
				t.Errorf("overlap at vertex %v of %v", v, ring)
			}
			if d := ia.Distance(ib, v); d > TouchTolerance {
				t.Errorf("gap of %g at vertex %v", d, v)
			}
		}
	}
	return n
}
