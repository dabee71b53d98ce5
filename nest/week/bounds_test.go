package week

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/shop"
)

func boxGroup(sheets int, quantities map[[2]float64]int, order [][2]float64) *Group {
	g := &Group{Sheets: []shop.Stock{{Outline: geom.RectContour(0, 0, 1000, 600), Count: sheets}}}
	for _, size := range order {
		g.Parts = append(g.Parts, shop.Order{Quantity: quantities[size], Shape: geom.Shape{Outer: geom.RectContour(0, 0, size[0], size[1])}})
	}
	return g
}

func TestLeastSheets(t *testing.T) {
	half, big, small := [2]float64{500, 300}, [2]float64{800, 400}, [2]float64{100, 100}
	for _, c := range []struct {
		name  string
		group *Group
		want  int
	}{
		{"nine quarters", boxGroup(9, map[[2]float64]int{half: 9}, [][2]float64{half}), 3},
		{"three of more than half, though the area would fit on two", boxGroup(9, map[[2]float64]int{big: 3}, [][2]float64{big}), 3},
		{"large ones with small ones beside them", boxGroup(9, map[[2]float64]int{big: 2, small: 56}, [][2]float64{big, small}), 2},
		{"and with more than there is room for", boxGroup(9, map[[2]float64]int{big: 2, small: 57}, [][2]float64{big, small}), 3},
		{"more than there are: one more than those", boxGroup(1, map[[2]float64]int{half: 9}, [][2]float64{half}), 2},
		{"nothing wanted", boxGroup(1, nil, [][2]float64{half}), 0},
	} {
		if n := mustNeed(t, c.group); n.sheets != c.want {
			t.Errorf("%s: at least %d sheets, want %d", c.name, n.sheets, c.want)
		}
	}
}

func mustNeed(t *testing.T, g *Group) need {
	t.Helper()
	n, err := needOf(g)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// Clearances count: a disc takes half the spacing with it, and the hexagon round
// that, for equal discs leave that much between them; a sheet loses the margin and
// wins half the spacing.
func TestAreasWithClearances(t *testing.T) {
	g := boxGroup(1, nil, nil)
	g.SpacingMM, g.MarginMM = 10, 20
	g.Parts = []shop.Order{{Quantity: 1, Shape: geom.Shape{Outer: geom.CircleContour(orb.Point{}, 50)}}}
	n := mustNeed(t, g)
	if want := math.Sqrt(12) * 55 * 55; n.grown[0] > want || n.grown[0] < 0.995*want {
		t.Errorf("a grown disc takes %v, want a little less than %v", n.grown[0], want)
	}
	if want := 970.0*570 - (4-math.Pi)*25; n.usable[0] < want || n.usable[0] > 1.001*want {
		t.Errorf("a sheet offers %v, want a little more than %v", n.usable[0], want)
	}
}

// The cheapest whole sheets are found by trying all numbers of each kind.
func TestSheetBoundAgainstEnumeration(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for n := range 100 {
		kinds := 1 + rng.IntN(3)
		b := sheetBound{least: rng.IntN(4)}
		offered := 0.0
		for range kinds {
			full := 1 + 4*rng.Float64()
			b.full, b.room = append(b.full, full), append(b.room, full*(0.8+0.2*rng.Float64()))
			b.fixed, b.fill = append(b.fixed, 10*rng.Float64()), append(b.fill, 5*rng.Float64())
			b.count = append(b.count, 2+rng.IntN(3))
			offered += b.room[len(b.room)-1] * float64(b.count[len(b.count)-1])
		}
		b.need = offered * (0.2 + 0.5*rng.Float64())
		b.area = 0.9 * b.need
		got, err := b.solve()
		if err != nil {
			t.Fatal(err)
		}
		want := cheapestSheets(&b, make([]int, kinds), 0)
		if math.Abs(got-want) > 1e-6*(1+want) {
			t.Errorf("case %d: %v, trying all gives %v", n, got, want)
		}
	}
}

// cheapestSheets tries every number of sheets of the kinds from k on.
func cheapestSheets(b *sheetBound, n []int, k int) float64 {
	if k == len(n) {
		return moneyOfSheets(b, n)
	}
	best := math.Inf(1)
	for n[k] = 0; n[k] <= b.count[k]; n[k]++ {
		best = math.Min(best, cheapestSheets(b, n, k+1))
	}
	n[k] = 0
	return best
}

// moneyOfSheets puts the area where it costs least; +Inf where it does not fit.
func moneyOfSheets(b *sheetBound, n []int) float64 {
	money, room, sheets := 0.0, 0.0, 0
	var order []int
	for k, c := range n {
		money, room, sheets = money+float64(c)*b.fixed[k], room+float64(c)*b.room[k], sheets+c
		order = append(order, k)
	}
	if room < b.need || sheets < b.least {
		return math.Inf(1)
	}
	left := b.area
	for range order {
		best := -1
		for i, k := range order {
			if k >= 0 && (best < 0 || b.fill[k]/b.full[k] < b.fill[order[best]]/b.full[order[best]]) {
				best = i
			}
		}
		k := order[best]
		order[best] = -1
		laid := math.Min(left, float64(n[k])*b.full[k])
		money, left = money+laid*b.fill[k]/b.full[k], left-laid
	}
	if left > 1e-9 {
		return math.Inf(1)
	}
	return money
}
