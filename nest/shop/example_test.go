package shop_test

import (
	"errors"
	"fmt"
	"testing/fstest"

	"kerfold/nest/shop"
)

// A job is read from any file system; everything wrong comes at once.
func ExampleLoad() {
	fsys := fstest.MapFS{"week.yaml": {Data: []byte(shop.Example())}}
	job, err := shop.Load(fsys, "week.yaml")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, o := range job.Orders {
		fmt.Printf("%s %s: %d, %.0f mm²\n", o.ID, o.Part, o.Quantity, o.Shape.Area())
	}
	// Output:
	// K-1 cover: 24, 14279 mm²
	// K-2 spacer: 60, 1520 mm²
}

func ExampleProblems() {
	fsys := fstest.MapFS{"week.yaml": {Data: []byte("version: 1\nstart: 2026-11-31\nmachnies: []\n")}}
	_, err := shop.Load(fsys, "week.yaml")
	var problems shop.Problems
	if errors.As(err, &problems) {
		for _, p := range problems {
			fmt.Println(p.Where(), "|", p.Fact, "|", p.Mend)
		}
	}
	// Output:
	// week.yaml | no machines | describe at least one under machines:
	// week.yaml:2:8 | start is "2026-11-31" | there is no such day; write year-month-day
	// week.yaml:3:1 | unknown key "machnies" | did you mean machines?
}

// A register written for the rack reads back the same.
func ExampleMarshalRegister() {
	fsys := fstest.MapFS{"rack.csv": {Data: []byte("id;material;thickness mm;width mm;height mm;cost\nR-1;cork;3;600;400;2,50\n")}}
	stock, _, err := shop.LoadRegister(fsys, "rack.csv", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(string(shop.MarshalRegister(stock)))
	// Output:
	// # stock register
	// version: 1
	// stock:
	//   - id: "R-1"
	//     material: "cork"
	//     thickness_mm: 3
	//     width_mm: 600
	//     height_mm: 400
	//     count: 1
	//     cost: 2.5
	//     remnant: no
}
