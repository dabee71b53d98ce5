package geom_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A block with a slot one millimetre wide, and a peg of just that width.
func ExampleNoFit() {
	block := orb.Polygon{{{0, 0}, {10, 0}, {10, 10}, {6, 10}, {6, 6}, {5, 6}, {5, 10}, {0, 10}}}
	peg := orb.Polygon{{{0, 0}, {1, 0}, {1, 3}, {0, 3}}}
	r := geom.NoFit(block, peg)
	fmt.Println("outer boundary:", r.Rings)
	fmt.Println("slides:", r.Segments)
	// Output:
	// outer boundary: [[[-1 -3] [10 -3] [10 10] [-1 10]]]
	// slides: [[[5 6] [5 10]]]
}

// A part as high as the sheet can only slide along it.
func ExampleInnerFit() {
	sheet := orb.Polygon{geom.RectRing(0, 0, 1000, 500)}
	part := orb.Polygon{geom.RectRing(0, 0, 200, 500)}
	r := geom.InnerFit(sheet, part)
	fmt.Println(len(r.Rings), r.Segments)
	// Output: 0 [[[0 0] [800 0]]]
}

// A washer flattened for nesting contains the true one, and is as wide.
func ExampleShape_Flatten() {
	washer := geom.Shape{
		Outer: geom.CircleContour(orb.Point{0, 0}, 20),
		Holes: []geom.Contour{geom.CircleContour(orb.Point{0, 0}, 8)},
	}
	flat := washer.Flatten(0.05, geom.Outward)
	fmt.Printf("true area %.1f, flat %.1f\n", washer.Area(), geom.PolygonArea(flat))
	b := geom.Bounds(flat)
	fmt.Println("width", b.Max[0]-b.Min[0])
	// Output:
	// true area 1055.6, flat 1058.8
	// width 40
}

// A margin around a sheet with a blocked zone.
func ExampleOffset() {
	sheet := orb.Polygon{
		geom.RectRing(0, 0, 1000, 500),
		geom.ReverseRing(geom.RectRing(400, 200, 600, 300)),
	}
	for _, p := range geom.Offset(sheet, -10, 0.02) {
		fmt.Println(geom.Bounds(p).Min, geom.Bounds(p).Max, "zone", geom.RingBounds(p[1]).Min, geom.RingBounds(p[1]).Max)
	}
	// Output: [10 10] [990 490] zone [390 190] [610 310]
}

func ExampleUnion() {
	bars := []orb.Polygon{
		{geom.RectRing(0, 0, 3, 1)},
		{geom.RectRing(0, 2, 3, 3)},
		{geom.RectRing(0, 0, 1, 3)},
		{geom.RectRing(2, 0, 3, 3)},
	}
	fmt.Println(geom.Union(bars...))
	// Output: [[[[0 0] [3 0] [3 3] [0 3]] [[1 1] [1 2] [2 2] [2 1]]]]
}

func ExampleInteriorsOverlap() {
	a, b := orb.Polygon{geom.RectRing(0, 0, 1, 1)}, orb.Polygon{geom.RectRing(1, 0, 2, 1)}
	fmt.Println(geom.InteriorsOverlap(a, b))
	fmt.Println(geom.InteriorsOverlap(a, geom.TranslatePolygon(b, orb.Point{-geom.Grid, 0})))
	// Output:
	// false
	// true
}
