package nest

import "slices"

// leftovers is what is welcome but not wanted: fillers, and copies beyond an
// order. It fills what the wanted parts left.
type leftovers struct {
	pre   *prepared
	dem   demand
	order []int // units by decreasing area
	left  []int
}

func newLeftovers(pre *prepared, dem demand) *leftovers {
	return &leftovers{pre: pre, dem: dem, order: unitsBy(pre, dem, byArea), left: slices.Clone(dem.welcome)}
}

// some tells whether anything is left.
func (l *leftovers) some() bool {
	for _, n := range l.left {
		if n > 0 {
			return true
		}
	}
	return false
}

// fill places fillers anywhere on a sheet, and copies beyond the order where
// they make what is used no longer, so that the sheet's scrap stays in one
// piece. On a strip nothing may make it longer.
func (l *leftovers) fill(fd *field) {
	reach := fd.reach()
	for _, u := range l.order {
		if l.left[u] == 0 {
			continue
		}
		far := reach
		if l.dem.units[u].filler && !fd.ground.strip {
			far = stripReach
		}
		l.left[u] -= fd.fillWithin(u, l.left[u], far)
	}
}

// fillWithin places up to n copies of a kind that end no farther right than
// reach, and returns how many it placed.
func (fd *field) fillWithin(kind, n int, reach float64) int {
	for i := range n {
		at, ok := fd.spot(int32(kind), AnyTurn)
		if !ok || at.x+fd.pre.shapes[at.shape].w > reach {
			return i
		}
		fd.place(at)
	}
	return n
}
