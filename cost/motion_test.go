package cost

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

func TestTrapezoidChecks(t *testing.T) {
	runChecks(t, []check{
		{"long move", computed, TrapezoidTime(100, 50, 500), 100.0/50 + 50.0/500, 9},
		{"at the limit", computed, TrapezoidTime(5, 50, 500), 0.2, 9},
		{"short move", computed, TrapezoidTime(2, 50, 500), 2 * math.Sqrt(2.0/500), 9},
		{"no ramps", computed, TrapezoidTime(100, 50, math.Inf(1)), 2, 9},
		{"no move", computed, TrapezoidTime(0, 50, 500), 0, 9},
	})
}

func TestJunctionChecks(t *testing.T) {
	var cs []check
	for i, th := range []float64{90, 120, 150} {
		cs = append(cs, check{"junction mm/min", computed, JunctionSpeed(0.02, 500, th) * 60, []float64{295, 482, 1010}[i], 0})
	}
	runChecks(t, cs)
}

// A simulation drives a stroke by brute force, with none of the planner's code:
// the path is cut into short cells, every cell gets a speed limit from first
// principles, and a cart is stepped along in time, speeding up unless it must
// brake for some limit ahead.
type simulation struct {
	m       Motion
	x       []float64 // where a limit begins
	limit   []float64 // mm/s from there to the next one
	brake   []float64 // mm/s at x from which all limits ahead can be kept
	corners []simCorner
}

type simCorner struct{ x, limit, slow float64 }

type simEdge struct {
	length, radius, turn float64 // turn: signed sweep, 0 for a line
	start, end           float64 // headings, rad
}

func simEdges(k Stroke) []simEdge {
	var es []simEdge
	for i, v := range k.Contour {
		w := k.Contour[(i+1)%len(k.Contour)]
		d := math.Hypot(w.P[0]-v.P[0], w.P[1]-v.P[1])
		heading := math.Atan2(w.P[1]-v.P[1], w.P[0]-v.P[0])
		e := simEdge{length: d, radius: math.Inf(1), start: heading, end: heading}
		if v.Bulge != 0 {
			e.turn = 4 * math.Atan(v.Bulge)
			e.radius = d / 2 / math.Abs(math.Sin(e.turn/2))
			e.length = e.radius * math.Abs(e.turn)
			e.start, e.end = heading-e.turn/2, heading+e.turn/2
		}
		es = append(es, e)
	}
	return es
}

// simLag is the jet-lag rule written out anew.
func (s *simulation) simLag(q float64) float64 {
	l := s.m.Lag
	return l.LawMMPerMin / 60 * math.Pow(l.Index/math.Max(l.Index, q), l.Exponent)
}

func newSimulation(m Motion, k Stroke, step float64) *simulation {
	s := &simulation{m: m}
	es := simEdges(k)
	feed := m.FeedMMPerMin / 60
	l := m.Lag
	x := 0.0
	curve := make([]float64, len(es)+1) // curve feed at joints; +Inf when a true corner
	for i := range curve {
		curve[i] = math.Inf(1)
	}
	for i := 1; i < len(es); i++ {
		x += es[i-1].length
		tau := math.Abs(math.Remainder(es[i].start-es[i-1].end, 2*math.Pi))
		if tau < 1e-7 {
			continue
		}
		theta := math.Pi - tau
		rDev := m.DeviationMM * math.Sin(theta/2) / (1 - math.Sin(theta/2))
		rTouch := math.Min(es[i].length, es[i-1].length) / 2 * math.Tan(theta/2)
		c := simCorner{x: x, limit: math.Sqrt(m.AccelMMPerS2 * math.Min(rDev, rTouch)), slow: math.Inf(1)}
		if rTouch <= rDev {
			curve[i] = s.simLag(0.182 * l.ThicknessMM / math.Sqrt((rTouch+l.ErrorMM)*(rTouch+l.ErrorMM)-rTouch*rTouch))
			c.limit = math.Min(c.limit, curve[i])
		} else if q := 0.182 * l.ThicknessMM / (2 * l.ErrorMM / math.Cos(theta/2)); q > l.Index {
			c.slow = s.simLag(q)
		}
		s.corners = append(s.corners, c)
	}
	x = 0
	lag := 0.182 * l.ThicknessMM / l.Index
	for i, e := range es {
		top := feed
		if e.turn != 0 {
			r := e.radius
			top = math.Min(top, math.Sqrt(m.AccelMMPerS2*r))
			top = math.Min(top, s.simLag(0.182*l.ThicknessMM/math.Sqrt((r+l.ErrorMM)*(r+l.ErrorMM)-r*r)))
		} else {
			top = math.Min(top, math.Max(curve[i], curve[i+1]))
		}
		n := int(e.length/step) + 1
		for j := range n {
			at := x + e.length*(float64(j)+0.5)/float64(n)
			v := top
			for _, c := range s.corners {
				if math.Abs(at-c.x) < lag {
					v = math.Min(v, c.slow)
				}
			}
			s.x, s.limit = append(s.x, x+e.length*float64(j)/float64(n)), append(s.limit, v)
		}
		x += e.length
	}
	s.x, s.limit = append(s.x, x), append(s.limit, 0)
	s.braking()
	return s
}

