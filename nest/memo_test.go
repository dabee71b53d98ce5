package nest

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"kerfold/geom"
)

// Searches with a memo, filled by themselves or by another problem of the same
// outlines, give what they give without one.
func TestMemoChangesNothing(t *testing.T) {
	problem := func(n int) Problem {
		return Problem{
			Spacing: 2, Margin: 5,
			Parts: []Part{
				{ID: "a", Outline: orb.Polygon{{{0, 0}, {60, 0}, {60, 20}, {20, 20}, {20, 50}, {0, 50}}}, Quantity: n, Angles: []float64{0, 90, 180}},
				{ID: "b", Outline: orb.Polygon{{{0, 0}, {40, 0}, {20, 35}}}, Quantity: 2 * n, Angles: []float64{0, 180}},
			},
			Sheets: []Sheet{{Outline: orb.Polygon{geom.RectRing(0, 0, 400, 200)}, Count: 4}},
		}
	}
	search := func(p Problem, m *Memo) Result {
		r, err := Genetic(context.Background(), p, Options{Seed: 5, Effort: 0.01, Workers: 2, Memo: m})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	m := &Memo{}
	for _, n := range []int{3, 7, 3} {
		if diff := cmp.Diff(search(problem(n), nil), search(problem(n), m)); diff != "" {
			t.Errorf("%d copies: the memo changes the layout:\n%s", n, diff)
		}
	}
	if len(m.pairs) == 0 {
		t.Error("the memo kept nothing")
	}
}
