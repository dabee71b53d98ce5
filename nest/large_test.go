package nest

import (
	"math/rand/v2"
	"testing"
)

// TestTenThousandParts lays out 10,000 copies of 200 kinds in one pass. It takes
// some seconds of one core, and is left out of short runs.
func TestTenThousandParts(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	rng := rand.New(rand.NewPCG(1, 5))
	p := Problem{Sheets: []Sheet{{Outline: rect(2000, 1000), Count: 1000}}, Spacing: 2, Margin: 5}
	for range 200 {
		p.Parts = append(p.Parts, Part{Outline: randomPart(rng, 120), Quantity: 50, Angles: quarterTurns})
	}
	r, err := BottomLeft(t.Context(), p, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Status != Finished || r.Density < 0.5 {
		t.Errorf("status %v, density %.3f on %d sheets", r.Status, r.Density, len(r.Layouts))
	}
	t.Logf("%d sheets, density %.3f", len(r.Layouts), r.Density)
}
