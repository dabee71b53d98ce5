package nest

import (
	"cmp"
	"slices"

	"kerfold/geom"
)

// A measure ranks a unit for a placing order; larger comes first.
type measure func(pre *prepared, u *unit) float64

// byArea ranks by the area of what is placed together.
func byArea(_ *prepared, u *unit) float64 { return u.area }

// byLength ranks by the longest side of a bounding box.
func byLength(pre *prepared, u *unit) float64 {
	return largest(pre, u, func(s *shape) float64 { return max(s.w, s.h) })
}

// byWidth ranks by the shortest side of a bounding box.
func byWidth(pre *prepared, u *unit) float64 {
	return largest(pre, u, func(s *shape) float64 { return min(s.w, s.h) })
}

// byConcavity ranks by the area a part's convex hull has beyond the part.
func byConcavity(pre *prepared, u *unit) float64 {
	return largest(pre, u, func(s *shape) float64 {
		return geom.RingArea(geom.ConvexHull(s.outline[0])) - s.area
	})
}

// byPerimeter ranks by the length of the outer ring.
func byPerimeter(pre *prepared, u *unit) float64 {
	return largest(pre, u, func(s *shape) float64 { return geom.RingLength(s.outline[0]) })
}

func largest(pre *prepared, u *unit, of func(*shape) float64) float64 {
	most := 0.0
	for _, k := range u.kinds {
		for _, t := range pre.kinds[k].turns {
			most = max(most, of(&pre.shapes[t.shape]))
		}
	}
	return most
}

// unitsBy lists the units by decreasing measure, equals in the problem's order.
func unitsBy(pre *prepared, d demand, m measure) []int {
	rank := make([]float64, len(d.units))
	list := make([]int, len(d.units))
	for i := range d.units {
		rank[i], list[i] = m(pre, &d.units[i]), i
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(rank[b], rank[a]) })
	return list
}

// orderBy is the order that places what is wanted by decreasing measure.
func orderBy(pre *prepared, d demand, m measure) []gene {
	var genes []gene
	for _, u := range unitsBy(pre, d, m) {
		for range d.wanted[u] {
			genes = append(genes, gene{int32(u), AnyTurn})
		}
	}
	return genes
}
