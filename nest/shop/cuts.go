package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"

	"kerfold/cost"
)

// cutHeads are the keys a column of test cuts may hold.
var cutHeads = func() []string {
	keys := []string{"material", "process", "abrasive_factor", "grade", "pierces", "pierce", "note"}
	for _, q := range []struct {
		base string
		dim  *dimension
	}{
		{"thickness", &length},
		{"pressure", &pressure},
		{"orifice", &length},
		{"tube", &length},
		{"abrasive", &massFlow},
		{"speed", &speed},
		{"part_time", &duration},
		{"cut_length", &length},
		{"pierce_time", &duration},
		{"low_pressure", &pressure},
	} {
		keys = append(keys, q.dim.keys(q.base)...)
	}
	return keys
}()

// LoadCuts reads a table of test cuts, CSV or XLSX: one row a cut, with the
// settings and what was measured (speed, part time or pierce time; a row with a
// speed and a pierce time is two cuts). Materials known to the shop are found
// by name; a new one needs its process. The error, where not nil, is a
// [Problems].
func LoadCuts(fsys fs.FS, name string, materials map[string]cost.Material) (cuts []cost.Cut, warnings []string, err error) {
	l := newLoader(fsys, name)
	l.job.Materials = materials
	l.names = newNameList(sortedKeys(materials))
	at := spot{file: name}
	data, err := l.read(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		l.log.fault(at, "", "there is no such file", "look at its name and folder")
	case err != nil:
		l.log.fault(at, "", fmt.Sprintf("the test cuts cannot be read: %v", plainReason(err)), "look at the file")
	default:
		cuts = l.cutRows(name, at, data)
	}
	if err := l.log.err(); err != nil {
		return nil, nil, err
	}
	return cuts, l.log.texts(), nil
}

func (l *loader) cutRows(name string, at spot, data []byte) []cost.Cut {
	spec := tableSpec{name: name, at: at, heads: cutHeads, dates: isoDates}
	var out []cost.Cut
	for _, v := range l.tableRecords(spec, data) {
		out = append(out, l.cutRow(v)...)
	}
	return out
}

// cutRow reads one row, which may hold a speed and a pierce.
func (l *loader) cutRow(v *value) []cost.Cut {
	f := l.log.open(v, "test cut")
	c := cost.Cut{Row: v.at.line}
	f.cutMaterial(&c, l)
	f.cutSettings(&c)
	pierce := f.cutMeasured(&c)
	f.text("note")
	f.done()
	if f.faulty {
		return nil
	}
	var out []cost.Cut
	if c.SpeedMMPerMin > 0 || c.PartSec > 0 {
		out = append(out, c)
	}
	if pierce > 0 {
		c.SpeedMMPerMin, c.PartSec, c.CutMM, c.Pierces, c.PierceSec = 0, 0, 0, 0, pierce
		out = append(out, c)
	}
	for i := range out {
		if err := out[i].Validate(); err != nil {
			f.fault(v.at, err.Error(), "")
			return nil
		}
	}
	return out
}

func (f *fields) cutMaterial(c *cost.Cut, l *loader) {
	name, ok := f.text("material")
	if !ok {
		f.missing("name the material, such as mild steel", "material")
		return
	}
	f.subject = "test cut of " + name
	if known, found := l.names.find(name); found {
		name = known
	}
	c.Material = name
	m, known := l.job.Materials[name]
	if isAsbestos(m, name) {
		f.fault(f.at("material"), "it holds asbestos: no such sheet is cut here", "leave the row out and ask your safety officer")
	}
	c.Process = m.Process
	if p, ok := f.choice("process", string(cost.Plain), string(cost.Abrasive)); ok {
		c.Process = cost.Process(p)
	} else if !known {
		f.missing("the material is new here: write plain or abrasive in a column process; "+materialMeant(name, l.names.names), "process")
	}
}

func (f *fields) cutSettings(c *cost.Cut) {
	c.ThicknessMM = f.need("thickness", &length, thickness, "give the sheet's thickness in a column thickness_mm")
	c.PressureMPa = f.need("pressure", &pressure, pumpPressure, "give the pressure in a column pressure_mpa")
	c.OrificeMM = f.need("orifice", &length, orificeBore, "give the orifice's bore in a column orifice_mm")
	c.TubeMM, _ = f.quantity("tube", &length, tubeBore)
	c.AbrasiveGPerMin, _ = f.quantity("abrasive", &massFlow, limits{low: 1, high: 5000, usualLow: 50, usualHigh: 1500})
	c.AbrasiveFactor, _ = f.number("abrasive_factor", limits{low: 0.05, high: 2})
	if c.Process == cost.Abrasive && c.TubeMM == 0 {
		f.missing("give the mixing tube's bore in a column tube_mm", length.keys("tube")...)
	}
	if c.Process == cost.Abrasive && c.AbrasiveGPerMin == 0 {
		f.missing("give the abrasive's flow in a column abrasive_g_per_min", massFlow.keys("abrasive")...)
	}
}

var measuredTime = limits{low: 0, high: 1e6, open: true}

// cutMeasured reads what was measured and returns the pierce time.
func (f *fields) cutMeasured(c *cost.Cut) (pierce float64) {
	var sped, parted bool
	c.SpeedMMPerMin, sped = f.quantity("speed", &speed, limits{low: 0, high: 1e6, open: true})
	c.PartSec, parted = f.quantity("part_time", &duration, measuredTime)
	c.CutMM, _ = f.quantity("cut_length", &length, limits{low: 0, high: 1e7, open: true})
	c.Pierces, _ = f.whole("pierces", 0, 100000)
	pierce, pierced := f.quantity("pierce_time", &duration, measuredTime)
	if w, ok := f.choice("pierce", string(cost.Stationary), string(cost.Moving), string(cost.LowPressure)); ok {
		c.Pierce = cost.PierceMethod(w)
	}
	c.LowPressureMPa, _ = f.quantity("low_pressure", &pressure, limits{low: 5, high: 400})
	switch {
	case !sped && !parted && !pierced:
		f.missing("give what was measured in a column speed_mm_per_min, part_time_s or pierce_time_s", slices.Concat(speed.keys("speed"), duration.keys("part_time"), duration.keys("pierce_time"))...)
	case sped && parted:
		f.fault(f.v.at, "the row has a speed and a part time", "put them in rows of their own")
	case (sped || parted) && !f.has("grade"):
		f.missing("name the edge that was reached in a column grade: separate, rough, medium, good or fine", "grade")
	}
	c.Grade = f.grade("grade")
	return pierce
}
