package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// A TurnedBox is a rectangle at any angle around a shape.
type TurnedBox struct {
	Width    float64 // mm, along AngleDeg
	Height   float64 // mm, across it
	AngleDeg float64 // direction of the width, [0, 180)
}

// MinWidth is the least distance in mm between two parallel lines that enclose
// the points, and the direction of those lines in degrees, [0, 180). It is the
// narrowest strip the points fit into. Fewer than three points that are not
// collinear have width 0.
func MinWidth(pts []orb.Point) (width, angleDeg float64) {
	best := TurnedBox{Height: math.Inf(1)}
	calipers(pts, func(b TurnedBox) {
		if b.Height < best.Height {
			best = b
		}
	})
	if math.IsInf(best.Height, 1) {
		return 0, lineAngle(pts)
	}
	return best.Height, best.AngleDeg
}

// MinAreaBox is the rectangle of least area around the points. One of its sides
// lies along an edge of their hull (Freeman & Shapira 1975, Determining the
// minimum-area encasing rectangle for an arbitrary closed curve).
func MinAreaBox(pts []orb.Point) TurnedBox {
	best, least := TurnedBox{}, math.Inf(1)
	calipers(pts, func(b TurnedBox) {
		if a := b.Width * b.Height; a < least {
			best, least = b, a
		}
	})
	if math.IsInf(least, 1) {
		hull := ConvexHull(pts)
		if len(hull) == 2 {
			best.Width = distance(hull[0], hull[1])
		}
		best.AngleDeg = lineAngle(pts)
	}
	return best
}

// calipers visits the box along every edge of the points' hull, turning two
// pairs of lines around it (Toussaint 1983, Solving geometric problems with the
// rotating calipers).
func calipers(pts []orb.Point, visit func(TurnedBox)) {
	h := ConvexHull(pts)
	n := len(h)
	if n < 3 {
		return
	}
	right, top, left := 1, 1, 1
	for i, a := range h {
		b := h[(i+1)%n]
		l := distance(a, b)
		u := orb.Point{(b[0] - a[0]) / l, (b[1] - a[1]) / l}
		v := orb.Point{-u[1], u[0]}
		right = climb(h, max(right, i+1), u)
		top = climb(h, max(top, right), v)
		left = climb(h, max(left, top), orb.Point{-u[0], -u[1]})
		visit(TurnedBox{
			Width:    along(h[right%n], u) - along(h[left%n], u),
			Height:   along(h[top%n], v) - along(a, v),
			AngleDeg: directionDeg(u),
		})
	}
}

// Diameter is the largest distance between two of the points.
func Diameter(pts []orb.Point) float64 {
	hull, most := ConvexHull(pts), 0.0
	for i, p := range hull {
		for _, q := range hull[:i] {
			most = math.Max(most, math.Hypot(p[0]-q[0], p[1]-q[1]))
		}
	}
	return most
}

// climb goes on along the hull while that leads farther in direction d.
func climb(h orb.Ring, i int, d orb.Point) int {
	n := len(h)
	for k := 0; k < n && along(h[(i+1)%n], d) > along(h[i%n], d); k++ {
		i++
	}
	return i
}

func along(p, d orb.Point) float64 { return p[0]*d[0] + p[1]*d[1] }

// directionDeg is a direction in degrees modulo 180.
func directionDeg(u orb.Point) float64 {
	deg := NormalDeg(math.Atan2(u[1], u[0]) * 180 / math.Pi)
	if deg >= 180 {
		deg -= 180
	}
	return deg
}

// lineAngle is the direction of points on one line, 0 for a single one.
func lineAngle(pts []orb.Point) float64 {
	h := ConvexHull(pts)
	if len(h) != 2 {
		return 0
	}
	return directionDeg(orb.Point{h[1][0] - h[0][0], h[1][1] - h[0][1]})
}
