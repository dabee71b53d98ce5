package nest

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/paulmach/orb"
)

// TestTileSquaredRectangle puts the squared rectangle of lowest order together:
// nine squares in 33 × 32 (Moroń Z. 1925).
func TestTileSquaredRectangle(t *testing.T) {
	p := Problem{StripWidth: 32}
	for _, s := range []float64{1, 4, 7, 8, 9, 10, 14, 15, 18} {
		p.Parts = append(p.Parts, Part{Outline: rect(s, s), Quantity: 1})
	}
	r, err := Tile(t.Context(), p, Options{Seed: 1, Effort: 1})
	if err != nil {
		t.Fatal(err)
	}
	if r.Length != 33 || r.Density != 1 {
		t.Errorf("length %v, density %v; want 33 and 1", r.Length, r.Density)
	}
}

// TestTileSheets divides two sheets into slanted pieces without waste, in turns
// that have to be found.
func TestTileSheets(t *testing.T) {
	p := Problem{
		Parts: []Part{
			{Outline: orb.Polygon{{{0, 0}, {30, 0}, {10, 40}, {0, 40}}}, Quantity: 8, Angles: []float64{0, 180}},
			{Outline: rect(80, 30), Quantity: 2},
		},
		Sheets: []Sheet{{Outline: rect(80, 70), Count: 4}},
	}
	// Two slanted pieces make a block of 40 × 40.
	r, err := Tile(t.Context(), p, Options{Seed: 1, Effort: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Layouts) != 2 || r.Density != 1 {
		t.Errorf("%d sheets, density %v; want 2 and 1", len(r.Layouts), r.Density)
	}
}

func TestTileTakesOnlyWhatCouldTile(t *testing.T) {
	sheets := []Sheet{{Outline: rect(10, 10), Count: 5}}
	across := 90.0 // and the part may only lie as drawn, the strip's grain runs along
	for why, p := range map[string]Problem{
		"area to spare": {Parts: []Part{{Outline: rect(3, 3), Quantity: 4}}, Sheets: sheets},
		"spacing":       {Parts: []Part{{Outline: rect(5, 5), Quantity: 4}}, Sheets: sheets, Spacing: 1},
		"too few":       {Parts: []Part{{Outline: rect(5, 5), Quantity: 40}}, Sheets: sheets},
		"kits":          {Parts: []Part{{Outline: rect(5, 5), Quantity: 4, Kit: "a"}}, Sheets: sheets},
		"no turn":       {Parts: []Part{{Outline: rect(2, 5), Quantity: 1, Grain: &across}}, StripWidth: 10},
	} {
		if _, err := Tile(t.Context(), p, Options{}); !errors.Is(err, ErrUnsupported) {
			t.Errorf("%s: error %v", why, err)
		}
	}
}

// TestTileEndsWhereNothingTiles gives parts of just the strip's area that cannot
// fill it: coloured like a chess board, one T has three cells of a colour and the
// squares two each. All ways are soon looked at, and no effort is spent beyond.
func TestTileEndsWhereNothingTiles(t *testing.T) {
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	p := Problem{StripWidth: 40, Parts: []Part{
		{Outline: orb.Polygon{{{0, 0}, {30, 0}, {30, 10}, {20, 10}, {20, 20}, {10, 20}, {10, 10}, {0, 10}}}, Quantity: 1, Angles: quarterTurns},
		{Outline: rect(20, 20), Quantity: 4},
	}}
	_, err := Tile(ctx, p, Options{Seed: 1, Effort: 1e9})
	if !errors.Is(err, ErrUnsupported) || ctx.Err() != nil {
		t.Errorf("error %v, context %v", err, ctx.Err())
	}
}

// TestHopelessTilings: tries that stay near the start of a sheet are given up, but
// not before they had a fair number of nodes; those that get on are not.
func TestHopelessTilings(t *testing.T) {
	pre, err := prepare(Problem{Parts: []Part{{Outline: rect(5, 5), Quantity: 4}}, Sheets: []Sheet{{Outline: rect(10, 10), Count: 5}}})
	if err != nil {
		t.Fatal(err)
	}
	j, ok := newJob(pre)
	if !ok {
		t.Fatal("four quarters of a sheet were refused")
	}
	for _, c := range []struct {
		deepest float64
		ended   bool
		drawn   bool
		limit   int
		want    bool
	}{
		{20, false, false, hopelessAfter, true},
		{20, false, false, hopelessAfter / 3, false},
		{50, false, false, hopelessAfter, false},
		{50, true, true, firstTileNodes, false},
		{50, true, false, firstTileNodes, true},
	} {
		tries := []*tiling{{deepest: 1, drawn: true}, {deepest: c.deepest, ended: c.ended, drawn: c.drawn}}
		if got := j.hopeless(tries, c.limit); got != c.want {
			t.Errorf("%+v: hopeless is %v", c, got)
		}
	}
}
