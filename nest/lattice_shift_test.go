package nest

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// TestMostAgainstSampling shifts random lattices at random and by small steps: no
// shift may hold more copies than the most there are said to be, and most often one
// holds as many.
func TestMostAgainstSampling(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	reached := 0
	const cases = 50
	for range cases {
		l, b := latRandomTurned(rng), sepBox{5, 7, 60 + rng.Float64()*40, 50 + rng.Float64()*40}
		most, at := l.most(b)
		if n := l.count(b, at); n != most {
			t.Fatalf("the shift said to hold %d copies holds %d", most, n)
		}
		sampled := 0
		for range 3000 {
			p, q := rng.Float64(), rng.Float64()
			sampled = max(sampled, l.count(b, orb.Point{p*l.u[0] + q*l.v[0], p*l.u[1] + q*l.v[1]}))
		}
		if sampled > most {
			t.Fatalf("a shift holds %d copies, the most is said to be %d", sampled, most)
		}
		if sampled == most {
			reached++
		}
	}
	if reached < cases*3/4 {
		t.Errorf("sampling reached the most in %d of %d cases", reached, cases)
	}
}

func latRandomTurned(rng *rand.Rand) latTurned {
	a, b := rng.Float64()*2*math.Pi, math.Pi/3+rng.Float64()*math.Pi/3
	su, cu := math.Sincos(a)
	sv, cv := math.Sincos(a + b)
	l := latTurned{u: orb.Point{9 * cu, 9 * su}, v: orb.Point{11 * cv, 11 * sv}}
	for range 1 + rng.IntN(3) {
		l.at = append(l.at, orb.Point{rng.Float64() * 8, rng.Float64() * 8})
		l.ext = append(l.ext, sepBox{-rng.Float64() * 9, -rng.Float64() * 9, rng.Float64() * 9, rng.Float64() * 9})
	}
	return l
}
