package route

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// A LeadStyle is the form of a lead.
type LeadStyle int

const (
	// LineLead runs straight onto the contour.
	LineLead LeadStyle = iota
	// ArcLead is a quarter circle that meets the contour tangentially.
	ArcLead
)

// Options says how the machine cuts.
type Options struct {
	// KerfMM is the width of the slot the jet leaves.
	KerfMM float64
	// PierceMM is the radius of the hole a pierce leaves.
	PierceMM float64
	// LeadMM is the wanted length of a lead-in, LeadOutMM of a lead-out (0 for
	// none). A lead that finds no room is shortened, down to MinLeadMM, or to
	// what keeps the pierce hole off the part where that is more.
	LeadMM, LeadOutMM, MinLeadMM float64
	Style                        LeadStyle
	// A hole counts as small, and is cut before the part's other holes, up to a
	// size (length of its contour over π, the diameter of a round one) of SmallMM
	// or of ThicknessMM, the height of the stack, whichever is more.
	ThicknessMM, SmallMM float64
	// EdgeMM is the web that a pierce hole's rim leaves to the sheet's edge and to
	// blocked zones where there is room for it. Leads and pierces may lie in the
	// margin that parts keep.
	EdgeMM float64
	// TabMM, where positive, is the width of the web that is left at the end of
	// the outline of parts whose size is at most TabBelowMM, so that they stay in
	// the sheet. The jet stops short by a kerf more, half of it at either end.
	TabMM, TabBelowMM float64
	// Sever asks for the cuts that part the remnant from the rest of the sheet.
	Sever bool
	// Start is where the head stands before the first pierce.
	Start orb.Point
	// Effort scales the work spent on the order; 0 means 1.
	Effort float64
}

// Defaults returns common-practice options for a mixing tube of bore dm and
// stack thickness h, both in mm: kerf 1.05 dm, pierce hole 1.75 dm across,
// lead-in max(3 mm, 0.3 h), a web of 2 mm between a pierce hole and the sheet's
// edge (from memory, unverified; set your own). There are no tabs and no
// severing cuts.
func Defaults(dm, h float64) Options {
	return Options{
		KerfMM:      1.05 * dm,
		PierceMM:    1.75 * dm / 2,
		LeadMM:      math.Max(3, 0.3*h),
		LeadOutMM:   math.Max(1, 0.1*h),
		MinLeadMM:   1.75 * dm / 2,
		Style:       LineLead,
		ThicknessMM: h,
		SmallMM:     math.Max(10, h),
		EdgeMM:      DefaultEdgeMM,
	}
}

// DefaultEdgeMM is the web between a pierce hole and the sheet's edge where none
// is asked for: as much as parts keep from each other at least (from memory,
// unverified). A sheet lies no truer than that on the table.
const DefaultEdgeMM = 2

// Validate names the first option that makes no sense.
func (o Options) Validate() error {
	for _, f := range []struct {
		name string
		v    float64
	}{
		{"kerf", o.KerfMM},
		{"pierce radius", o.PierceMM},
		{"lead-in", o.LeadMM},
		{"lead-out", o.LeadOutMM},
		{"shortest lead", o.MinLeadMM},
		{"thickness", o.ThicknessMM},
		{"small size", o.SmallMM},
		{"web to the edge", o.EdgeMM},
		{"tab", o.TabMM},
		{"tab size limit", o.TabBelowMM},
		{"effort", o.Effort},
	} {
		if !(f.v >= 0) || math.IsInf(f.v, 0) {
			return fmt.Errorf("%s is %v; give a finite number, 0 or more", f.name, f.v)
		}
	}
	if !finite(o.Start) {
		return errors.New("start point is not finite; give x and y in mm")
	}
	return nil
}

func finite(p orb.Point) bool {
	return !math.IsNaN(p[0]+p[1]) && !math.IsInf(p[0]+p[1], 0)
}
