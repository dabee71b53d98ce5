package nest

import (
	"math/rand/v2"
	"reflect"
	"testing"
)

// manyParts is too much for one herd.
func manyParts() Problem {
	rng := rand.New(rand.NewPCG(4, 6))
	p := Problem{Sheets: []Sheet{{Outline: rect(100, 100), Count: 60, Cost: 10}, {Outline: rect(60, 50), Count: 2, Cost: 2}}, Spacing: 0.5}
	for range 12 {
		p.Parts = append(p.Parts, Part{Outline: randomPart(rng, 40), Quantity: 22, Angles: quarterTurns})
	}
	return p
}

func TestMendImprovesAndRepeats(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	p := manyParts()
	before, err := BottomLeft(t.Context(), p, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var first Result
	for _, workers := range []int{1, 3} {
		r, err := Genetic(t.Context(), p, Options{Seed: 2, Effort: 1, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		if r.Status != Finished || r.cost(p) > before.cost(p) {
			t.Errorf("status %v, cost %v after %v", r.Status, r.cost(p), before.cost(p))
		}
		if workers == 1 {
			first = r
		} else if !reflect.DeepEqual(first, r) {
			t.Errorf("%d workers give another result", workers)
		}
		for i, l := range r.Layouts {
			checkClearances(t, i, p, l, 0)
		}
	}
}

// TestMendBeginsWithALayout starts from a layout, one part of it turned as no list
// names, and ends no worse, with everything still there.
func TestMendBeginsWithALayout(t *testing.T) {
	p := manyParts()
	p.Parts = append(p.Parts, Part{Outline: rect(8, 5), Quantity: 1, FreeAngle: true})
	start, err := BottomLeft(t.Context(), p, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range start.Layouts {
		for k := range start.Layouts[i].Placements {
			if pl := &start.Layouts[i].Placements[k]; pl.Part == 12 {
				start.Layouts[i].Placements[k].Pose.AngleDeg += 0.001
			}
		}
	}
	r, err := geneticFrom(t.Context(), p, start, Options{Seed: 2, Effort: 0.4})
	if err != nil || len(r.Unplaced) > 0 || r.cost(p) > start.cost(p) {
		t.Errorf("cost %v after %v, unplaced %v, error %v", r.cost(p), start.cost(p), r.Unplaced, err)
	}
}
