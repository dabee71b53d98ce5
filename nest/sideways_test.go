package nest

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// sidewaysProblem is many copies of many kinds in quarter turns, with a kit or
// without.
func sidewaysProblem(kinds, copies int, kit bool) Problem {
	rng := rand.New(rand.NewPCG(5, 5))
	p := Problem{Spacing: 1, Margin: 2, Sheets: []Sheet{{ID: "plate", Outline: sepRectangle(200, 150), Count: 99}}}
	for range kinds {
		p.Parts = append(p.Parts, Part{Outline: concave(rng), Quantity: copies, Angles: quarterTurns})
	}
	if kit {
		p.Parts[0].Kit, p.Parts[1].Kit = "pair", "pair"
	}
	return p
}

// TestBottomLeftIsTheSameForAnyWorkers lays parts one front after another and
// several at once.
func TestBottomLeftIsTheSameForAnyWorkers(t *testing.T) {
	for _, kit := range []bool{false, true} {
		p := sidewaysProblem(6, 20, kit)
		one, err := BottomLeft(context.Background(), p, nil, Options{Workers: 1})
		if err != nil || one.missing() > 0 {
			t.Fatal(one.Warnings, err)
		}
		for _, workers := range []int{0, 2, 5} {
			other, err := BottomLeft(context.Background(), p, nil, Options{Workers: workers})
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(one, other); d != "" {
				t.Errorf("kit %v, %d workers: %s", kit, workers, d)
			}
		}
	}
}

// BenchmarkFirstLayout lays 600 parts of 12 kinds.
func BenchmarkFirstLayout(b *testing.B) {
	p := sidewaysProblem(12, 50, false)
	for _, c := range []struct {
		name    string
		workers int
	}{{"alone", 1}, {"two", 2}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := BottomLeft(b.Context(), p, nil, Options{Workers: c.workers}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
