package cost

import (
	"math"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// manyVertices is a closed wavy outline of about 1 m with n vertices, every
// tenth a true corner.
func manyVertices(n int) geom.Contour {
	c := make(geom.Contour, n)
	for i := range c {
		a := 2 * math.Pi * float64(i) / float64(n)
		r := 140 + 3*math.Sin(40*a)
		if i%10 == 0 {
			r += 0.2
		}
		c[i] = geom.Vertex{P: orb.Point{r * math.Cos(a), r * math.Sin(a)}}
	}
	return c
}

func thinMotion() Motion {
	s := aluminiumJob(4).filled()
	return s.motion(s.speed(), 0)
}

// 1 m of contour with 10,000 vertices is planned in under 5 ms. The best of
// several runs counts, since the machine may be busy with something else.
func TestMotionIsFast(t *testing.T) {
	k, m := Stroke{Contour: manyVertices(10000)}, thinMotion()
	best := time.Hour
	var p PathTime
	for range 20 {
		start := time.Now()
		p = m.PathSeconds(k)
		best = min(best, time.Since(start))
	}
	t.Logf("%.0f mm in %.1f s of cutting, planned in %v", p.LengthMM, p.Sec, best)
	if p.LengthMM < 900 || p.Sec <= 0 {
		t.Errorf("planned %+v", p)
	}
	if best > 5*time.Millisecond {
		t.Errorf("planning took %v", best)
	}
}

func BenchmarkPathSeconds(b *testing.B) {
	k, m := Stroke{Contour: manyVertices(10000)}, thinMotion()
	for b.Loop() {
		m.PathSeconds(k)
	}
}

func BenchmarkForecastStacks(b *testing.B) {
	s, w := aluminiumJob(1), plateWork()
	for b.Loop() {
		if _, _, err := ForecastStacks(s, w, 10, 30); err != nil {
			b.Fatal(err)
		}
	}
}
