package nest

import "math/rand/v2"

// change turns an order into a neighbour that differs first at place i. It tells
// whether it found one.
func (d *decoder) change(order []gene, i int, rng *rand.Rand) bool {
	for range 8 {
		switch r := rng.IntN(10); {
		case r < 3:
			if d.turnGene(order, i, rng) {
				return true
			}
		case r < 6:
			if swapGenes(order, i, rng) {
				return true
			}
		case r < 8:
			if pullGene(order, i, rng) {
				return true
			}
		default:
			if pushGene(order, i, rng) {
				return true
			}
		}
	}
	return false
}

// turnGene gives the unit at i another of its turns.
func (d *decoder) turnGene(order []gene, i int, rng *rand.Rand) bool {
	u := &d.units[order[i].unit]
	if len(u.kinds) > 1 {
		return false
	}
	choices := d.usable[u.kinds[0]]
	if len(choices) < 2 {
		return false
	}
	t := choices[rng.IntN(len(choices))]
	was := order[i].turn
	order[i].turn = t
	return t != was
}

// later picks a place after i.
func later(order []gene, i int, rng *rand.Rand) (int, bool) {
	if i+1 >= len(order) {
		return 0, false
	}
	return i + 1 + rng.IntN(len(order)-i-1), true
}

// swapGenes exchanges place i with a later one.
func swapGenes(order []gene, i int, rng *rand.Rand) bool {
	j, ok := later(order, i, rng)
	if !ok || order[i] == order[j] {
		return false
	}
	order[i], order[j] = order[j], order[i]
	return true
}

// pullGene brings a later unit forward to place i.
func pullGene(order []gene, i int, rng *rand.Rand) bool {
	j, ok := later(order, i, rng)
	if !ok || order[i] == order[j] {
		return false
	}
	g := order[j]
	copy(order[i+1:j+1], order[i:j])
	order[i] = g
	return true
}

// pushGene sends the unit at i back to a later place.
func pushGene(order []gene, i int, rng *rand.Rand) bool {
	j, ok := later(order, i, rng)
	if !ok || order[i] == order[i+1] {
		return false
	}
	g := order[i]
	copy(order[i:j], order[i+1:j+1])
	order[j] = g
	return true
}
