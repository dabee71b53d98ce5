package route_test

import (
	"context"
	"testing"

	"kerfold/nest/route"
)

// largeLayout is a random layout of some 500 contours.
func largeLayout() route.Input {
	in := randomLayout(5)
	for seed := uint64(100); contours(in) < 500; seed++ {
		more := randomLayout(seed)
		w := in.Sheet.Bounds().Max[0]
		for _, p := range more.Pieces {
			p.Placement = len(in.Pieces)
			p.Shape = moved(p.Shape, w, 0)
			if in.Pieces = append(in.Pieces, p); contours(in) >= 500 {
				break
			}
		}
		in.Sheet = joined(in.Sheet, more.Sheet)
	}
	return in
}

func BenchmarkPlan500(b *testing.B)      { benchmarkPlan(b, 1) }
func BenchmarkPlan500Brief(b *testing.B) { benchmarkPlan(b, 0.001) }

func benchmarkPlan(b *testing.B, effort float64) {
	in, o := largeLayout(), route.Defaults(1.02, 6)
	o.Effort = effort
	b.ReportAllocs()
	var r route.Route
	for b.Loop() {
		r, _ = route.Plan(context.Background(), in, o)
	}
	b.ReportMetric(r.RapidMM, "rapid-mm")
	b.ReportMetric(float64(r.Crossings), "crossings")
}
