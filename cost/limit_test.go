package cost

import (
	"math"
	"testing"
)

// What each bound adds to the cutting time is found by taking the others away:
// without ramps only the slowing for the edge is left, and an edge that may
// stray as it likes needs none.
func TestTimeSplitByTakingBoundsAway(t *testing.T) {
	for _, layers := range []int{1, 3, 8} {
		s := aluminiumJob(layers)
		s.Grade = Fine
		full := timeOf(t, s, smallPart())
		eager, loose := s, s
		eager.Machine.AccelMMPerS2 = math.Inf(1)
		loose.ToleranceMM = 50
		still := timeOf(t, eager, smallPart())
		near(t, "slowing for the edge", full.StraightSec()+full.LagSec, still.CutSec, 1e-9)
		near(t, "acceleration", full.AccelSec(), full.CutSec-still.CutSec, 1e-9)
		if got := timeOf(t, loose, smallPart()); got.LagSec > 1e-9*got.CutSec {
			t.Errorf("%d layers: %v s for an edge that may stray 50 mm", layers, got.LagSec)
		}
		near(t, "sum", full.LawSec+full.CapSec+full.LagSec+full.AccelSec(), full.CutSec, 1e-9)
	}
}

// The pull in a bend is the acceleration's doing, not the edge's.
func TestPullInBendsIsAcceleration(t *testing.T) {
	s := aluminiumJob(1)
	s.ToleranceMM, s.Machine.AccelMMPerS2 = 5, 20
	w := Work{Strokes: []Stroke{{Contour: circle(0, 0, 4), Times: 9}}}
	if got := timeOf(t, s, w); got.LagSec != 0 || got.Limit() != LimitMotion {
		t.Errorf("a circle at a slow acceleration: %+v is bounded by %s", got, got.Limit())
	}
}

// A longLine is cut with few starts: neither bends nor acceleration matter.
func longLine() Work { return Work{Strokes: []Stroke{straight(5000)}} }

func TestWhatBinds(t *testing.T) {
	for _, c := range []struct {
		name   string
		layers int
		set    func(*Setup)
		w      Work
		want   Limit
	}{
		{"a thin small part on a slow machine", 1, func(s *Setup) { s.ThicknessMM, s.Machine.AccelMMPerS2 = 0.5, 60 }, smallPart(), LimitMotion},
		{"a thick stack of the same", 10, func(s *Setup) { s.Grade = Fine }, smallPart(), LimitBends},
		{"a thick stack along a line", 10, func(s *Setup) { s.Grade = Fine }, longLine(), LimitLaw},
		{"a thin sheet along a line", 1, func(s *Setup) { s.ThicknessMM = 0.5 }, longLine(), LimitMachine},
		{"a sheet that bears less", 1, func(s *Setup) { s.ThicknessMM, s.Material.FeedCapMMPerMin.Value = 0.5, 900 }, longLine(), LimitMaterial},
	} {
		s := aluminiumJob(1)
		c.set(&s)
		table, _, err := StackTable(s, c.w, c.layers, 0)
		if err != nil {
			t.Fatal(err)
		}
		row := table[c.layers-1]
		if row.Limit != c.want {
			t.Errorf("%s: bounded by %s, want %s: %+v", c.name, row.Limit, c.want, row.Full)
		}
		if share := row.Full.LimitShare(); share <= 1.0/3 || share > 1 {
			t.Errorf("%s: %s takes %v of the cut", c.name, row.Limit, share)
		}
		study, err := StudyPart(PartJob{Setup: s, Part: c.w, PerSheet: 1, Quantity: c.layers})
		if err != nil {
			t.Fatal(err)
		}
		if d := study.Depths[c.layers-1]; d.Limit != row.Limit || math.Abs(d.LimitShare-row.Full.LimitShare()) > 1e-12 {
			t.Errorf("%s: the study says %s, %v", c.name, d.Limit, d.LimitShare)
		}
	}
}

// A curve given as many short lines is bounded by what bounds the curve.
func TestPolylinesBindAsTheirCurves(t *testing.T) {
	s := aluminiumJob(8)
	s.Grade = Fine
	curve := timeOf(t, s, Work{Strokes: []Stroke{{Contour: circle(0, 0, 2)}}})
	lines := timeOf(t, s, Work{Strokes: []Stroke{{Contour: facets(720, 2)}}})
	near(t, "slowing for the edge", lines.LagSec, curve.LagSec, 0.02)
	if curve.Limit() != lines.Limit() {
		t.Errorf("bounded by %s as arcs, by %s as lines", curve.Limit(), lines.Limit())
	}
}

func timeOf(t *testing.T, s Setup, w Work) Time {
	t.Helper()
	got, err := LayoutTime(s, w)
	if err != nil {
		t.Fatal(err)
	}
	return got
}
