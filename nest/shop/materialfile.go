package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"strings"

	"kerfold/cost"
)

// materialFile reads the file of materials that the job names, if any: a list
// under materials:, as in the job file. The job's own entries come after it.
func (l *loader) materialFile(top *fields) {
	file, ok := top.text("material_file")
	if !ok {
		return
	}
	name, ok := l.resolve(top, "material_file", file)
	if !ok {
		return
	}
	data, err := l.read(name)
	if err != nil {
		mend := "look at the file"
		if errors.Is(err, fs.ErrNotExist) {
			mend = l.fileMend(name)
		}
		top.fault(top.at("material_file"), fmt.Sprintf("material file %s cannot be read: %v", name, plainReason(err)), mend)
		return
	}
	l.materialData(name, data)
}

func (l *loader) materialData(name string, data []byte) {
	v := parseYAML(l.log, name, data)
	if v == nil || v.kind == empty {
		return
	}
	f := l.log.open(v, "material file")
	if n, ok := f.whole("version", 1, 1<<30); ok && n != Version {
		f.fault(f.at("version"), fmt.Sprintf("version is %d, and this program reads %d", n, Version), "use the program the file was written for")
	}
	l.materialList(f)
	f.done()
}

// LoadMaterials reads a file of materials by itself, over the built-in table:
// the form that [MarshalMaterials] writes. The error, where not nil, is a
// [Problems].
func LoadMaterials(fsys fs.FS, name string) (materials map[string]cost.Material, warnings []string, err error) {
	l := newLoader(fsys, name)
	l.job.Materials = cost.BuiltinMap()
	data, err := l.read(name)
	if err != nil {
		l.log.fault(spot{file: name}, "", fmt.Sprintf("the materials cannot be read: %v", plainReason(err)), "look at the file")
	} else {
		l.materialData(name, data)
	}
	if err := l.log.err(); err != nil {
		return nil, nil, err
	}
	return l.job.Materials, l.log.texts(), nil
}

// MarshalMaterials writes materials in full as a file that the job file's
// material_file, and [LoadMaterials], read back equal. The lines of note head
// it as comments.
func MarshalMaterials(ms []cost.Material, note ...string) []byte {
	return MarshalMaterialsIn(ms, cost.Metric, note...)
}

// MarshalMaterialsIn is MarshalMaterials with comments that give what has a unit in
// another system as well. The numbers stay metric.
func MarshalMaterialsIn(ms []cost.Material, units cost.UnitSystem, note ...string) []byte {
	var b strings.Builder
	for _, line := range note {
		fmt.Fprintf(&b, "# %s\n", line)
	}
	fmt.Fprintf(&b, "version: %d\nmaterials:", Version)
	if len(ms) == 0 {
		b.WriteString(" []")
	}
	b.WriteString("\n")
	for i := range ms {
		writeMaterial(&b, &ms[i], units)
	}
	return []byte(b.String())
}

func writeMaterial(b *strings.Builder, m *cost.Material, units cost.UnitSystem) {
	put := func(key, text string) {
		if text != "" {
			fmt.Fprintf(b, "    %s: %s\n", key, text)
		}
	}
	fmt.Fprintf(b, "  - name: %s\n", quoteYAML(m.Name))
	put("source", quoteYAML(string(m.LimitSource)))
	put("process", string(m.Process))
	put("family", string(m.Family))
	put("pierce", string(m.Pierce))
	for _, q := range []struct {
		key string
		v   cost.Quantity
	}{
		{"machinability", m.Machinability},
		{"plain_k", m.PlainK},
		{"thickness_exponent", m.ThicknessExponent},
		{"pressure_exponent", m.PressureExponent},
		{"orifice_exponent", m.OrificeExponent},
		{"pierce_time_s", m.PierceSec},
		{"pierce_factor", m.PierceFactor},
		{"density_kg_per_m3", m.DensityKgPerM3},
		{"feed_cap_mm_per_min", m.FeedCapMMPerMin},
	} {
		if text := quantityYAML(q.v); text != "" {
			put(q.key, text+alsoIn(units, q.v.Value, unitOf[q.key]))
		}
	}
	if m.MaxStackMM > 0 {
		put("max_stack_mm", exact(m.MaxStackMM)+alsoIn(units, m.MaxStackMM, "mm"))
	}
	if m.MaxLayers > 0 {
		put("max_layers", strconv.Itoa(m.MaxLayers))
	}
	writeHazards(b, m)
	if m.Calibration != nil {
		writeCalibration(b, m.Calibration)
	}
}

