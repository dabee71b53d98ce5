package nest

import (
	"math/rand/v2"
	"testing"

	"kerfold/geom"
)

// TestDerivedPairsAreThePairs works every pair of shapes out by itself and
// compares: the same points are blocked as by the pair turned or reflected from
// another one, corners included.
func TestDerivedPairsAreThePairs(t *testing.T) {
	derived := 0
	for seed := range 12 {
		rng := rand.New(rand.NewPCG(uint64(seed), 31))
		p := randomProblem(rng, true, []float64{0, 0.5}[seed%2], 0)
		for i := range p.Parts {
			p.Parts[i].Angles, p.Parts[i].Mirror = quarterTurns, seed%3 == 0
		}
		p.Parts = append(p.Parts, Part{Outline: rect(7, 4), Quantity: 1, Angles: []float64{0, 90}}, Part{Outline: rect(5, 5), Quantity: 1, Angles: quarterTurns})
		pre := mustPrepare(t, p)
		fits := newFits(pre, nil)
		for i := range pre.shapes {
			for j := range pre.shapes {
				if _, ok := pre.derived(i, j); ok {
					derived++
				}
				own := newNofit(geom.NoFit(pre.shapes[i].body, pre.shapes[j].body))
				comparePairs(t, rng, fits.apart(i, j), own)
			}
		}
	}
	if derived == 0 {
		t.Error("no pair was derived")
	}
}

func comparePairs(t *testing.T, rng *rand.Rand, got, want *nofit) {
	t.Helper()
	if len(got.edges) != len(want.edges) || got.winding != want.winding || got.loX != want.loX || got.hiY != want.hiY {
		t.Fatalf("%d edges of which %d wind, want %d and %d", len(got.edges), got.winding, len(want.edges), want.winding)
	}
	for _, e := range want.edges {
		if got.blocks(e.ax, e.ay) {
			t.Fatalf("corner (%v, %v) of the pair is blocked", e.ax, e.ay)
		}
	}
	for range 200 {
		x := want.loX + rng.Float64()*(want.hiX-want.loX)
		y := want.loY + rng.Float64()*(want.hiY-want.loY)
		if got.blocks(x, y) != want.blocks(x, y) {
			t.Fatalf("(%v, %v) is blocked by one of the two only", x, y)
		}
	}
}

// TestQuarterBodies compares bodies that were turned with bodies grown from the
// turned outline: both contain the outline by the same distance.
func TestQuarterBodies(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 31))
	p := randomProblem(rng, true, 1.5, 0)
	for i := range p.Parts {
		p.Parts[i].Angles = quarterTurns
	}
	turned := 0
	pre := mustPrepare(t, p)
	for _, s := range pre.shapes {
		if s.quarter > 0 {
			turned++
		}
		own := grow(s.outline, clearance(1.5)/2)
		if got, want := geom.Bounds(s.body), geom.Bounds(own); got != want {
			t.Errorf("a body lies in %v, want %v", got, want)
		}
		if d := bruteDistance(s.body[:1], s.outline[:1]); d < clearance(1.5)/2-geom.TouchTolerance {
			t.Errorf("a body is only %v beyond its outline", d)
		}
	}
	if turned == 0 {
		t.Error("no shape is a quarter turn of another")
	}
}
