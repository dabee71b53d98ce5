package route_test

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/route"
)

func ExamplePlan() {
	plate := geom.Shape{
		Outer: geom.RectContour(20, 20, 120, 80),
		Holes: []geom.Contour{geom.CircleContour(orb.Point{40, 50}, 5), geom.CircleContour(orb.Point{100, 50}, 12)},
	}
	r, err := route.Plan(context.Background(), route.Input{
		Sheet:  geom.RectContour(0, 0, 300, 200),
		Pieces: []route.Piece{{Placement: 0, Name: "plate", Shape: plate}},
	}, route.Defaults(1.02, 6))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range r.Cuts {
		fmt.Printf("%s hole %d: cut %.1f mm, leads %.1f mm\n", c.Name, c.Hole, c.CutMM, c.LeadMM)
	}
	fmt.Printf("%d pierces, %.1f mm cut\n", r.Pierces, r.CutMM)
	// Output:
	// plate hole 0: cut 31.4 mm, leads 4.0 mm
	// plate hole 1: cut 75.4 mm, leads 4.0 mm
	// plate hole -1: cut 320.0 mm, leads 4.0 mm
	// 3 pierces, 426.8 mm cut
}
