package route

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

const (
	// detourShare and detourMM bound how much longer a way round free parts may
	// be than the straight way: half as long again and a crossing's worth.
	detourShare = 1.5
	detourMM    = crossingCost
	// detourGap is how far, in mm, a way round keeps from the parts it rounds.
	detourGap = 2
	// detourPoints bounds the corners looked at.
	detourPoints = 64
)

// way returns the rapid move to the contour at position i, and how many free
// parts it passes over: straight where that is free or where there is no short
// way round.
func (f *freed) way(i int) ([]orb.Point, int) {
	return f.between(i, f.exit(i-1), f.entry(i))
}

// between is way for any two points, with the parts free that are cut before
// position i.
func (f *freed) between(i int, a, b orb.Point) ([]orb.Point, int) {
	hit := append([]int(nil), f.crossedBefore(i, a, b)...)
	if len(hit) == 0 {
		return []orb.Point{a, b}, 0
	}
	if round := f.round(i, a, b, hit); round != nil {
		return round, 0
	}
	return []orb.Point{a, b}, len(hit)
}

// round searches a way from a to b over the corners of the hulls of the parts
// in the way, taking in further parts as they turn out to be in the way.
func (f *freed) round(i int, a, b orb.Point, hit []int) []orb.Point {
	limit := detourShare*dist(a, b) + detourMM
	known := map[int]bool{}
	points := []orb.Point{a, b}
	for range 3 {
		for _, n := range hit {
			if !known[n] {
				known[n] = true
				points = append(points, f.corners(n)...)
			}
		}
		if len(points) > detourPoints {
			return nil
		}
		path, blocked := f.shortest(i, points, limit)
		if path != nil || len(blocked) == 0 {
			return path
		}
		hit = blocked
	}
	return nil
}

// corners returns the corners of a piece's convex hull, moved out.
func (f *freed) corners(n int) []orb.Point {
	hull := geom.ConvexHull(f.ns[n].flat)
	mid := f.ns[n].box.Center()
	out := make([]orb.Point, 0, 8)
	for _, p := range thin(hull, 8) {
		out = append(out, step(p, unit(sub(p, mid)), detourGap))
	}
	return out
}

// shortest is Dijkstra's search over points that see each other, from the first
// to the second. blocked lists parts that stood between.
func (f *freed) shortest(i int, points []orb.Point, limit float64) (path []orb.Point, blocked []int) {
	n := len(points)
	cost, back, done := make([]float64, n), make([]int, n), make([]bool, n)
	for k := range cost {
		cost[k] = math.Inf(1)
	}
	cost[0] = 0
	for {
		u := -1
		for k := range cost {
			if !done[k] && !math.IsInf(cost[k], 1) && (u < 0 || cost[k] < cost[u]) {
				u = k
			}
		}
		if u < 0 || u == 1 {
			break
		}
		done[u] = true
		for v := range points {
			c := cost[u] + dist(points[u], points[v])
			if done[v] || c >= cost[v] || c+dist(points[v], points[1]) > limit {
				continue
			}
			if hit := f.crossedBefore(i, points[u], points[v]); len(hit) > 0 {
				blocked = append(blocked, hit...)
				continue
			}
			cost[v], back[v] = c, u
		}
	}
	if math.IsInf(cost[1], 1) {
		return nil, blocked
	}
	for k := 1; k != 0; k = back[k] {
		path = append([]orb.Point{points[k]}, path...)
	}
	return append([]orb.Point{points[0]}, path...), nil
}
