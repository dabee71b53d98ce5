package nest

import (
	"math"

	"github.com/paulmach/orb"
)

// sepPieces cuts a polygon with holes into convex pieces: ears first, then
// pieces merged across their shared diagonals while they stay convex (Hertel
// and Mehlhorn 1983).
func sepPieces(poly orb.Polygon) []orb.Ring {
	ring := sepBridge(poly)
	return sepMerge(sepEars(ring))
}

// sepOpen returns the ring without its closing point, without repeats, and
// turned the way asked for.
func sepOpen(ring orb.Ring, ccw bool) orb.Ring {
	var out orb.Ring
	for _, p := range ring {
		if len(out) == 0 || out[len(out)-1] != p {
			out = append(out, p)
		}
	}
	for len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	if (ringArea(out) > 0) != ccw {
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	return out
}

func sepCross(o, a, b orb.Point) float64 {
	return (a[0]-o[0])*(b[1]-o[1]) - (a[1]-o[1])*(b[0]-o[0])
}

// sepBridge joins the holes to the outer ring by double edges, rightmost hole
// first (Eberly's account of the usual method).
func sepBridge(poly orb.Polygon) orb.Ring {
	outer := sepOpen(poly[0], true)
	var holes []orb.Ring
	for _, h := range poly[1:] {
		holes = append(holes, sepOpen(h, false))
	}
	for len(holes) > 0 {
		best, at := 0, 0
		for h, ring := range holes {
			for i, p := range ring {
				q := holes[best][at]
				if p[0] > q[0] || (p[0] == q[0] && p[1] > q[1]) {
					best, at = h, i
				}
			}
		}
		outer = sepJoin(outer, holes[best], at)
		holes = append(holes[:best], holes[best+1:]...)
	}
	return outer
}

func sepJoin(outer, hole orb.Ring, at int) orb.Ring {
	v := sepVisible(outer, hole[at])
	out := append(orb.Ring{}, outer[:v+1]...)
	out = append(out, hole[at:]...)
	out = append(out, hole[:at+1]...)
	return append(out, outer[v:]...)
}

// sepVisible returns the index of a vertex of the ring that sees m, which lies
// inside it and left of nothing that is not yet joined.
func sepVisible(ring orb.Ring, m orb.Point) int {
	bestX, edge := math.Inf(1), -1
	for i := range ring {
		a, b := ring[i], ring[(i+1)%len(ring)]
		if a[1] > m[1] || b[1] < m[1] || a[1] == b[1] {
			continue
		}
		x := a[0] + (m[1]-a[1])*(b[0]-a[0])/(b[1]-a[1])
		if x >= m[0] && x < bestX {
			bestX, edge = x, i
		}
	}
	if edge < 0 {
		return sepNearestVertex(ring, m)
	}
	v := edge
	if n := (edge + 1) % len(ring); ring[n][0] > ring[edge][0] {
		v = n
	}
	return sepReflexInside(ring, m, orb.Point{bestX, m[1]}, v)
}

func sepNearestVertex(ring orb.Ring, m orb.Point) int {
	best, at := math.Inf(1), 0
	for i, p := range ring {
		if d := math.Hypot(p[0]-m[0], p[1]-m[1]); d < best {
			best, at = d, i
		}
	}
	return at
}

// sepReflexInside returns v, or the reflex vertex inside the triangle m, hit,
// ring[v] that lies at the smallest angle to the ray.
func sepReflexInside(ring orb.Ring, m, hit orb.Point, v int) int {
	best, bestTan, bestDist := v, math.Inf(1), math.Inf(1)
	a, b, c := m, hit, ring[v]
	if sepCross(a, b, c) < 0 {
		b, c = c, b
	}
	for i, p := range ring {
		if p[0] < m[0] || p == ring[v] && i != v && best == v && bestTan == math.Inf(1) {
			continue
		}
		if sepCross(a, b, p) < 0 || sepCross(b, c, p) < 0 || sepCross(c, a, p) < 0 {
			continue
		}
		if i != v && !sepReflex(ring, i) {
			continue
		}
		tan := math.Abs(p[1]-m[1]) / math.Max(p[0]-m[0], 1e-300)
		dist := p[0] - m[0]
		if tan < bestTan || (tan == bestTan && dist < bestDist) {
			best, bestTan, bestDist = i, tan, dist
		}
	}
	return best
}

func sepReflex(ring orb.Ring, i int) bool {
	n := len(ring)
	return sepCross(ring[(i+n-1)%n], ring[i], ring[(i+1)%n]) <= 0
}

// sepEars cuts a weakly simple ring into triangles.
func sepEars(ring orb.Ring) []orb.Ring {
	left := append(orb.Ring{}, ring...)
	var out []orb.Ring
	for len(left) > 3 {
		i := sepBestEar(left)
		n := len(left)
		a, b, c := left[(i+n-1)%n], left[i], left[(i+1)%n]
		if sepCross(a, b, c) > 0 {
			out = append(out, orb.Ring{a, b, c})
		}
		left = append(left[:i], left[i+1:]...)
	}
	if len(left) == 3 && sepCross(left[0], left[1], left[2]) > 0 {
		out = append(out, left)
	}
	return out
}

// sepBestEar picks the ear with the largest smallest angle, so that slivers
// are rare; a ring with no proper ear gives up its flattest vertex.
func sepBestEar(ring orb.Ring) int {
	best, quality := -1, -1.0
	flat, flatness := 0, math.Inf(1)
	n := len(ring)
	for i := range ring {
		a, b, c := ring[(i+n-1)%n], ring[i], ring[(i+1)%n]
		cross := sepCross(a, b, c)
		if math.Abs(cross) < flatness {
			flat, flatness = i, math.Abs(cross)
		}
		if cross <= 0 || !sepIsEar(ring, i) {
			continue
		}
		if q := sepTriangleQuality(a, b, c); q > quality {
			best, quality = i, q
		}
	}
	if best < 0 {
		return flat
	}
	return best
}

func sepIsEar(ring orb.Ring, i int) bool {
	n := len(ring)
	a, b, c := ring[(i+n-1)%n], ring[i], ring[(i+1)%n]
	for _, p := range ring {
		if p == a || p == b || p == c {
			continue
		}
		if sepCross(a, b, p) >= 0 && sepCross(b, c, p) >= 0 && sepCross(c, a, p) >= 0 {
			return false
		}
	}
	return true
}

func sepTriangleQuality(a, b, c orb.Point) float64 {
	longest := 0.0
	for _, e := range [3][2]orb.Point{{a, b}, {b, c}, {c, a}} {
		longest = max(longest, math.Hypot(e[1][0]-e[0][0], e[1][1]-e[0][1]))
	}
	return sepCross(a, b, c) / (longest * longest)
}

// sepMerge joins convex pieces across shared edges while the union is convex.
func sepMerge(pieces []orb.Ring) []orb.Ring {
	for {
		merged := false
		for i := 0; i < len(pieces) && !merged; i++ {
			for j := i + 1; j < len(pieces); j++ {
				if u := sepUnion(pieces[i], pieces[j]); u != nil {
					pieces[i] = u
					pieces = append(pieces[:j], pieces[j+1:]...)
					merged = true
					break
				}
			}
		}
		if !merged {
			return pieces
		}
	}
}

// sepUnion returns the union of two convex rings that share an edge when it is
// convex, else nil.
func sepUnion(a, b orb.Ring) orb.Ring {
	for i := range a {
		p, q := a[i], a[(i+1)%len(a)]
		for j := range b {
			if b[j] != q || b[(j+1)%len(b)] != p {
				continue
			}
			u := sepStitch(a, b, i, j)
			if sepConvex(u) {
				return u
			}
			return nil
		}
	}
	return nil
}

func sepStitch(a, b orb.Ring, i, j int) orb.Ring {
	var u orb.Ring
	for k := range a {
		u = append(u, a[(i+1+k)%len(a)])
	}
	for k := 2; k < len(b); k++ {
		u = append(u, b[(j+k)%len(b)])
	}
	return u
}

func sepConvex(r orb.Ring) bool {
	n := len(r)
	for i := range r {
		if sepCross(r[i], r[(i+1)%n], r[(i+2)%n]) < 0 {
			return false
		}
	}
	return true
}
