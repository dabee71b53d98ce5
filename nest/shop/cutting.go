package shop

import "math"

// Cutting is what a job asks of the way its layouts are cut. The zero value asks
// for no tabs.
type Cutting struct {
	// PierceEdgeMM is the web between a pierce hole and the sheet's edge; 0 is
	// the default.
	PierceEdgeMM float64
	// TabMM is the width of the tabs that small parts hang on; parts are small up
	// to a size of TabBelowMM. Without Tabs there are none, and 0 is the default.
	Tabs              bool
	TabMM, TabBelowMM float64
}

const (
	// DefaultPierceEdgeMM is the web between a pierce hole and the sheet's edge
	// (from memory, unverified): no less than parts keep from each other.
	DefaultPierceEdgeMM = 2
	// DefaultTabBelowMM is the size up to which a part hangs on a tab: about the
	// gap between slats, through which it would fall (from memory, unverified).
	DefaultTabBelowMM = 40
)

// DefaultTabMM is the width of a tab in sheet of a thickness: half a millimetre,
// or a tenth of the thickness where that is more, so that a hand can break it
// (from memory, unverified).
func DefaultTabMM(thicknessMM float64) float64 { return math.Max(0.5, thicknessMM/10) }

// Filled returns the settings for sheet of a thickness with the defaults put in;
// without tabs their width and size are 0.
func (c Cutting) Filled(thicknessMM float64) Cutting {
	if c.PierceEdgeMM == 0 {
		c.PierceEdgeMM = DefaultPierceEdgeMM
	}
	switch {
	case !c.Tabs:
		c.TabMM, c.TabBelowMM = 0, 0
	case c.TabMM == 0:
		c.TabMM = DefaultTabMM(thicknessMM)
	}
	if c.Tabs && c.TabBelowMM == 0 {
		c.TabBelowMM = DefaultTabBelowMM
	}
	return c
}

// cutting reads the settings, all of which may be left out.
func (l *loader) cutting(top *fields) {
	got := top.get("cutting")
	if got == nil {
		return
	}
	f := l.log.open(got.val, "cutting")
	c := &l.job.Cutting
	c.PierceEdgeMM, _ = f.quantity("pierce_edge", &length, limits{low: 0, high: 100, open: true, hint: "leave it out for the default"})
	c.TabMM, _ = f.quantity("tab", &length, limits{low: 0, high: 20, open: true, usualLow: 0.2, usualHigh: 2})
	c.TabBelowMM, _ = f.quantity("tab_below", &length, limits{low: 0, high: 2000, open: true, usualLow: 5, usualHigh: 200})
	asked, said := f.flag("tabs")
	c.Tabs = asked || !said && (c.TabMM > 0 || c.TabBelowMM > 0)
	f.done()
	l.note("cutting", f)
}
