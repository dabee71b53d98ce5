package nest

import (
	"context"
	"testing"

	"github.com/paulmach/orb"
)

// TestBottomLeftStarvedIsComplete ends the first pass at many moments: everything
// has a place all the same, on rectangles and on a sheet with a slanting end.
func TestBottomLeftStarvedIsComplete(t *testing.T) {
	for _, outline := range []orb.Polygon{
		sepRectangle(400, 300), {{{0, 0}, {400, 0}, {250, 300}, {0, 300}}},
	} {
		p := sidewaysProblem(8, 12, false)
		p.Sheets[0].Outline = outline
		p.Parts[2].Kit, p.Parts[3].Kit = "pair", "pair"
		for _, left := range []int{0, 1, 50, 96, 150} {
			ctx := endingContext{context.Background(), &left}
			r, err := BottomLeft(ctx, p, nil, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if r.missing() > 0 || left < 0 && r.Status != Limit {
				t.Errorf("%d missing, status %v, %v", r.missing(), r.Status, r.Warnings)
			}
			sepCheckSheets(t, p, r, 96)
		}
	}
}
