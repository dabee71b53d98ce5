package nest

import (
	"errors"
	"testing"

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
	for why, p := range map[string]Problem{
		"area to spare": {Parts: []Part{{Outline: rect(3, 3), Quantity: 4}}, Sheets: sheets},
		"spacing":       {Parts: []Part{{Outline: rect(5, 5), Quantity: 4}}, Sheets: sheets, Spacing: 1},
		"too few":       {Parts: []Part{{Outline: rect(5, 5), Quantity: 40}}, Sheets: sheets},
		"kits":          {Parts: []Part{{Outline: rect(5, 5), Quantity: 4, Kit: "a"}}, Sheets: sheets},
	} {
		if _, err := Tile(t.Context(), p, Options{}); !errors.Is(err, ErrUnsupported) {
			t.Errorf("%s: error %v", why, err)
		}
	}
}
