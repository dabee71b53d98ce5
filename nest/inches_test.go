package nest

import (
	"fmt"
	"testing"
)

// TestExactRowsInInches lays rows that fit a sheet exactly, in sizes that are
// whole sixteenths of an inch and so not on the grid: the rounding of every part
// must not add up to the loss of the last one.
func TestExactRowsInInches(t *testing.T) {
	lost := map[string]int{}
	rows := 0
	for sixteenths := 9; sixteenths <= 90; sixteenths += 3 {
		for _, gap := range []float64{0, 0.125, 3.0 / 16} {
			for n := 2; n <= 40; n += 7 {
				side, spacing := float64(sixteenths)/16*25.4, gap*25.4
				margin := spacing
				w := 2*margin + float64(n)*side + float64(n-1)*spacing
				p := Problem{
					Parts:   []Part{{ID: "blank", Outline: rect(side, side), Quantity: n}},
					Sheets:  []Sheet{{Outline: rect(w, side+2*margin), Count: 2}},
					Spacing: spacing, Margin: margin,
				}
				r, err := BottomLeft(t.Context(), p, nil, Options{})
				if err != nil {
					t.Fatal(err)
				}
				rows++
				if len(r.Layouts) != 1 {
					lost[fmt.Sprintf("gap %g in", gap)]++
				}
			}
		}
	}
	if len(lost) > 0 {
		t.Errorf("of %d rows these lose a part: %v", rows, lost)
	}
}
