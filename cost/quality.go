package cost

import "math"

// A Quality is the edge that a feed leaves at one depth of the stack.
type Quality struct {
	Index   float64 // grade index reached; higher is finer
	Grade   Grade   // the finest named grade it satisfies, 0 for none
	LagMM   float64 // how far the jet trails on a straight line
	TaperMM float64 // kerf narrower than at the top, both edges together
	ShiftMM float64 // one edge's departure from the top edge
}

// BottomQuality is the quality at the bottom of the stack's last layer. The error
// is that of [Setup.Check].
func BottomQuality(s Setup) (Quality, error) {
	return LayerQuality(s, s.Depth())
}

// LayerQuality is the quality at the bottom of a layer, counted from 1 at the top;
// a layer that is not there counts as the nearest. Layers above the last are finer,
// since the same feed cuts less depth there. The error is that of [Setup.Check].
func LayerQuality(s Setup, layer int) (Quality, error) {
	if err := s.Check(); err != nil {
		return Quality{}, err
	}
	s = s.filled()
	return s.qualityAt(s.speed().MMPerMin, s.depthMM(layer)), nil
}

// depthMM is the solid depth in mm down to the bottom of a layer, with the
// upper cover sheets.
func (s Setup) depthMM(layer int) float64 {
	upper := (s.covers() + 1) / 2
	layer = min(max(layer, 1), s.Depth())
	return float64(layer)*s.ThicknessMM + float64(upper)*s.Rates.CoverMM
}

func (s Setup) qualityAt(feed, depth float64) Quality {
	law := s.StackFactor() * s.lawSpeed(s.Grade.Index(), depth)
	q := s.Grade.Index() * math.Pow(law/feed, 1/s.gradeExponent())
	taper := s.taperScale() * TaperMM(q, depth)
	return Quality{Index: q, Grade: gradeReached(q), LagMM: LagLength(depth, q), TaperMM: taper, ShiftMM: taper / 2}
}

// gradeReached is the finest grade whose index is at most q, to within the
// rounding of the powers that q came through.
func gradeReached(q float64) Grade {
	const slack = 1e-9
	return Grade(min(math.Floor(q*(1+slack)), Fine.Index()))
}

// refuseQuality says why the bottom of a stack strays more than the order
// allows, or nil.
func refuseQuality(s Setup) *Refusal {
	if s.ToleranceMM <= 0 {
		return nil
	}
	shift := s.bottomShift()
	if shift <= s.ToleranceMM {
		return nil
	}
	return refuse(RefuseQuality, "%d layers of %s: the bottom edge would stray by about %.3f mm, the order allows %.3f mm: cut fewer layers or a finer grade",
		s.Depth(), s.Material.Name, shift, s.ToleranceMM)
}

// bottomShift is how far the edge strays at the bottom of the last layer, mm.
func (s Setup) bottomShift() float64 {
	return s.qualityAt(s.speed().MMPerMin, s.depthMM(s.Depth())).ShiftMM
}
