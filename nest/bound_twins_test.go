package nest

import (
	"reflect"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// What is measured once for orders of one outline is what each would measure by
// itself.
func TestTwinsMeasureAsThemselves(t *testing.T) {
	ring := orb.Polygon{geom.RectRing(0, 0, 90, 70), geom.ReverseRing(geom.RectRing(20, 20, 60, 50))}
	plate := orb.Polygon{geom.RectRing(0, 0, 30, 20)}
	p := Problem{
		Spacing: 2, Margin: 5,
		Parts: []Part{
			{ID: "a", Outline: ring, Quantity: 3},
			{ID: "b", Outline: plate, Quantity: 4},
			{ID: "c", Outline: ring, Quantity: 5},
			{ID: "d", Outline: plate, Quantity: 2},
		},
		Sheets: []Sheet{{ID: "s", Outline: orb.Polygon{geom.RectRing(0, 0, 400, 300)}, Count: 9}},
	}
	pre, err := prepare(p)
	if err != nil {
		t.Fatal(err)
	}
	once := newBounder(pre, newFits(pre, nil), []int{3, 4, 5, 2})
	if want := []int{0, 1, 0, 1}; !reflect.DeepEqual(once.twins, want) {
		t.Fatalf("twins %v, want %v", once.twins, want)
	}
	for i := range p.Parts {
		area, filled, disc := once.area[i], once.filled[i], once.discs[i]
		if once.size(i); area != once.area[i] || filled != once.filled[i] || disc != once.discs[i] {
			t.Errorf("part %s: %v, %v, %v; by itself %v, %v, %v", p.Parts[i].ID, area, filled, disc, once.area[i], once.filled[i], once.discs[i])
		}
	}
	holes := once.findHoles()
	once.twins = []int{0, 1, 2, 3}
	if alone := once.findHoles(); len(holes) != 2 || !reflect.DeepEqual(holes, alone) {
		t.Errorf("holes %+v, by themselves %+v", holes, alone)
	}
}
