package week

import (
	"math"
	"testing"

	"kerfold/nest/shop"
)

// TestClosestPair holds the pair against all pairs there are.
func TestClosestPair(t *testing.T) {
	for want := range 120 {
		for _, times := range [][2]int{{3, 2}, {4, 3}, {6, 5}, {4, 4}, {6, 4}} {
			for _, extra := range []int{0, 3} {
				ahead := float64(want%5) - 2
				got := closestPair(want, want+extra, times[0], times[1], ahead)
				over, off := pairOver(got, want, extra, times), math.Abs(ahead+float64(got[0]-got[1]))
				if cut := got[0]*times[0] + got[1]*times[1]; cut < want {
					t.Fatalf("%d wanted, cut %v times: %v are %d", want, times, got, cut)
				}
				middle := want / (times[0] + times[1])
				for n := max(0, middle-times[0]); n <= middle+times[0]; n++ {
					for m := range want + 1 {
						p := [2]int{m, n}
						if m*times[0]+n*times[1] < want || pairOver(p, want, extra, times) > over {
							continue
						}
						if pairOver(p, want, extra, times) < over {
							t.Fatalf("%d wanted, cut %v times: %v has %d too many, %v fewer", want, times, got, over, p)
						}
						if least := math.Abs(ahead + float64(m-n)); least < off && m*times[0]+n*times[1] < want+times[0] {
							t.Fatalf("%d wanted, cut %v times: %v where %v differs less", want, times, got, p)
						}
					}
				}
			}
		}
	}
}

func pairOver(p [2]int, want, extra int, times [2]int) int {
	return max(0, p[0]*times[0]+p[1]*times[1]-want-extra)
}

// TestInTwoIsExactAndEven shares the gaskets out: no copy too many, and two layouts of
// about the same area, on as many sheets as there are for both.
func TestInTwoIsExactAndEven(t *testing.T) {
	tk := &task{area: []float64{50, 300, 120, 80}, group: Group{
		Parts:  []shop.Order{{Quantity: 263}, {Quantity: 385}, {Quantity: 446}, {Quantity: 353}},
		Sheets: []shop.Stock{{Count: 60}, {Count: 8}},
	}}
	a, b := tk.inTwo(6, 5)
	areaA, areaB := 0.0, 0.0
	for i := range tk.group.Parts {
		if got := 6*a.want[i] + 5*b.want[i]; got != tk.group.Parts[i].Quantity {
			t.Errorf("part %d: %d and %d copies make %d of %d", i, a.want[i], b.want[i], got, tk.group.Parts[i].Quantity)
		}
		areaA, areaB = areaA+float64(a.want[i])*tk.area[i], areaB+float64(b.want[i])*tk.area[i]
	}
	if math.Abs(areaA-areaB) > 600 || a.sheets[0] != 5 || b.sheets[0] != 5 || a.sheets[1] != 0 {
		t.Errorf("areas %v and %v, sheets %v and %v", areaA, areaB, a.sheets, b.sheets)
	}
}
