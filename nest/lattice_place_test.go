package nest

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"

	kgeom "kerfold/geom"
)

// latProblem asks for many U-shaped parts, which interlock only in pairs.
func latProblem(quantity int) Problem {
	part := Part{ID: "U", Quantity: quantity, Angles: []float64{0, 90, 180, 270}, Outline: orb.Polygon{
		{{0, 0}, {100, 0}, {100, 90}, {75, 90}, {75, 25}, {25, 25}, {25, 90}, {0, 90}},
	}}
	return Problem{
		Parts:   []Part{part},
		Sheets:  []Sheet{{ID: "plate", Outline: sepRectangle(1000, 600), Count: 20}},
		Spacing: 1, Margin: 4,
	}
}

// latAngle is a bracket with legs of unlike length.
var latAngle = orb.Polygon{{{0, 0}, {180, 0}, {180, 45}, {45, 45}, {45, 140}, {0, 140}}}

func TestLatticeBeatsBottomLeftOnManyCopies(t *testing.T) {
	p := latProblem(150)
	ctx := context.Background()
	r, err := Lattice(ctx, p, Options{Seed: 1, Effort: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	sepCheckSheets(t, p, r, 150)
	b, err := BottomLeft(ctx, p, nil, Options{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if got, other := len(r.Layouts[0].Placements), len(b.Layouts[0].Placements); got <= other {
		t.Errorf("a full sheet holds %d, bottom-left lays %d", got, other)
	}
	if len(r.Layouts) > len(b.Layouts) {
		t.Errorf("%d sheets, bottom-left uses %d", len(r.Layouts), len(b.Layouts))
	}
}

func TestLatticeKeepsOffBlockedZones(t *testing.T) {
	p := latProblem(40)
	p.Sheets[0].Outline = append(p.Sheets[0].Outline, kgeom.RectRing(300, 200, 420, 300))
	p.Sheets[0].Outline[0] = kgeom.RectRing(0, 0, 1000, 600)
	p.Sheets[0].Outline[0][1] = [2]float64{900, 0} // slanting end
	p.Parts[0].FreeAngle = true
	r, err := Lattice(context.Background(), p, Options{Seed: 1, Effort: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	sepCheckSheets(t, p, r, 40)
}

func TestLatticeOnAStrip(t *testing.T) {
	p := latProblem(60)
	p.Sheets, p.StripWidth = nil, 700
	r, err := Lattice(context.Background(), p, Options{Seed: 1, Effort: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	sepCheckStrip(t, p, r)
	b, err := BottomLeft(context.Background(), p, nil, Options{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if r.Length > b.Length {
		t.Errorf("length %g, bottom-left %g", r.Length, b.Length)
	}
}

func TestLatticeIsRepeatable(t *testing.T) {
	p := latProblem(70)
	var first Result
	for i, workers := range []int{1, 3} {
		r, err := Lattice(context.Background(), p, Options{Seed: 4, Effort: 0.2, Workers: workers})
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

// sepCheckSheets judges a layout on sheets with another library's overlay and
// distances: all parts there, inside, clear of zones, and apart.
func sepCheckSheets(t *testing.T, p Problem, r Result, want int) {
	t.Helper()
	total := 0
	for _, layout := range r.Layouts {
		ground := sepFeature(sepFlatRings(p.Sheets[layout.Sheet].Outline, kgeom.Pose{}))
		var shapes []geom.Geometry
		for _, pl := range layout.Placements {
			shapes = append(shapes, sepFeature(sepFlatRings(p.Parts[pl.Part].Outline, pl.Pose)))
		}
		total += len(shapes)
		for i := range shapes {
			sepCheckOn(t, p.Margin, shapes[i], ground, i)
			for j := range i {
				sepCheckApart(t, p.Spacing, shapes[i], shapes[j], i, j)
			}
		}
	}
	if total != want {
		t.Errorf("%d placements, want %d", total, want)
	}
}

// sepFlatRings lists the rings of a posed polygon, closed, as flat coordinates.
func sepFlatRings(poly orb.Polygon, pose kgeom.Pose) [][]float64 {
	var rings [][]float64
	for _, ring := range poly {
		var flat []float64
		for k := 0; k <= len(ring); k++ {
			q := pose.Apply(ring[k%len(ring)])
			flat = append(flat, q[0], q[1])
		}
		rings = append(rings, flat)
	}
	return rings
}

func sepCheckOn(t *testing.T, margin float64, part, ground geom.Geometry, i int) {
	t.Helper()
	out, err := geom.Difference(part, ground)
	if err != nil {
		t.Fatal(err)
	}
	if a := out.Area(); a > (kgeom.TouchTolerance+kgeom.SheetAllowance)*part.Boundary().Length() {
		t.Errorf("placement %d sticks out by %g mm²", i, a)
	}
	if d, ok := geom.Distance(part, ground.Boundary()); ok && d < margin-kgeom.TouchTolerance-kgeom.SheetAllowance {
		t.Errorf("placement %d is %g mm from an edge, want %g", i, d, margin)
	}
}