// unitOf is the units of a material's numbers that have one.
var unitOf = map[string]string{"density_kg_per_m3": "kg/m³", "feed_cap_mm_per_min": "mm/min"}

// alsoIn is a comment that gives a number in a system of units; nothing where that
// has the unit itself.
func alsoIn(units cost.UnitSystem, v float64, unit string) string {
	other, name := units.Show(v, unit)
	if name == unit {
		return ""
	}
	return fmt.Sprintf(" # %.4g %s", other, name)
}

func quantityYAML(q cost.Quantity) string {
	if q == (cost.Quantity{}) {
		return ""
	}
	s := "{value: " + exact(q.Value)
	if q.RelStdDev > 0 {
		s += ", spread: " + exact(min(1, q.RelStdDev))
	}
	if q.Source != "" {
		s += ", source: " + quoteYAML(string(q.Source))
	}
	return s + "}"
}

func writeHazards(b *strings.Builder, m *cost.Material) {
	for _, h := range []struct {
		key string
		is  bool
	}{
		{"brittle", m.Brittle},
		{"laminate", m.Laminate},
		{"tempered", m.Tempered},
		{"fibrous", m.Fibrous},
		{"aluminium", m.Aluminium},
		{"asbestos", m.Asbestos},
	} {
		if h.is {
			fmt.Fprintf(b, "    %s: yes\n", h.key)
		}
	}
	if len(m.ToxicMetals) > 0 {
		words := make([]string, len(m.ToxicMetals))
		for i, w := range m.ToxicMetals {
			words[i] = quoteYAML(w)
		}
		fmt.Fprintf(b, "    toxic_metals: [%s]\n", strings.Join(words, ", "))
	}
}

func writeCalibration(b *strings.Builder, c *cost.Calibration) {
	params := make([]string, len(c.Params))
	for i, p := range c.Params {
		params[i] = string(p)
	}
	fmt.Fprintf(b, "    calibration:\n      params: [%s]\n      degrees_of_freedom: %d\n      covariance:\n", strings.Join(params, ", "), c.DoF)
	for _, row := range c.Covariance {
		cells := make([]string, len(row))
		for i, x := range row {
			cells[i] = exact(x)
		}
		fmt.Fprintf(b, "        - [%s]\n", strings.Join(cells, ", "))
	}
}

// calibrationParams are the numbers a calibration may cover.
var calibrationParams = []string{
	string(cost.ParamMachinability), string(cost.ParamPlainK), string(cost.ParamThicknessExponent), string(cost.ParamPressureExponent),
	string(cost.ParamOrificeExponent), string(cost.ParamPierceSec), string(cost.ParamPierceFactor),
}

// calibration reads what test cuts say of a material's numbers together. An
// entry that changes one of the numbers without it has no calibration.
func (l *loader) calibration(f *fields, m *cost.Material) {
	got := f.get("calibration")
	if got == nil {
		if f.has("machinability", "plain_k", "thickness_exponent", "pressure_exponent", "orifice_exponent", "pierce_factor") {
			m.Calibration = nil
		}
		return
	}
	sub := l.log.open(got.val, f.subject+", calibration")
	c := &cost.Calibration{}
	for _, p := range sub.words("params") {
		c.Params = append(c.Params, cost.Param(p))
	}
	c.DoF, _ = sub.whole("degrees_of_freedom", 0, 1_000_000)
	for _, row := range sub.items("covariance") {
		c.Covariance = append(c.Covariance, sub.numberRow(row))
	}
	sub.done()
	l.note("materials", sub)
	f.faulty = f.faulty || sub.faulty
	if sub.faulty {
		return
	}
	if err := c.Validate(); err != nil {
		f.fault(got.val.at, err.Error(), "params: "+listing(calibrationParams))
		return
	}
	m.Calibration = c
}

// numberRow reads a list of numbers.
func (f *fields) numberRow(v *value) []float64 {
	items := v.list()
	if v.kind == scalar && !v.cell {
		items = []*value{v}
	}
	row := make([]float64, len(items))
	for i, item := range items {
		x, err := strconv.ParseFloat(item.text, 64)
		if item.kind != scalar || err != nil {
			f.fault(item.at, fmt.Sprintf("covariance holds %s", quoteText(item.text)), "write lists of numbers")
			return nil
		}
		row[i] = x
	}
	return row
}
