package nest

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// wavy is a round part with lobes, sampled at n corners: the same shape with more
// corners the larger n is.
func wavy(n int, r float64, lobes int) orb.Polygon {
	ring := make(orb.Ring, n)
	for i := range ring {
		a := 2 * math.Pi * float64(i) / float64(n)
		sin, cos := math.Sincos(a)
		d := r * (1 + 0.25*math.Cos(float64(lobes)*a) + 0.08*math.Sin(float64(2*lobes+1)*a))
		ring[i] = geom.SnapPoint(orb.Point{d * cos, d * sin})
	}
	return orb.Polygon{ring}
}

// verticesProblem is 36 parts of six kinds of n corners each on a strip.
func verticesProblem(n int) Problem {
	p := Problem{StripWidth: 400, Spacing: 2, Margin: 3}
	for k := range 6 {
		p.Parts = append(p.Parts, Part{ID: fmt.Sprint(k), Outline: wavy(n, 30+6*float64(k), 3+k%4), Quantity: 6, Angles: quarterTurns})
	}
	return p
}

// BenchmarkSeparateVertices tells the time per move at 50 and at 1,000 corners,
// the working out of tables included.
func BenchmarkSeparateVertices(b *testing.B) {
	for _, n := range []int{50, 200, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p := verticesProblem(n)
			start, err := BottomLeft(b.Context(), p, nil, Options{})
			if err != nil {
				b.Fatal(err)
			}
			moves := int64(0)
			for b.Loop() {
				r, err := Separate(b.Context(), p, start, Options{Seed: 1, Effort: 2})
				if err != nil {
					b.Fatal(err)
				}
				moves += r.Stats.Moves
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(moves), "ns/move")
			b.ReportMetric(float64(moves)/float64(b.N), "moves")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// BenchmarkPlaceVertices tells the time per placement of bottom-left.
func BenchmarkPlaceVertices(b *testing.B) {
	for _, n := range []int{50, 200, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p := verticesProblem(n)
			pre := mustPrepare(b, p)
			fits := newFits(pre, nil)
			genes := orderBy(pre, demandOf(p, pre.kinds), byArea)
			placeInOrder(b.Context(), pre, fits, genes) // works the pairs out
			for b.Loop() {
				placeInOrder(b.Context(), pre, fits, genes)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(genes)), "ns/placement")
			b.ReportMetric(0, "ns/op")
		})
	}
}
