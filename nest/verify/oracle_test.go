package verify_test

import (
	"math"

	sf "github.com/peterstace/simplefeatures/geom"

	"kerfold/geom"
	"kerfold/nest/verify"
)

// oracle returns a placed plain shape as another library's polygon.
func oracle(s geom.Shape, p geom.Pose) sf.Geometry {
	rings := []sf.LineString{oracleRing(s.Outer, p)}
	for _, h := range s.Holes {
		rings = append(rings, oracleRing(h, p))
	}
	return sf.NewPolygon(rings).AsGeometry()
}

func oracleRing(c geom.Contour, p geom.Pose) sf.LineString {
	var xy []float64
	for i := 0; i <= len(c); i++ {
		q := p.Apply(c[i%len(c)].P)
		xy = append(xy, q[0], q[1])
	}
	return sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
}

// A fataler is a test or a property test.
type fataler interface{ Fatalf(string, ...any) }

func sharedArea(t fataler, a, b sf.Geometry) float64 {
	x, err := sf.Intersection(a, b)
	if err != nil {
		t.Fatalf("oracle: %v", err)
	}
	return x.Area()
}

// placed returns the oracle's polygons of a use.
func placed(l verify.Layout, u int) []sf.Geometry {
	var out []sf.Geometry
	for _, p := range l.Uses[u].Placements {
		out = append(out, oracle(l.Parts[p.Part].Shape, p.Pose))
	}
	return out
}

// pairsOf returns the pairs a report names for a kind.
func pairsOf(r verify.Report, k verify.Kind) map[[2]int]float64 {
	out := map[[2]int]float64{}
	for _, v := range r.Violations {
		if v.Kind == k {
			out[[2]int{v.A, v.B}] = v.Amount
		}
	}
	return out
}

// kindsOf counts a report's violations by kind.
func kindsOf(r verify.Report) map[verify.Kind]int {
	out := map[verify.Kind]int{}
	for _, v := range r.Violations {
		out[v.Kind]++
	}
	return out
}

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }
