package nest

import "math/rand/v2"

// cross makes an order from two: the first takes the lead up to a random place,
// and what is left of the demand follows in the second's order and turns. So a
// child keeps the first parent's layout up to that place, and the second's
// preferences after it (the order crossover of Davis 1985, with one cut).
func cross(child, a, b []gene, units int, rng *rand.Rand) []gene {
	cut := 1 + rng.IntN(len(a))
	child = append(child[:0], a[:cut]...)
	placed := make([]int, units)
	for _, g := range child {
		placed[g.unit]++
	}
	for _, g := range b {
		if placed[g.unit] > 0 {
			placed[g.unit]--
			continue
		}
		child = append(child, g)
	}
	return child
}
