package drawing

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"kerfold/geom"
)

// star is a contour around a centre with corners at random radii, lines and
// flat arcs between them, on the grid. Arcs bulge by at most an eighth of
// their chord, so that neighbours do not meet.
func star(rng *rand.Rand, c orb.Point, size float64) geom.Contour {
	n := 5 + rng.IntN(8) // a hole of a fifth of the size then fits inside
	out := make(geom.Contour, n)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.3*rng.Float64()) / float64(n))
		r := size * (0.6 + 0.4*rng.Float64())
		out[i].P = geom.SnapPoint(orb.Point{c[0] + r*cos, c[1] + r*sin})
		if rng.IntN(2) == 0 {
			out[i].Bulge = 0.5 * (rng.Float64() - 0.5) * math.Min(1, 4/float64(n))
		}
	}
	return out
}

// randomSketch is parts with holes in rows, apart from each other.
func randomSketch(rng *rand.Rand) (Sketch, []geom.Shape) {
	var shapes []geom.Shape
	outside, inside := SketchLayer{Name: LayerCutOutside}, SketchLayer{Name: LayerCutInside}
	for i := range 1 + rng.IntN(6) {
		at := orb.Point{float64(i) * 250, 100 * rng.Float64()}
		s := geom.Shape{Outer: star(rng, at, 100).Oriented(true)}
		if rng.IntN(2) == 0 {
			r := geom.Snap(5 + 10*rng.Float64())
			hole := geom.CircleContour(geom.SnapPoint(at), r).Oriented(false)
			s.Holes = append(s.Holes, hole)
		} else {
			s.Holes = append(s.Holes, star(rng, at, 20).Oriented(false))
		}
		outside.Contours = append(outside.Contours, s.Outer)
		inside.Contours = append(inside.Contours, s.Holes...)
		shapes = append(shapes, s)
	}
	return Sketch{[]SketchLayer{outside, inside}}, shapes
}

// What we write and read again is the same, to 1e-6 mm.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		sketch, want := randomSketch(rng)
		var buf bytes.Buffer
		if err := WriteDXF(&buf, sketch); err != nil {
			t.Fatal(err)
		}
		in, err := Read("round trip", buf.Bytes(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if in.Units != Millimetre || in.UnitsFrom != "header" || len(in.Findings) > 0 || !in.Closed() {
			t.Fatalf("%s, %s from %s, findings %v", in.Verdict(), in.Units, in.UnitsFrom, in.Findings)
		}
		sortParts(want)
		if len(in.Parts) != len(want) {
			t.Fatalf("%d parts, want %d", len(in.Parts), len(want))
		}
		for i, p := range in.Parts {
			if !sameContour(p.Outer, want[i].Outer, 1e-6) || len(p.Holes) != 1 || !sameRegion(p.Holes[0], want[i].Holes[0], 1e-6) {
				t.Fatalf("part %d\n%v\nwant\n%v", i, p, want[i])
			}
		}
	})
}

// sameRegion compares contours by vertices, or as circles, which may begin
// anywhere.
func sameRegion(a, b geom.Contour, tol float64) bool {
	ca, ra, oka := circleOf(a)
	cb, rb, okb := circleOf(b)
	if oka && okb {
		return dist(ca, cb) <= tol && math.Abs(ra-rb) <= tol
	}
	return sameContour(a, b, tol)
}

const ezdxfContours = `
import ezdxf, sys
for name in sys.argv[1:]:
    doc = ezdxf.readfile(name)
    a = doc.audit()
    print("audit", len(a.errors) + len(a.fixes))
    for e in doc.modelspace():
        if e.dxftype() == "LWPOLYLINE" and e.closed:
            print(e.dxf.layer, *["%r,%r,%r" % tuple(p) for p in e.get_points("xyb")])
        elif e.dxftype() == "CIRCLE":
            c, r = e.dxf.center, e.dxf.radius
            print(e.dxf.layer, "%r,%r,1.0 %r,%r,1.0" % (c.x - r, c.y, c.x + r, c.y))
        else: print("unexpected", e.dxftype())
`

// What we write is the same to an independent reader, to 1e-6 mm, and it finds
// nothing to mend.
func TestRoundTripThroughAnother(t *testing.T) {
	dir := t.TempDir()
	var names []string
	var want [][]geom.Contour
	for seed := range uint64(20) {
		sketch, _ := randomSketch(rand.New(rand.NewPCG(seed, 2)))
		var buf bytes.Buffer
		if err := WriteDXF(&buf, sketch); err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(dir, strconv.Itoa(int(seed))+".dxf")
		if err := os.WriteFile(name, buf.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
		names = append(names, name)
		want = append(want, append(append([]geom.Contour(nil), sketch.Layers[0].Contours...), sketch.Layers[1].Contours...))
	}
	files := strings.Split(ezdxf(t, ezdxfContours, names...), "audit ")[1:]
	if len(files) != len(want) {
		t.Fatalf("%d files answered, want %d", len(files), len(want))
	}
	for i, answer := range files {
		lines := strings.Split(strings.TrimSpace(answer), "\n")
		if lines[0] != "0" {
			t.Errorf("drawing %d: %s faults to mend", i, lines[0])
		}
		if len(lines)-1 != len(want[i]) {
			t.Fatalf("drawing %d: %d contours, want %d", i, len(lines)-1, len(want[i]))
		}
		for k, line := range lines[1:] {
			if got := parseContour(t, line); !sameRegion(got, want[i][k], 1e-6) {
				t.Errorf("drawing %d contour %d\n%v\nwant\n%v", i, k, got, want[i][k])
			}
		}
	}
}

func parseContour(t *testing.T, line string) (c geom.Contour) {
	t.Helper()
	for _, f := range strings.Fields(line)[1:] {
		var v vertex
		if _, err := fmt.Sscanf(f, "%g,%g,%g", &v.P[0], &v.P[1], &v.Bulge); err != nil {
			t.Fatal(err)
		}
		c = append(c, v)
	}
	return c
}

// A contour drawn as loose pieces in any order and direction, with ends a
// little off, comes together again.
func TestLoosePiecesJoin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
		off := rapid.SampledFrom([]float64{0, 1e-7, 1e-5, 0.003}).Draw(t, "off")
		_, shapes := randomSketch(rng)
		var pieces []segment
		for _, s := range shapes {
			pieces = append(pieces, contourSegments(s.Outer)...)
			pieces = append(pieces, contourSegments(s.Holes[0])...)
		}
		rng.Shuffle(len(pieces), func(i, k int) { pieces[i], pieces[k] = pieces[k], pieces[i] })
		d := newDraft(newLog(), 0)
		d.addLayer(layer{name: "0"})
		for _, s := range pieces {
			if rng.IntN(2) == 0 {
				s = s.reversed()
			}
			for k := range 2 {
				s.a[k] += off * (2*rng.Float64() - 1)
				s.b[k] += off * (2*rng.Float64() - 1)
			}
			d.add([]segment{s}, false, &origin{typ: "LINE"}, 0, "")
		}
		var in Intake
		finish(&in, d, Options{})
		sortParts(shapes)
		if len(in.Parts) != len(shapes) || !in.Closed() {
			t.Fatalf("%s, %d parts, want %d: %v", in.Verdict(), len(in.Parts), len(shapes), in.Findings)
		}
		for i, p := range in.Parts {
			if math.Abs(p.Area()-shapes[i].Area()) > 2*off*p.Length()+1e-3 || len(p.Holes) != 1 {
				t.Fatalf("part %d has area %v, want %v", i, p.Area(), shapes[i].Area())
			}
		}
	})
}
