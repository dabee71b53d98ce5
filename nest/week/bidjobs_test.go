package week

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest/shop"
)

// inventedJob is a job of one group that nobody has seen: some kinds of parts,
// sheets of one or two sizes, sometimes a remnant.
func inventedJob(seed uint64) *shop.Job {
	r := rand.New(rand.NewPCG(seed, 77))
	job := shop.DemoJob()
	job.Days = []time.Time{time.Date(2030, 3, 4, 0, 0, 0, 0, time.UTC)}
	kinds := []struct {
		name string
		mm   []float64
	}{
		{"mild steel", []float64{3, 6, 12}},
		{"aluminium 6061", []float64{1, 2, 4}},
		{"stainless 304", []float64{2, 8}},
		{"gasket rubber", []float64{1.5, 3}},
		{"polyethylene foam", []float64{10, 25}},
	}
	kind := kinds[r.IntN(len(kinds))]
	mm := kind.mm[r.IntN(len(kind.mm))]
	sizes := [][2]float64{{1000, 500}, {1000, 1000}, {1250, 1000}, {1500, 1000}, {2000, 1000}, {1500, 3000}}
	size := sizes[r.IntN(len(sizes))]
	price := size[0] * size[1] * 1e-6 * (8 + 90*r.Float64())
	add := func(id string, x, y float64, count int, remnant bool) {
		s := shop.SheetByHand(id, kind.name, mm, x, y, price*x*y/(size[0]*size[1]))
		s.Count, s.Remnant = count, remnant
		job.Stock = append(job.Stock, s)
	}
	add("A", size[0], size[1], 60, false)
	if r.IntN(3) == 0 {
		other := sizes[r.IntN(len(sizes))]
		add("B", other[0], other[1], 60, false)
	}
	if r.IntN(3) == 0 {
		add("R", math.Round(size[0]*(0.3+0.6*r.Float64())), math.Round(size[1]*(0.4+0.5*r.Float64())), 1, true)
	}
	n := 1 + r.IntN(6)
	need := size[0] * size[1] * math.Exp(math.Log(0.4)+r.Float64()*math.Log(15))
	for i := range n {
		shape := inventedShape(r, math.Min(size[0], size[1])*0.6)
		q := max(1, int(math.Round(need/float64(n)/shape.Area()*(0.5+r.Float64()))))
		grade := cost.Medium
		job.Orders = append(job.Orders, shop.OrderByHand(fmt.Sprintf("P%d", i+1), shape, min(q, 400), kind.name, mm, grade))
	}
	return job
}

// inventedShape is a rectangle, a disc, a ring, an angle or a wedge, some with
// holes, of up to most mm.
func inventedShape(r *rand.Rand, most float64) geom.Shape {
	a := 40 * math.Exp(r.Float64()*math.Log(most/40))
	b := a * (0.3 + 0.7*r.Float64())
	a, b = math.Round(a), math.Round(math.Max(b, 20))
	pts := func(p ...orb.Point) geom.Shape {
		var c geom.Contour
		for _, q := range p {
			c = append(c, geom.Vertex{P: q})
		}
		return geom.Shape{Outer: c}
	}
	switch r.IntN(6) {
	case 0:
		return geom.Shape{Outer: geom.CircleContour(orb.Point{a / 2, a / 2}, a/2)}
	case 1:
		return geom.Shape{
			Outer: geom.CircleContour(orb.Point{a / 2, a / 2}, a/2),
			Holes: []geom.Contour{geom.CircleContour(orb.Point{a / 2, a / 2}, a*(0.2+0.15*r.Float64())).Reverse()},
		}
	case 2:
		w := math.Round(b * (0.25 + 0.35*r.Float64()))
		return pts(orb.Point{0, 0}, orb.Point{a, 0}, orb.Point{a, w}, orb.Point{w, w}, orb.Point{w, b}, orb.Point{0, b})
	case 3:
		return pts(orb.Point{0, 0}, orb.Point{a, 0}, orb.Point{math.Round(a * r.Float64()), b})
	case 4:
		s := geom.Shape{Outer: geom.RectContour(0, 0, a, b)}
		s.Holes = append(s.Holes, geom.CircleContour(orb.Point{a / 2, b / 2}, b*0.2).Reverse())
		return s
	}
	return geom.Shape{Outer: geom.RectContour(0, 0, a, b)}
}
