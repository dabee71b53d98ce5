package nest

import (
	"context"
	"math"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// worthOf is what a result's parts are worth.
func worthOf(r Result, values []float64) float64 {
	sum := 0.0
	for _, l := range r.Layouts {
		for _, p := range l.Placements {
			sum += values[p.Part]
		}
	}
	return sum
}

// Rectangles as high as the sheet make a knapsack problem, which is solved here
// by dynamic programming.
func TestFillAgainstKnapsack(t *testing.T) {
	const length = 97
	widths := []int{11, 17, 23, 29, 31}
	for n, values := range [][]float64{{5, 9, 13, 15, 18}, {7, 9, 9, 20, 18}, {1, 0, 4, 4, 3}, {10, 20, 30, 40, 50}} {
		p := Problem{Sheets: []Sheet{{Outline: rect(length, 40), Count: 1}}}
		for _, w := range widths {
			p.Parts = append(p.Parts, Part{Outline: rect(float64(w), 40), Quantity: 2})
		}
		best := make([]float64, length+1)
		for i, w := range widths {
			for range 2 {
				for room := length; room >= w; room-- {
					best[room] = math.Max(best[room], best[room-w]+values[i])
				}
			}
		}
		r, err := Fill(t.Context(), p, values, Options{Seed: 1, Effort: 0.02})
		if err != nil {
			t.Fatal(err)
		}
		if got := worthOf(r, values); got != best[length] {
			t.Errorf("case %d: worth %v, the best knapsack %v", n, got, best[length])
		}
	}
}

func TestFillKeepsToQuantitiesAndClearances(t *testing.T) {
	p := Problem{
		Sheets:  []Sheet{{Outline: orb.Polygon{geom.RectRing(0, 0, 200, 120), geom.ReverseRing(geom.RectRing(90, 40, 120, 70))}, Count: 1}},
		Parts:   []Part{{Outline: rect(40, 30), Quantity: 3}, {Outline: orb.Polygon{{{0, 0}, {30, 0}, {0, 30}}}, Quantity: 4, Extra: 1, Angles: quarterTurns}, {Outline: rect(10, 10), Quantity: 9}},
		Spacing: 2, Margin: 3,
	}
	values := []float64{3, 2, 0}
	r, err := Fill(t.Context(), p, values, Options{Seed: 2, Effort: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Layouts) != 1 || placedOn(r, 0)[0] > 3 || placedOn(r, 1)[0] > 5 || placedOn(r, 2)[0] > 0 {
		t.Fatalf("layouts %+v", r.Layouts)
	}
	for i, a := range r.Layouts[0].Placements {
		pa := applied(p.Parts[a.Part].Outline, a.Pose)
		if d := bruteDistance(pa, p.Sheets[0].Outline); d < 3-geom.TouchTolerance-geom.SheetAllowance {
			t.Errorf("part %d lies %v from the edge or the zone", i, d)
		}
		for _, b := range r.Layouts[0].Placements[:i] {
			if d := bruteDistance(pa, applied(p.Parts[b.Part].Outline, b.Pose)); d < 2-geom.TouchTolerance {
				t.Errorf("two parts lie %v apart", d)
			}
		}
	}
}

func TestFillTakesWholeKits(t *testing.T) {
	p := Problem{
		Sheets: []Sheet{{Outline: rect(150, 50), Count: 1}},
		Parts: []Part{
			{Outline: rect(60, 40), Quantity: 2, Kit: "box", PerKit: 1},
			{Outline: rect(30, 40), Quantity: 4, Kit: "box", PerKit: 2},
			{Outline: rect(20, 20), Quantity: 3},
		},
	}
	values := []float64{10, 5, 1}
	r, err := Fill(t.Context(), p, values, Options{Seed: 1, Effort: 0.02})
	if err != nil {
		t.Fatal(err)
	}
	if d, s := placedOn(r, 0)[0], placedOn(r, 1)[0]; d != 1 || s != 2 {
		t.Errorf("%d doors and %d sides, want one kit", d, s)
	}
}

func TestFillRefusesWhatItCannotTake(t *testing.T) {
	for _, p := range []Problem{
		{StripWidth: 10, Parts: []Part{{Outline: rect(1, 1), Quantity: 1}}},
		{Sheets: []Sheet{{Outline: rect(9, 9), Count: 1}, {Outline: rect(8, 8), Count: 1}}, Parts: []Part{{Outline: rect(1, 1), Quantity: 1}}},
	} {
		if _, err := Fill(t.Context(), p, []float64{1}, Options{}); err == nil {
			t.Error("it should be refused")
		}
	}
}

// Orders of one part that can lie in one way only are all alike: the walk must
// end with its effort all the same.
func TestFillEndsWhereOrdersAreAlike(t *testing.T) {
	p := Problem{
		Sheets: []Sheet{{Outline: rect(100, 40), Count: 1}},
		Parts:  []Part{{Outline: rect(30, 40), Quantity: 9}},
	}
	done := make(chan Result, 1)
	go func() {
		r, err := Fill(context.Background(), p, []float64{1}, Options{Seed: 1, Effort: 0.05})
		if err != nil {
			t.Error(err)
		}
		done <- r
	}()
	select {
	case r := <-done:
		if got := worthOf(r, []float64{1}); got != 3 {
			t.Errorf("the fill is worth %g, want 3", got)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("the walk goes on after its effort is spent")
	}
}
