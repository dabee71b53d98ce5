package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest"
)

// TestClippingKnownCounts counts copies on sheets where the answer is plain.
func TestClippingKnownCounts(t *testing.T) {
	square := orb.Polygon{geom.RectRing(0, 0, 10, 10)}
	for _, c := range []struct {
		name            string
		wide, high      float64
		margin, spacing float64
		want            int
	}{
		{"exact rows", 100, 50, 0, 0, 50},
		{"a micrometre short", 99.999, 50, 0, 0, 45},
		{"rows with gaps and margins", 2*3 + 5*10 + 4*2, 2*3 + 3*10 + 2*2, 3, 2, 15},
		{"no room", 9, 50, 0, 0, 0},
	} {
		in := instance{Bin: [2]float64{c.wide, c.high}, Margin: c.margin, Spacing: c.spacing, Parts: []part{{Outline: square, Angles: quarters}}}
		pitch := 10 + c.spacing
		l := nest.PeriodicLayout{U: orb.Point{pitch, 0}, V: orb.Point{0, pitch}, Motif: []geom.Pose{{}}}
		if got := in.mostClipped(l); got != c.want {
			t.Errorf("%s: %d copies, want %d", c.name, got, c.want)
		}
	}
}

// TestMostClippedAgainstSampling shifts random lattices of random motifs at
// random and in small steps: no shift may have more copies than the most there is
// said to be, and some shift must have as many.
func TestMostClippedAgainstSampling(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	reached := 0
	const cases = 60
	for range cases {
		c := randomClipping(rng)
		most, sampled := c.most(), 0
		for range 4000 {
			a, b := rng.Float64(), rng.Float64()
			sampled = max(sampled, c.count(orb.Point{a*c.u[0] + b*c.v[0], a*c.u[1] + b*c.v[1]}))
		}
		if sampled > most {
			t.Fatalf("a shift has %d copies, the most is said to be %d", sampled, most)
		}
		if sampled == most {
			reached++
		}
	}
	if reached < cases*3/4 {
		t.Errorf("sampling reached the most in %d of %d cases only", reached, cases)
	}
}

func randomClipping(rng *rand.Rand) clipping {
	turn := rng.Float64() * 2 * math.Pi
	sin, cos := math.Sincos(turn)
	lean := math.Pi/3 + rng.Float64()*math.Pi/3
	sin2, cos2 := math.Sincos(turn + lean)
	c := clipping{u: orb.Point{10 * cos, 10 * sin}, v: orb.Point{12 * cos2, 12 * sin2}}
	for range 1 + rng.IntN(3) {
		x, y := rng.Float64()*12, rng.Float64()*12
		c.fields = append(c.fields, orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x + 20 + rng.Float64()*40, y + 20 + rng.Float64()*40}})
	}
	return c
}

// TestLatticeShareOfAFullSheet measures a sheet of squares without gaps, which
// is a lattice cut off nowhere.
func TestLatticeShareOfAFullSheet(t *testing.T) {
	in := instance{Set: gasketSet, Bin: [2]float64{50, 40}, Parts: []part{{Quantity: 20, Outline: orb.Polygon{geom.RectRing(0, 0, 10, 10)}, Angles: quarters}}}
	o := outcome{in: in, result: nest.Result{Layouts: []nest.Layout{{Placements: make([]nest.Placement, 20)}}}}
	s := o.latticeShare()
	if s.clipped != 20 || s.clip() != 1 || math.Abs(s.plane-1) > 1e-6 {
		t.Errorf("%+v, want 20 copies of 20 and the density in the plane", s)
	}
	o.result.Layouts[0].Placements = make([]nest.Placement, 15)
	if s := o.latticeShare(); s.clip() != 0.75 || math.Abs(s.plane-0.75) > 1e-6 {
		t.Errorf("%+v of a sheet that lacks a quarter", s)
	}
}
