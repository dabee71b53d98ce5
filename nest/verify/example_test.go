package verify_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/verify"
)

func ExampleCheck() {
	plate := verify.Plain(orb.Polygon{{{0, 0}, {100, 0}, {100, 40}, {0, 40}}})
	disc := geom.Shape{Outer: geom.Contour{
		{P: orb.Point{-20, 0}, Bulge: 1},
		{P: orb.Point{20, 0}, Bulge: 1},
	}}
	r := verify.Check(verify.Layout{
		Parts: []verify.Part{
			{ID: "plate", Shape: plate, Min: 1, Max: 1},
			{ID: "disc", Shape: disc, Min: 2, Max: 2, FreeAngle: true},
		},
		Sheets: []verify.Sheet{verify.Strip(100, 200)},
		Uses: []verify.Use{{Placements: []verify.Placement{
			{Part: 0, Pose: geom.Pose{X: 5, Y: 5}},
			{Part: 1, Pose: geom.Pose{X: 50, Y: 66}},
			{Part: 1, Pose: geom.Pose{X: 178, Y: 25}},
		}}},
		Spacing: 3,
		Margin:  5,
	})
	for _, v := range r.Violations {
		fmt.Println(v.Kind, "·", v.Text)
	}
	// Output:
	// clearance · sheet 1 (strip): part plate (placement 1) and part disc (placement 2) are 1.000 mm apart at (50.000, 45.500) where 3.000 mm are asked for; move them 2.000 mm further apart
	// margin · sheet 1 (strip): part disc (placement 3) is 2.000 mm from the sheet's edge at (199.000, 25.000) where 5.000 mm are asked for; move it 3.000 mm further away
}

func ExampleReport_OK() {
	tile := verify.Plain(orb.Polygon{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}})
	l := verify.Layout{
		Parts:  []verify.Part{{ID: "tile", Shape: tile, Min: 2, Max: 2}},
		Sheets: []verify.Sheet{verify.Strip(10, 20)},
		Uses: []verify.Use{{Placements: []verify.Placement{
			{Pose: geom.Pose{X: 0}}, {Pose: geom.Pose{X: 10}},
		}}},
	}
	fmt.Println(verify.Check(l).OK())
	l.Uses[0].Placements[1].Pose.X = 9.95
	fmt.Println(verify.Check(l).OK())
	// Output:
	// true
	// false
}
