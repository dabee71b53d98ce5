package nest

import (
	"context"
	"testing"
)

// TestPressingLaysMore lays more copies on the fullest sheet with effort for
// pressing than without, and all of it legally.
func TestPressingLaysMore(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	p := Problem{
		Parts:   []Part{{ID: "angle", Quantity: 200, Angles: quarterTurns, Outline: latAngle}},
		Sheets:  []Sheet{{ID: "plate", Outline: sepRectangle(1250, 1000), Count: 20}},
		Spacing: 2, Margin: 5,
	}
	fullest := func(effort float64) int {
		r, err := Lattice(context.Background(), p, Options{Seed: 1, Effort: effort})
		if err != nil {
			t.Fatal(err)
		}
		sepCheckSheets(t, p, r, 200)
		most := 0
		for _, l := range r.Layouts {
			most = max(most, len(l.Placements))
		}
		return most
	}
	if bare, pressed := fullest(0.3), fullest(4); pressed <= bare {
		t.Errorf("%d copies with effort 4, %d with 0.3", pressed, bare)
	}
}

// TestWindowsArePartOfTheSheet cuts windows out of a layout: every copy is in
// just one of the lists, copies inside are wholly in it, and the room measured
// agrees with the areas.
func TestWindowsArePartOfTheSheet(t *testing.T) {
	p := Problem{
		Parts:  []Part{{ID: "square", Quantity: 24, Angles: quarterTurns, Outline: sepRectangle(100, 100)}},
		Sheets: []Sheet{{ID: "plate", Outline: sepRectangle(500, 500), Count: 1}},
	}
	store, err := sepNewStore(p)
	if err != nil {
		t.Fatal(err)
	}
	l := latSheet{store: store, box: sepBox{0, 0, 500, 500}}
	var picks []sepPick
	for i := range 24 { // the last place stays empty
		picks = append(picks, sepPick{form: int32(store.kinds[0].form0), x: 50 + 100*float64(i%5), y: 50 + 100*float64(i/5)})
	}
	for _, c := range []struct {
		box    sepBox
		inside int
		room   float64
	}{
		{sepBox{0, 0, 500, 500}, 24, 1},
		{sepBox{300, 300, 500, 500}, 3, 1},
		{sepBox{0, 0, 200, 100}, 2, 0},
		{sepBox{350, 400, 500, 500}, 0, 1},
	} {
		w := l.cut(picks, c.box)
		if n := len(w.inside) + len(w.near) + len(w.far); n != len(picks) || len(w.inside) != c.inside {
			t.Errorf("%v: %d inside, want %d; %d in all, want %d", c.box, len(w.inside), c.inside, n, len(picks))
		}
		if got := l.room(&w); got < c.room-0.2 || got > c.room+0.2 {
			t.Errorf("%v: room for %.2f, want %g", c.box, got, c.room)
		}
	}
}

// An endingContext ends when it was asked a number of times.
type endingContext struct {
	context.Context
	left *int
}

func (c endingContext) Err() error {
	if *c.left--; *c.left < 0 {
		return context.DeadlineExceeded
	}
	return nil
}

// TestLatticeStarvedIsComplete ends the search at many moments after the first
// layout: whatever is missing of its own layout, the one it returns is complete.
func TestLatticeStarvedIsComplete(t *testing.T) {
	p := latProblem(60)
	p.Parts = append(p.Parts, Part{ID: "blank", Outline: sepRectangle(30, 20), Quantity: 40, Angles: quarterTurns})
	first, err := BottomLeft(context.Background(), p, nil, Options{})
	if err != nil || first.missing() > 0 {
		t.Fatal(first, err)
	}
	for _, left := range []int{0, 3, 30, 300} {
		ctx := endingContext{context.Background(), &left}
		r, err := latticeFrom(ctx, p, first, latPressShare(p), Options{Seed: 1, Effort: 0.2, Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		sepCheckSheets(t, p, r, 100)
		if left < 0 && r.Status != Limit {
			t.Errorf("status %v of a search that was stopped", r.Status)
		}
	}
}
