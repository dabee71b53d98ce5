package cost

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"kerfold/geom"
)

// Whatever the outline, the time is finite, not shorter than the feed allows,
// and not longer than stopping at every vertex.
func TestMotionOnOddOutlines(t *testing.T) {
	coordinate := rapid.OneOf(rapid.SampledFrom([]float64{0, 1e-9, 1, 1, 50}), rapid.Float64Range(-500, 500))
	bulge := rapid.OneOf(rapid.SampledFrom([]float64{0, 0, 0, 1, -1, 1e-12, 50}), rapid.Float64Range(-1, 1))
	vertex := rapid.Custom(func(t *rapid.T) geom.Vertex {
		return geom.Vertex{P: orb.Point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")}, Bulge: bulge.Draw(t, "bulge")}
	})
	m := thinMotion()
	m.Lag = nil
	rapid.Check(t, func(t *rapid.T) {
		c := geom.Contour(rapid.SliceOfN(vertex, 0, 30).Draw(t, "contour"))
		p := m.PathSeconds(Stroke{Contour: c})
		if math.IsNaN(p.Sec) || math.IsInf(p.Sec, 0) || p.Sec < p.LengthMM/(m.FeedMMPerMin/60)*(1-1e-9) {
			t.Fatalf("%+v", p)
		}
		stops := 0.0
		for _, s := range strokeSpans(Stroke{Contour: c}, mergeShare*m.DeviationMM) {
			top := math.Min(m.FeedMMPerMin/60, ArcSpeed(s.radius, m.AccelMMPerS2))
			stops += TrapezoidTime(s.mm, top, m.AccelMMPerS2)
		}
		// Spans of a polyline that stands for a curve may be held below the feed.
		if p.LagSec == 0 && p.Sec > stops*(1+1e-9) {
			t.Fatalf("%v s, stopping everywhere takes %v s", p.Sec, stops)
		}
	})
}

func TestLayoutTimeRefusesNaN(t *testing.T) {
	w := Work{Strokes: []Stroke{{Contour: geom.Contour{{P: orb.Point{0, 0}}, {P: orb.Point{math.NaN(), 1}}, {P: orb.Point{3, 3}}}}}}
	if got, err := LayoutTime(aluminiumJob(1), w); err == nil {
		t.Errorf("a contour without numbers takes %+v", got)
	}
	_, _, err1 := StackTable(aluminiumJob(1), w, 3, 1)
	_, err2 := EstimateRun(aluminiumJob(1), w, 1)
	_, err3 := StudyPart(PartJob{Setup: aluminiumJob(1), Part: w, PerSheet: 2, Quantity: 5})
	for i, err := range []error{err1, err2, err3} {
		if err == nil {
			t.Errorf("a contour without numbers passes %d", i)
		}
	}
	if _, err := LayoutTime(aluminiumJob(1), Work{RapidsMM: []float64{math.Inf(1)}}); err == nil {
		t.Error("an endless rapid move passes")
	}
	if got, err := LayoutTime(aluminiumJob(1), Work{}); err != nil || got.CutSec != 0 {
		t.Errorf("no work: %+v, %v", got, err)
	}
}
