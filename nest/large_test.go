package nest

import (
	"math/rand/v2"
	"testing"
)

// largeProblem is 50 copies each of many kinds on large sheets.
func largeProblem(kinds int) Problem {
	rng := rand.New(rand.NewPCG(1, 5))
	p := Problem{Sheets: []Sheet{{Outline: rect(2000, 1000), Count: 1000}}, Spacing: 2, Margin: 5}
	for range kinds {
		p.Parts = append(p.Parts, Part{Outline: randomPart(rng, 120), Quantity: 50, Angles: quarterTurns})
	}
	return p
}

// TestManyParts lays out 1,500 copies in one pass.
func TestManyParts(t *testing.T) {
	p := largeProblem(30)
	r, err := BottomLeft(t.Context(), p, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Status != Finished || r.Density < 0.5 {
		t.Errorf("status %v, density %.3f on %d sheets", r.Status, r.Density, len(r.Layouts))
	}
}

// BenchmarkTenThousandParts lays out 10,000 copies of 200 kinds in one pass; it
// must stay well under a minute.
func BenchmarkTenThousandParts(b *testing.B) {
	p := largeProblem(200)
	for b.Loop() {
		if _, err := BottomLeft(b.Context(), p, nil, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
