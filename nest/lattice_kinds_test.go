package nest

import (
	"context"
	"testing"
)

// TestLatticeOfSeveralKinds lays two kinds in many copies and a small one: no
// more sheets than the bottom-left rule takes, and the small parts on the rims
// and remainders of the others' sheets.
func TestLatticeOfSeveralKinds(t *testing.T) {
	p := latProblem(90)
	p.Parts = append(p.Parts,
		Part{ID: "L", Outline: sepLShape(90), Quantity: 80, Angles: quarterTurns},
		Part{ID: "blank", Outline: sepRectangle(30, 20), Quantity: 40, Angles: quarterTurns},
	)
	ctx := context.Background()
	r, err := Lattice(ctx, p, Options{Seed: 1, Effort: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	sepCheckSheets(t, p, r, 210)
	b, err := BottomLeft(ctx, p, nil, Options{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if b.better(r, p) {
		t.Errorf("%d sheets, bottom-left uses %d and leaves no less", len(r.Layouts), len(b.Layouts))
	}
	mixed := 0
	for _, l := range r.Layouts {
		kinds := map[int]bool{}
		for _, pl := range l.Placements {
			kinds[pl.Part] = true
		}
		if len(kinds) > 1 {
			mixed++
		}
	}
	if mixed == 0 {
		t.Error("no sheet holds more than one kind")
	}
}

// TestLatticeOfFreeParts fills rims beside copies at angles that no list names.
func TestLatticeOfFreeParts(t *testing.T) {
	p := latProblem(60)
	p.Parts[0].FreeAngle, p.Parts[0].Angles = true, nil
	p.Parts = append(p.Parts, Part{ID: "blank", Outline: sepRectangle(30, 20), Quantity: 30, Angles: quarterTurns})
	r, err := Lattice(context.Background(), p, Options{Seed: 1, Effort: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	sepCheckSheets(t, p, r, 90)
}
