package verify_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/verify"
)

// gear is a wavy outline of n vertices with a round hole.
func gear(n int, r float64) geom.Shape {
	var c geom.Contour
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		k := r * (0.9 + 0.1*math.Cos(float64(i)*2.5))
		c = append(c, geom.Vertex{P: orb.Point{k * cos, k * sin}})
	}
	return geom.Shape{Outer: c, Holes: []geom.Contour{circle(0, 0, r/3)}}
}

// field lays n gears out in a grid with a spacing, each turned at random.
func field(n, vertices int, spacing float64) verify.Layout {
	const r = 20.0
	side := int(math.Ceil(math.Sqrt(float64(n))))
	pitch := 2*r + spacing
	l := verify.Layout{
		Parts:   []verify.Part{{ID: "gear", Shape: gear(vertices, r), Min: n, Max: n, FreeAngle: true}},
		Sheets:  []verify.Sheet{{ID: "sheet", Outline: square(0, 0, pitch*float64(side), pitch*float64(side))}},
		Spacing: spacing,
		Uses:    []verify.Use{{}},
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range n {
		l.Uses[0].Placements = append(l.Uses[0].Placements, verify.Placement{Pose: geom.Pose{
			X: pitch * (float64(i%side) + 0.5), Y: pitch * (float64(i/side) + 0.5), AngleDeg: rng.Float64() * 360,
		}})
	}
	return l
}

// touching lays n squares edge to edge, turned by an odd angle so that every
// contact is off by rounding.
func touching(n int) verify.Layout {
	side := int(math.Ceil(math.Sqrt(float64(n))))
	l := verify.Layout{
		Parts:  []verify.Part{{ID: "square", Shape: solid(square(0, 0, 10, 10)), Min: n, Max: n, FreeAngle: true}},
		Sheets: []verify.Sheet{wide},
		Uses:   []verify.Use{{}},
	}
	frame := geom.Pose{AngleDeg: 12.345}
	for i := range n {
		p := frame.Apply(orb.Point{10 * float64(i%side), 10 * float64(i/side)})
		l.Uses[0].Placements = append(l.Uses[0].Placements, verify.Placement{Pose: geom.Pose{
			X: geom.Snap(p[0]), Y: geom.Snap(p[1]), AngleDeg: 12.345,
		}})
	}
	return l
}

func benchmarkCheck(b *testing.B, l verify.Layout) {
	b.ReportAllocs()
	for b.Loop() {
		if r := verify.Check(l); !r.OK() {
			b.Fatal(r.Violations[0].Text)
		}
	}
}

func BenchmarkCheck10000Spaced(b *testing.B)   { benchmarkCheck(b, field(10000, 60, 2)) }
func BenchmarkCheck10000Touching(b *testing.B) { benchmarkCheck(b, touching(10000)) }
func BenchmarkCheck100Detailed(b *testing.B)   { benchmarkCheck(b, field(100, 2000, 2)) }
