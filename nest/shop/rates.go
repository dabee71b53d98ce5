package shop

import (
	"fmt"
	"strings"

	"kerfold/cost"
)

// rates reads prices and shop times. What is left out comes from the cost
// model's own set, and is said to.
func (l *loader) rates(top *fields) {
	l.job.Rates = cost.DefaultRates()
	r := &l.job.Rates
	got := top.get("rates")
	if got == nil {
		top.warn(spot{file: l.name}, "no rates", fmt.Sprintf("the money in this plan is %s: give rates of your own", r.Source))
		return
	}
	f := l.log.open(got.val, "rates")
	r.Source = cost.JobFile
	left := f.prices(r)
	left = append(left, f.times(r)...)
	f.covers(r)
	if cur, ok := f.text("currency"); ok {
		r.Currency = cur
	} else {
		left = append(left, "currency")
	}
	if s, ok := f.text("source"); ok {
		r.Source = cost.Source(s)
	}
	f.done()
	l.note("rates", f)
	if len(left) > 0 {
		f.warn(got.at, "left out: "+strings.Join(left, ", "), fmt.Sprintf("%s values stand in for them", cost.Demo))
	}
}

// prices returns the keys that were left out.
func (f *fields) prices(r *cost.Rates) (left []string) {
	for _, p := range []struct {
		key string
		to  *float64
	}{
		{"machine_per_hour", &r.MachinePerHour},
		{"labour_per_hour", &r.LabourPerHour},
		{"abrasive_per_kg", &r.AbrasivePerKg},
		{"power_per_kwh", &r.PowerPerKWh},
		{"water_per_m3", &r.WaterPerM3},
		{"disposal_per_kg", &r.DisposalPerKg},
		{"tube_price", &r.TubePrice},
		{"orifice_price", &r.OrificePrice},
	} {
		if x, ok := f.number(p.key, limits{low: 0, high: 1e6}); ok {
			*p.to = x
		} else if !f.has(p.key) {
			left = append(left, p.key)
		}
	}
	return left
}

func (f *fields) times(r *cost.Rates) (left []string) {
	for _, t := range []struct {
		key string
		dim *dimension
		to  *float64
		lim limits
	}{
		{"tube_life", &hours, &r.TubeLifeH, limits{low: 0.1, high: 1e5}},
		{"orifice_life", &hours, &r.OrificeLifeH, limits{low: 0.1, high: 1e5}},
		{"load_per_sheet", &duration, &r.LoadSecPerSheet, limits{low: 0, high: 36000}},
		{"stack_prep", &duration, &r.StackPrepSec, limits{low: 0, high: 36000}},
		{"stack_layer", &duration, &r.StackLayerSec, limits{low: 0, high: 36000}},
		{"setup", &duration, &r.SetupSec, limits{low: 0, high: 86400}},
		{"unload_per_part", &duration, &r.UnloadSecPerPart, limits{low: 0, high: 3600}},
	} {
		if x, ok := f.quantity(t.key, t.dim, t.lim); ok {
			*t.to = x
		} else if !f.has(t.dim.keys(t.key)...) {
			left = append(left, t.key)
		}
	}
	return left
}

// covers reads what weighs in choices and what a stack needs besides time; all
// may be left out.
func (f *fields) covers(r *cost.Rates) {
	if x, ok := f.quantity("layer_gap", &length, limits{low: 0, high: 10}); ok {
		r.LayerGapMM = x
	}
	if x, ok := f.quantity("program", &duration, limits{low: 0, high: 36000}); ok {
		r.ProgramSec = x
	}
	if x, ok := f.number("late_per_hour", limits{low: 0, high: 1e6}); ok {
		r.LatePerHour = x
	}
	if x, ok := f.number("clamp_factor", limits{low: 0.1, high: 1}); ok {
		r.ClampFactor = x
	}
	if x, ok := f.number("unattended_share", limits{low: 0, high: 1}); ok {
		r.UnattendedShare = x
	}
	f.overtime(r)
	r.CoverSheets, _ = f.whole("cover_sheets", 0, 2)
	r.CoverMM, _ = f.quantity("cover", &length, limits{low: 0, high: 50})
	r.CoverPrice, _ = f.number("cover_price", limits{low: 0, high: 1e6})
}
