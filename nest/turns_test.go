package nest

import (
	"fmt"
	"reflect"
	"testing"
)

func TestTurns(t *testing.T) {
	deg := func(v float64) *float64 { return &v }
	cases := []struct {
		why   string
		part  Part
		grain *float64
		want  []Turn
	}{
		{"no angles: as drawn", Part{}, nil, []Turn{{0, false}}},
		{"angles reduced, repeats dropped", Part{Angles: []float64{0, 360, -90}}, nil, []Turn{{0, false}, {270, false}}},
		{"turned over after as drawn", Part{Angles: []float64{0, 180}, Mirror: true}, nil, []Turn{{0, false}, {180, false}, {0, true}, {180, true}}},
		{"free: quarter turns to begin with", Part{FreeAngle: true}, nil, []Turn{{0, false}, {90, false}, {180, false}, {270, false}}},
		{"grain keeps the turns along it", Part{Angles: []float64{0, 90, 180, 270}, Grain: deg(0)}, deg(90), []Turn{{90, false}, {270, false}}},
		{"grain is modulo 180", Part{Angles: []float64{10}, Grain: deg(170)}, deg(0), []Turn{{10, false}}},
		{"a sheet without grain asks nothing", Part{Angles: []float64{90}, Grain: deg(0)}, nil, []Turn{{90, false}}},
		{"free turns by the grain", Part{FreeAngle: true, Grain: deg(30)}, deg(90), []Turn{{60, false}, {240, false}}},
		{"turning over mirrors the part's grain", Part{FreeAngle: true, Mirror: true, Grain: deg(30)}, deg(90), []Turn{{60, false}, {240, false}, {300, true}, {120, true}}},
		{"across the grain: no turn", Part{Angles: []float64{0}, Grain: deg(0)}, deg(90), nil},
	}
	for _, c := range cases {
		if got := Turns(c.part, c.grain); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", c.why, got, c.want)
		}
	}
}

func TestEqualOutlinesAreOneShape(t *testing.T) {
	p := Problem{StripWidth: 50, Parts: []Part{
		{Outline: rect(10, 10), Quantity: 1, Angles: quarterTurns, Mirror: true},
		{Outline: rect(20, 10), Quantity: 1, Angles: quarterTurns},
		{Outline: movedRect(20, 10, 5, 7), Quantity: 1},
	}}
	pre := mustPrepare(t, p)
	if len(pre.shapes) != 3 {
		t.Errorf("%d shapes, want 3: a square and two turns of a rectangle", len(pre.shapes))
	}
	for i, want := range []int{1, 2, 1} {
		if got := len(pre.kinds[i].distinct); got != want {
			t.Errorf("part %d has %d distinct turns, want %d", i, got, want)
		}
	}
}

func ExampleTurns() {
	grain := 90.0
	own := 0.0
	part := Part{Angles: []float64{0, 90, 180, 270}, Grain: &own}
	for _, turn := range Turns(part, &grain) {
		fmt.Println(turn.AngleDeg)
	}
	// Output:
	// 90
	// 270
}
