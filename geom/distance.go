package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// BoundaryDistance is the least distance in mm from p to the polygon's rings.
func BoundaryDistance(p orb.Point, poly orb.Polygon) float64 {
	best := math.Inf(1)
	for _, r := range poly {
		for i, a := range r {
			best = min(best, squaredDistance(p, a, r[(i+1)%len(r)]))
		}
	}
	return math.Sqrt(best)
}

// distance is fit for coordinates whose squares are finite; [math.Hypot] costs
// several times as much.
func distance(a, b orb.Point) float64 { return math.Sqrt(distance2(a, b)) }

func distance2(a, b orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	return dx*dx + dy*dy
}

func pointSegmentDistance(p, a, b orb.Point) float64 { return math.Sqrt(squaredDistance(p, a, b)) }

// squaredDistance is the squared distance from p to the closed segment ab.
func squaredDistance(p, a, b orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	px, py := p[0]-a[0], p[1]-a[1]
	if len2 := dx*dx + dy*dy; len2 > 0 {
		s := min(1, max(0, (px*dx+py*dy)/len2))
		px, py = px-s*dx, py-s*dy
	}
	return px*px + py*py
}

// Distance is the least distance in mm between two polygons as closed regions:
// 0 when they touch, overlap or contain one another.
func Distance(a, b orb.Polygon) float64 { return NewIndex(a).Distance(NewIndex(b), orb.Point{}) }

// Distance is the function of that name for the polygon and b moved by shift.
func (ix *Index) Distance(b *Index, shift orb.Point) float64 {
	return ix.distanceBelow(b, shift, math.Inf(1))
}

// CloserThan reports whether b moved by shift comes nearer to the polygon than
// d mm. It stops looking as soon as it knows.
func (ix *Index) CloserThan(b *Index, shift orb.Point, d float64) bool {
	return ix.distanceBelow(b, shift, d) < d
}

// distanceBelow returns the distance, or the limit where it is not below.
func (ix *Index) distanceBelow(b *Index, shift orb.Point, limit float64) float64 {
	if len(ix.pts) == 0 || len(b.pts) == 0 {
		return limit
	}
	if ix.holdsRingOf(b, shift) || b.holdsRingOf(ix, orb.Point{-shift[0], -shift[1]}) {
		return 0
	}
	best := limit * limit
	for e, p := range b.pts {
		q := b.pts[b.next[e]]
		p, q := orb.Point{p[0] + shift[0], p[1] + shift[1]}, orb.Point{q[0] + shift[0], q[1] + shift[1]}
		best = ix.nearestEdge(p, q, best)
		if best == 0 {
			return 0
		}
	}
	if math.IsInf(best, 1) {
		return limit
	}
	return math.Sqrt(best)
}

// holdsRingOf reports whether the first vertex of b's outer ring lies in the
// polygon: where boundaries do not meet, that tells whether b does.
func (ix *Index) holdsRingOf(b *Index, shift orb.Point) bool {
	v := b.pts[0]
	return ix.Locate(orb.Point{v[0] + shift[0], v[1] + shift[1]}) != Outside
}

// nearestEdge lowers the squared distance best to that of the edge nearest to
// the segment pq; it is 0 where they meet.
func (ix *Index) nearestEdge(p, q orb.Point, best float64) float64 {
	ylo, yhi := min(p[1], q[1]), max(p[1], q[1])
	if boxGap2(p, q, ix.box.Min, ix.box.Max) >= best {
		return best
	}
	lo, hi := 0, ix.rows-1
	if reach := math.Sqrt(best); !math.IsInf(reach, 1) {
		lo, hi = ix.row(ylo-reach), ix.row(yhi+reach)
	}
	for r := lo; r <= hi; r++ {
		for _, f := range ix.inRow(r) {
			s, t := ix.pts[f], ix.pts[ix.next[f]]
			if gap := boxGap2(p, q, s, t); gap < best {
				best = min(best, segmentGap2(p, q, s, t))
			} else if gap == 0 && best == 0 {
				return 0
			}
		}
	}
	return best
}

// boxGap2 is the squared distance between the boxes of two segments.
func boxGap2(a, b, c, d orb.Point) float64 {
	sum := 0.0
	for k := range 2 {
		gap := max(0, min(c[k], d[k])-max(a[k], b[k]), min(a[k], b[k])-max(c[k], d[k]))
		sum += gap * gap
	}
	return sum
}

// segmentGap2 is the squared distance between two segments, 0 where they meet.
func segmentGap2(a, b, c, d orb.Point) float64 {
	if RelateSegments(a, b, c, d) != Disjoint {
		return 0
	}
	return min(squaredDistance(a, c, d), squaredDistance(b, c, d),
		squaredDistance(c, a, b), squaredDistance(d, a, b))
}