// braking looks, from every cell, at every limit within reach ahead.
func (s *simulation) braking() {
	a, feed := s.m.AccelMMPerS2, s.m.FeedMMPerMin/60
	at := append([]float64{}, s.limit...)
	for _, c := range s.corners {
		for i, x := range s.x {
			if math.Abs(x-c.x) < 1e-9 {
				at[i] = math.Min(at[i], c.limit)
			}
		}
	}
	s.brake = make([]float64, len(s.x))
	for i := range s.x {
		v := feed
		for j := i; j < len(s.x) && s.x[j]-s.x[i] <= feed*feed/(2*a); j++ {
			v = math.Min(v, math.Sqrt(at[j]*at[j]+2*a*(s.x[j]-s.x[i])))
		}
		s.brake[i] = v
	}
}

// run steps the cart along and returns when it arrives.
func (s *simulation) run(dt float64) float64 {
	a, end := s.m.AccelMMPerS2, s.x[len(s.x)-1]
	pos, v, t, cell := 0.0, 0.0, 0.0, 0
	for pos < end-1e-6 {
		for s.x[cell+1] <= pos {
			cell++
		}
		room := s.x[cell+1] - pos
		next := math.Min(v+a*dt, s.limit[cell])
		next = math.Min(next, math.Sqrt(s.brake[cell+1]*s.brake[cell+1]+2*a*room))
		next = math.Max(next, 1e-3)
		pos += (v + next) / 2 * dt
		v = next
		t += dt
	}
	return t
}

// randomContour is a closed outline of lines and arcs about a circle, with
// sharp corners, small arcs and finely divided stretches mixed.
func randomContour(r *rand.Rand) geom.Contour {
	n := 4 + r.IntN(12)
	size := 3 + 40*r.Float64()
	var c geom.Contour
	for i := range n {
		a := (float64(i) + 0.5*r.Float64()) / float64(n) * 2 * math.Pi
		d := size * (0.4 + 0.6*r.Float64())
		v := geom.Vertex{P: orb.Point{d * math.Cos(a), d * math.Sin(a)}}
		if r.IntN(3) == 0 {
			v.Bulge = 1.6*r.Float64() - 0.8
		}
		c = append(c, v)
		if r.IntN(5) == 0 { // a stretch of short chords, as from a spline
			for j := range 8 {
				b := a + 0.02*float64(j+1)/float64(n)*2*math.Pi
				c[len(c)-1].Bulge = 0
				c = append(c, geom.Vertex{P: orb.Point{d * math.Cos(b), d * math.Sin(b)}})
			}
		}
	}
	return c
}

func TestMotionAgainstSimulation(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 5))
	worst := 0.0
	for i := range 100 {
		feed := 300 + 4000*r.Float64()
		m := Motion{
			FeedMMPerMin: feed, AccelMMPerS2: 200 + 1500*r.Float64(), DeviationMM: 0.01 + 0.05*r.Float64(),
			Lag: &Lag{ThicknessMM: 1 + 20*r.Float64(), Index: float64(1 + r.IntN(5)), ErrorMM: 0.05 + 0.1*r.Float64(), LawMMPerMin: feed * (1 + r.Float64()), Exponent: ExpOuter},
		}
		k := Stroke{Contour: randomContour(r)}
		got := m.PathSeconds(k).Sec
		want := newSimulation(m, k, 0.02).run(1e-4)
		e := math.Abs(got/want - 1)
		worst = math.Max(worst, e)
		if e > 0.01 {
			t.Errorf("contour %d: planner %.4f s, simulation %.4f s", i, got, want)
		}
	}
	t.Logf("worst departure %.3f %%", 100*worst)
}
