package verify

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// byLeft returns the indices of the edges ordered by their left ends.
func byLeft(es []edge) []int {
	order := make([]int, len(es))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(p, q int) int {
		return cmp.Compare(es[p].box.Min[0], es[q].box.Min[0])
	})
	return order
}

// crossing returns where two edges cross and how deep, 0 when they do not.
func crossing(e, f *edge) (orb.Point, float64) {
	if !boxesMeet(&e.box, &f.box) {
		return orb.Point{}, 0
	}
	if !e.arc && !f.arc {
		return crossingLines(e, f)
	}
	ps := crossingPoints(e, f)
	var at orb.Point
	deep := 0.0
	for i, p := range ps {
		way := endDist(p, e, f)
		if len(ps) == 2 {
			way = math.Min(way, dist(p, ps[1-i])/2)
		}
		if d := way * math.Abs(cross(e.heading(p), f.heading(p))); d > deep {
			at, deep = p, d
		}
	}
	return at, deep
}

// crossingLines decides exactly whether two lines cross in their insides.
func crossingLines(e, f *edge) (orb.Point, float64) {
	if geom.Orient(e.a, e.b, f.a)*geom.Orient(e.a, e.b, f.b) >= 0 ||
		geom.Orient(f.a, f.b, e.a)*geom.Orient(f.a, f.b, e.b) >= 0 {
		return orb.Point{}, 0
	}
	p := lineCross(e, f)
	return p, endDist(p, e, f) * math.Abs(cross(e.heading(p), f.heading(p)))
}

func endDist(p orb.Point, e, f *edge) float64 {
	return min(dist(p, e.a), dist(p, e.b), dist(p, f.a), dist(p, f.b))
}

// crossingPoints returns the common points of two edges of which one is an arc.
func crossingPoints(e, f *edge) []orb.Point {
	var ps []orb.Point
	switch {
	case e.arc && f.arc:
		ps = circleCross(e, f)
	case e.arc:
		ps = lineCircle(f, e)
	default:
		ps = lineCircle(e, f)
	}
	return slices.DeleteFunc(ps, func(p orb.Point) bool {
		return e.pointDist(p) > meetSlack || f.pointDist(p) > meetSlack
	})
}

// lineCircle returns where the line e crosses the circle of f.
func lineCircle(e, f *edge) []orb.Point {
	d, w := sub(e.b, e.a), sub(e.a, f.c)
	ts, ok := roots(dot(d, d), dot(w, d), (norm(w)-f.r)*(norm(w)+f.r))
	if !ok {
		return nil
	}
	var out []orb.Point
	for _, t := range ts {
		if t > 0 && t < 1 {
			out = append(out, orb.Point{e.a[0] + d[0]*t, e.a[1] + d[1]*t})
		}
	}
	return out
}

// heading returns the unit tangent of the edge at p.
func (e *edge) heading(p orb.Point) orb.Point {
	d := sub(e.b, e.a)
	if e.arc {
		w := sub(p, e.c)
		d = orb.Point{-w[1], w[0]}
	}
	n := norm(d)
	if n == 0 {
		return orb.Point{}
	}
	return orb.Point{d[0] / n, d[1] / n}
}
