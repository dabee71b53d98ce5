package shop

import "kerfold/cost"

// A RemnantRule says which leftover of a sheet goes back on the rack: one whose
// worth is above zero and whose shorter side is long enough to clamp. The worth
// is the money its area cost, times ValueShare, less UpkeepMoney.
type RemnantRule struct {
	// MinSideMM is the least shorter side of a remnant's rectangle.
	MinSideMM float64
	// ValueShare is what a leftover is worth, as a share of the money its area
	// cost, before what keeping it costs.
	ValueShare float64
	// UpkeepMoney is what keeping one remnant costs: the time to measure, mark,
	// carry and enter it and to find it again, and its room on the rack.
	UpkeepMoney float64
	// Sever asks for a last cut that frees the remnant from the used part of the
	// sheet. A remnant worth less than that cut costs is not kept.
	Sever bool
	// Location is where new remnants go; empty is not yet known.
	Location string
	Source   cost.Source
}

// Defaults of the rule. A side shorter than 200 mm gives the clamps no hold, and
// a remnant counts for about half of new sheet, because its size decides what
// fits; it is cut free so that it can be racked (all common practice). The handling time is from memory, unverified; the room
// on the rack is a demo value.
const (
	defaultMinSideMM   = 200
	defaultValueShare  = 0.5
	defaultHandlingSec = 240
	defaultStorage     = 1
)

// DefaultRemnants is the rule where the job gives none, at the labour rate
// given in money an hour.
func DefaultRemnants(labourPerHour float64) RemnantRule {
	return RemnantRule{
		Sever: true, MinSideMM: defaultMinSideMM, ValueShare: defaultValueShare,
		UpkeepMoney: upkeep(defaultHandlingSec, labourPerHour, defaultStorage),
		Source:      "handling time from memory, unverified; storage demo; least side, value share and severing common practice",
	}
}

func upkeep(handlingSec, labourPerHour, storage float64) float64 {
	return handlingSec/3600*labourPerHour + storage
}

// Worth is what a leftover of the area given is worth; it is kept where this is
// above zero. PricePerMM2 is the sheet's money by its area.
func (r RemnantRule) Worth(areaMM2, pricePerMM2 float64) float64 {
	return r.ValueShare*areaMM2*pricePerMM2 - r.UpkeepMoney
}

// remnantRule reads the rule; it comes after the rates, whose labour it uses.
func (l *loader) remnantRule(top *fields) {
	labour := l.job.Rates.LabourPerHour
	l.job.Remnants = DefaultRemnants(labour)
	got := top.get("remnants")
	if got == nil {
		return
	}
	f := l.log.open(got.val, "remnants")
	r := &l.job.Remnants
	r.Source = cost.JobFile
	if x, ok := f.quantity("least_side", &length, limits{low: 0, high: 5000}); ok {
		r.MinSideMM = x
	}
	if x, ok := f.number("value_share", limits{low: 0, high: 1}); ok {
		r.ValueShare = x
	}
	handling, storage := float64(defaultHandlingSec), float64(defaultStorage)
	if x, ok := f.quantity("handling", &duration, limits{low: 0, high: 36000}); ok {
		handling = x
	}
	if x, ok := f.number("storage", limits{low: 0, high: 1e6}); ok {
		storage = x
	}
	r.UpkeepMoney = upkeep(handling, labour, storage)
	if sever, ok := f.flag("sever"); ok {
		r.Sever = sever
	}
	r.Location, _ = f.text("location")
	if s, ok := f.text("source"); ok {
		r.Source = cost.Source(s)
	}
	f.done()
	l.note("remnants", f)
}
