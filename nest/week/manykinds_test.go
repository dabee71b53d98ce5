package week

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// manyKinds is a job with so many kinds of plate, few copies of each.
func manyKinds(kinds int) string {
	head := strings.Replace(lateText, "count: 2,", "count: 200,", 1)
	var b strings.Builder
	b.WriteString(head[:strings.Index(head, "orders:")])
	b.WriteString("orders:\n")
	rng := rand.New(rand.NewPCG(5, 5))
	for i := range kinds {
		fmt.Fprintf(&b, "  - {id: M-%d, shape: rectangle, width_mm: %d, height_mm: %d, quantity: %d, material: test plate, thickness_mm: 12, due: 2031-03-%02d}\n",
			i+1, 60+rng.IntN(200), 40+rng.IntN(120), 1+rng.IntN(4), 3+rng.IntN(5))
	}
	return b.String()
}
