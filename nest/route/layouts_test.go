package route_test

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/route"
)

// A kit of part shapes for random layouts, about 100 mm large.
func shapes() []geom.Shape {
	disc := geom.CircleContour(orb.Point{}, 45)
	ring := geom.Shape{Outer: disc, Holes: []geom.Contour{geom.CircleContour(orb.Point{}, 28)}}
	flange := geom.Shape{Outer: disc, Holes: []geom.Contour{geom.CircleContour(orb.Point{}, 18)}}
	for i := range 6 {
		s, c := math.Sincos(float64(i) * math.Pi / 3)
		flange.Holes = append(flange.Holes, geom.CircleContour(orb.Point{32 * c, 32 * s}, 4))
	}
	plate := geom.Shape{Outer: geom.RectContour(-45, -30, 45, 30), Holes: []geom.Contour{
		geom.CircleContour(orb.Point{-35, -20}, 3), geom.CircleContour(orb.Point{35, 20}, 3),
		geom.RectContour(-10, -5, 25, 12),
	}}
	slot := geom.Shape{Outer: geom.Contour{
		{P: orb.Point{-30, -12}}, {P: orb.Point{30, -12}, Bulge: 1}, {P: orb.Point{30, 12}}, {P: orb.Point{-30, 12}, Bulge: 1},
	}}
	ell := geom.Shape{Outer: geom.PolygonContour(
		orb.Point{-40, -40}, orb.Point{40, -40}, orb.Point{40, -20}, orb.Point{-18, -20}, orb.Point{-18, 40}, orb.Point{-40, 40})}
	tri := geom.Shape{Outer: geom.PolygonContour(orb.Point{-40, -25}, orb.Point{40, -25}, orb.Point{0, 45})}
	small := geom.Shape{Outer: geom.RectContour(-9, -6, 9, 6), Holes: []geom.Contour{geom.CircleContour(orb.Point{}, 2)}}
	return []geom.Shape{{Outer: disc}, ring, flange, plate, slot, ell, tri, small}
}

// randomLayout lays shapes out at random on a sheet, at least gap apart, by
// their bounding circles or, when tight, as close as their boxes allow. Some
// rings get a small part into their hole.
func randomLayout(seed uint64) route.Input {
	rng := rand.New(rand.NewPCG(seed, 7))
	gap := []float64{2, 3, 5, 10}[rng.IntN(4)]
	w, h := 500+rng.Float64()*800, 350+rng.Float64()*450
	in := route.Input{Sheet: geom.RectContour(0, 0, w, h)}
	kinds := shapes()
	y := gap + 5
	for y < h {
		x, tallest := gap+5, 0.0
		for x < w {
			k := rng.IntN(len(kinds))
			s := kinds[k].Transform(geom.Pose{AngleDeg: float64(rng.IntN(24)) * 15, Mirror: rng.IntN(2) == 1})
			b := s.Bounds()
			dx, dy := x-b.Min[0], y-b.Min[1]
			if x+b.Max[0]-b.Min[0] > w-5 || y+b.Max[1]-b.Min[1] > h-5 {
				break
			}
			add(&in, k, s.Transform(geom.Pose{X: dx, Y: dy}))
			if k == 1 && rng.IntN(2) == 0 {
				add(&in, 7, kinds[7].Transform(geom.Pose{X: dx, Y: dy, AngleDeg: rng.Float64() * 360}))
			}
			x += b.Max[0] - b.Min[0] + gap
			tallest = math.Max(tallest, b.Max[1]-b.Min[1])
		}
		if tallest == 0 {
			break
		}
		y += tallest + gap
	}
	return in
}

func add(in *route.Input, kind int, s geom.Shape) {
	in.Pieces = append(in.Pieces, route.Piece{
		Placement: len(in.Pieces), Name: string(rune('A' + kind)), Shape: s,
	})
}

func contours(in route.Input) int {
	n := 0
	for _, p := range in.Pieces {
		n += 1 + len(p.Shape.Holes)
	}
	return n
}

func moved(s geom.Shape, dx, dy float64) geom.Shape {
	return s.Transform(geom.Pose{X: dx, Y: dy})
}

// joined is a sheet as long as both and as wide as the wider.
func joined(a, b geom.Contour) geom.Contour {
	p, q := a.Bounds(), b.Bounds()
	return geom.RectContour(0, 0, p.Max[0]+q.Max[0], math.Max(p.Max[1], q.Max[1]))
}
