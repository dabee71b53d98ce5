package verify_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"kerfold/geom"
	"kerfold/nest/verify"
)

// drawStar draws a star-shaped polygon, sometimes with a hole, with small whole
// coordinates, so that touching and shared edges are common.
func drawStar(t *rapid.T, label string) geom.Shape {
	n := rapid.IntRange(3, 8).Draw(t, label+" corners")
	ring := func(lo, hi float64) geom.Contour {
		var c geom.Contour
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r := rapid.Float64Range(lo, hi).Draw(t, "radius")
			p := orb.Point{math.Round(r * cos), math.Round(r * sin)}
			if len(c) == 0 || (c[len(c)-1].P != p && c[0].P != p) {
				c = append(c, geom.Vertex{P: p})
			}
		}
		return c
	}
	s := solid(ring(8, 12))
	if rapid.Bool().Draw(t, "hole") {
		s.Holes = []geom.Contour{ring(3, 5)}
	}
	return s
}

func drawQuarterPose(t *rapid.T, reach int) geom.Pose {
	return geom.Pose{
		X:        float64(rapid.IntRange(-reach, reach).Draw(t, "x")),
		Y:        float64(rapid.IntRange(-reach, reach).Draw(t, "y")),
		AngleDeg: float64(90 * rapid.IntRange(0, 3).Draw(t, "quarters")),
		Mirror:   rapid.Bool().Draw(t, "mirror"),
	}
}

// drawLayout draws some parts on a field where they collide, nest and touch.
func drawLayout(t *rapid.T, spacing float64) verify.Layout {
	l := verify.Layout{Sheets: []verify.Sheet{wide}, Uses: []verify.Use{{}}, Spacing: spacing}
	n := rapid.IntRange(2, 6).Draw(t, "parts")
	for i := range n {
		l.Parts = append(l.Parts, verify.Part{
			ID: string(rune('a' + i)), Shape: drawStar(t, "star"), Max: 1, FreeAngle: true, Mirror: true,
		})
		l.Uses[0].Placements = append(l.Uses[0].Placements, verify.Placement{Part: i, Pose: drawQuarterPose(t, 20)})
	}
	return l
}

// TestOverlapsAgainstOracle: on whole coordinates an overlap has an area, and
// the judge and the oracle must agree on every pair, touching included. The
// exception is a sliver whose width is below the tolerance; there is none on
// this grid, where two lines that cross do so at an angle of 1/1000 or more.
func TestOverlapsAgainstOracle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLayout(t, 0)
		r := verify.Check(l)
		if kindsOf(r)[verify.BadOutline] > 0 {
			t.Skip("an outline crosses itself after rounding")
		}
		ps := placed(l, 0)
		for _, p := range ps {
			if err := p.Validate(); err != nil {
				t.Skip("the oracle refuses an outline: it touches itself")
			}
		}
		pairs := pairsOf(r, verify.Overlap)
		for i := range ps {
			for k := i + 1; k < len(ps); k++ {
				_, named := pairs[[2]int{i, k}]
				if area := sharedArea(t, ps[i], ps[k]); named != (area > 1e-9) {
					t.Fatalf("parts %d and %d share %v, named: %v (%v)", i, k, area, named, pairs)
				}
			}
		}
	})
}

// TestRigidMotion moves a whole layout: the verdict, its depths and distances
// must stay, and its places must move along.
func TestRigidMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLayout(t, 2)
		m := clone(l)
		move := geom.Pose{
			X: float64(rapid.IntRange(-1000, 1000).Draw(t, "dx")), Y: 77,
			AngleDeg: rapid.Float64Range(0, 360).Draw(t, "turn"),
		}
		for i := range m.Uses[0].Placements {
			p := &m.Uses[0].Placements[i].Pose
			at := move.Apply(orb.Point{p.X, p.Y})
			p.X, p.Y, p.AngleDeg = at[0], at[1], p.AngleDeg+move.AngleDeg
		}
		for _, k := range []verify.Kind{verify.Overlap, verify.Clearance} {
			was, is := pairsOf(verify.Check(l), k), pairsOf(verify.Check(m), k)
			if len(was) != len(is) {
				t.Fatalf("%v: %v before, %v after moving by %+v", k, was, is, move)
			}
			for pair, d := range was {
				if !near(is[pair], d, 0.02*d+1e-6) {
					t.Fatalf("%v of %v: %v before, %v after", k, pair, d, is[pair])
				}
			}
		}
	})
}

// TestSweepMissesNothing holds the verdict on many parts against that on every
// pair by itself.
func TestSweepMissesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLayout(t, rapid.Float64Range(0, 4).Draw(t, "spacing"))
		n := len(l.Uses[0].Placements)
		all := verify.Check(l)
		for _, k := range []verify.Kind{verify.Overlap, verify.Clearance} {
			named := pairsOf(all, k)
			for i := range n {
				for j := i + 1; j < n; j++ {
					m := clone(l)
					m.Uses[0].Placements = []verify.Placement{l.Uses[0].Placements[i], l.Uses[0].Placements[j]}
					want, fault := pairsOf(verify.Check(m), k)[[2]int{0, 1}]
					if got, ok := named[[2]int{i, j}]; ok != fault || !near(got, want, 1e-3*want) {
						t.Fatalf("%v of %d and %d: %v in the layout, %v alone", k, i, j, got, want)
					}
				}
			}
		}
	})
}
