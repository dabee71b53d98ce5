package shop

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"kerfold/cost"
)

// A materialEntry is a material as the job file gives it.
type materialEntry struct {
	v      *value
	name   string
	state  int // 0 not read, 1 being read, 2 read
	faulty bool
}

// materials puts the job file's materials over the built-in table.
func (l *loader) materials(top *fields) {
	l.job.Materials = maps.Clone(cost.BuiltinMap())
	if l.job.Materials == nil {
		l.job.Materials = map[string]cost.Material{}
	}
	l.materialFile(top)
	l.materialList(top)
	l.names = newNameList(sortedKeys(l.job.Materials))
}

// materialList puts the entries under materials: over those known so far.
func (l *loader) materialList(top *fields) {
	var entries []*materialEntry
	byName := map[string]*materialEntry{}
	top.records("materials", func(v *value) {
		e := &materialEntry{v: v, name: plainScalar(v, "name")}
		if first := byName[e.name]; first != nil && e.name != "" {
			top.fault(v.at, fmt.Sprintf("material %s is given twice, first at line %d", e.name, first.v.at.line), "keep one")
			return
		}
		byName[e.name] = e
		entries = append(entries, e)
	})
	for _, e := range entries {
		l.material(e, byName)
	}
}

// material reads one entry after the one it is like.
func (l *loader) material(e *materialEntry, byName map[string]*materialEntry) {
	if e.state != 0 {
		return
	}
	e.state = 1
	defer func() { e.state = 2 }()
	f := l.log.open(e.v, "material "+cmp.Or(e.name, "without a name"))
	if _, ok := f.text("name"); !ok {
		f.missing("name it, such as name: felt", "name")
	}
	m := l.baseMaterial(f, e, byName)
	m.Name = e.name
	f.materialKind(&m)
	f.materialNumbers(&m)
	f.materialHazards(&m)
	l.calibration(f, &m)
	l.materialGap(f, e.name)
	f.done()
	l.note("materials", f)
	if !f.faulty {
		f.materialWhole(&m)
	}
	e.faulty = f.faulty
	if e.name != "" {
		l.job.Materials[e.name] = m // also where faulty, so that orders find the name
	}
}

// baseMaterial is what an entry starts from: what it is like, or the built-in
// material of its own name, or nothing.
func (l *loader) baseMaterial(f *fields, e *materialEntry, byName map[string]*materialEntry) cost.Material {
	like, ok := f.text("like")
	if !ok || like == e.name {
		return l.job.Materials[e.name]
	}
	if other := byName[like]; other != nil {
		if other.state == 1 {
			f.fault(f.at("like"), fmt.Sprintf("%s and %s are each like the other", e.name, like), "give one of them its own numbers")
			return cost.Material{}
		}
		l.material(other, byName)
		f.faulty = f.faulty || other.faulty // and what it lacks is the other's fault
	}
	base, known := l.job.Materials[like]
	if !known {
		f.fault(f.at("like"), fmt.Sprintf("like names %q, which is no material known here", like),
			materialMeant(like, append(sortedKeys(byName), sortedKeys(l.job.Materials)...)))
	}
	return base
}

func (f *fields) materialKind(m *cost.Material) {
	if p, ok := f.choice("process", string(cost.Plain), string(cost.Abrasive)); ok {
		m.Process = cost.Process(p)
	}
	families := []string{
		string(cost.Metal), string(cost.Stone), string(cost.Glass), string(cost.Ceramic), string(cost.Plastic),
		string(cost.Composite), string(cost.Wood), string(cost.Rubber), string(cost.Foam), string(cost.Textile), string(cost.Board),
	}
	if w, ok := f.choice("family", families...); ok {
		m.Family = cost.Family(w)
	}
	if w, ok := f.choice("pierce", string(cost.Stationary), string(cost.Moving), string(cost.LowPressure)); ok {
		m.Pierce = cost.PierceMethod(w)
	}
}

// materialNumbers reads the model's numbers, each with its source.
func (f *fields) materialNumbers(m *cost.Material) {
	source := cost.JobFile
	if s, ok := f.text("source"); ok {
		source = cost.Source(s)
	}
	if m.LimitSource == "" {
		m.LimitSource = source
	}
	for _, n := range []struct {
		key string
		dim *dimension
		to  *cost.Quantity
		lim limits
	}{
		{"machinability", nil, &m.Machinability, limits{low: 1, high: 5000}},
		{"plain_k", nil, &m.PlainK, limits{low: 0, high: 1e9, open: true}},
		{"thickness_exponent", nil, &m.ThicknessExponent, limits{low: 0.5, high: 2}},
		{"pressure_exponent", nil, &m.PressureExponent, limits{low: 0.5, high: 3}},
		{"orifice_exponent", nil, &m.OrificeExponent, limits{low: 0.2, high: 3}},
		{"pierce_time", &duration, &m.PierceSec, limits{low: 0, high: 600}},
		{"pierce_factor", nil, &m.PierceFactor, limits{low: 0, high: 1000}},
		{"density", &density, &m.DensityKgPerM3, limits{low: 5, high: 25000}},
		{"feed_cap", &speed, &m.FeedCapMMPerMin, limits{low: 1, high: 500000}},
	} {
		if q, ok := f.sourced(n.key, n.dim, n.lim, source); ok {
			*n.to = q
		}
	}
	if x, ok := f.quantity("max_stack", &length, limits{low: 0, high: 500}); ok {
		m.MaxStackMM, m.LimitSource = x, source
	}
	if n, ok := f.whole("max_layers", 1, 1000); ok {
		m.MaxLayers, m.LimitSource = n, source
	}
}

// sourced reads a number, or a record of value, spread and source.
func (f *fields) sourced(key string, d *dimension, lim limits, source cost.Source) (cost.Quantity, bool) {
	q := cost.Quantity{Source: source}
	got := f.find(key, d)
	if got == nil || got.val.kind != record {
		x, ok := f.plainOrUnit(key, d, lim)
		q.Value = x
		return q, ok
	}
	sub := f.log.open(got.val, f.subject+", "+key)
	inner := sub.get("value")
	if inner == nil {
		sub.missing("write value: and, where known, spread: and source:", "value")
	} else {
		q.Value = sub.innerValue(got, inner, key, d, lim)
	}
	q.RelStdDev, _ = sub.number("spread", limits{low: 0, high: 1})
	if s, ok := sub.text("source"); ok {
		q.Source = cost.Source(s)
	}
	sub.done()
	f.faulty = f.faulty || sub.faulty
	return q, !sub.faulty
}

// find returns the field of a plain or dimensioned key, making it known.
func (f *fields) find(key string, d *dimension) *field {
	if d == nil {
		return f.get(key)
	}
	f.rare = append(f.rare, d.keys(key)...)
	for _, k := range d.keys(key) {
		if f.has(k) {
			return f.get(k)
		}
	}
	return nil
}

func (f *fields) plainOrUnit(key string, d *dimension, lim limits) (float64, bool) {
	if d == nil {
		return f.number(key, lim)
	}
	return f.quantity(key, d, lim)
}

// innerValue reads the value of a record as if it stood under the record's key.
func (f *fields) innerValue(outer, inner *field, key string, d *dimension, lim limits) float64 {
	if inner.val.kind != scalar {
		f.fault(inner.val.at, fmt.Sprintf("value holds %s", inner.val.kind), "write a number")
		return 0
	}
	as := &fields{log: f.log, subject: f.subject, v: &value{kind: record, at: inner.at, fields: []field{{outer.key, inner.at, inner.val}}}}
	x, _ := as.plainOrUnit(key, d, lim)
	f.faulty = f.faulty || as.faulty
	return x
}

func (f *fields) materialHazards(m *cost.Material) {
	for _, h := range []struct {
		key string
		to  *bool
	}{
		{"brittle", &m.Brittle},
		{"laminate", &m.Laminate},
		{"tempered", &m.Tempered},
		{"fibrous", &m.Fibrous},
		{"aluminium", &m.Aluminium},
		{"asbestos", &m.Asbestos},
	} {
		if is, ok := f.flag(h.key); ok {
			*h.to = is
		}
	}
	if words := f.words("toxic_metals"); words != nil {
		m.ToxicMetals = words
	}
}

// materialWhole reports a material that says too little to be cut.
func (f *fields) materialWhole(m *cost.Material) {
	switch {
	case m.Process == "":
		f.fault(f.v.at, "process is missing", "write process: plain or process: abrasive, or like: a material known here")
	case m.Process == cost.Abrasive && m.Machinability.Value == 0:
		f.fault(f.v.at, "machinability is missing", "give machinability, or like: a material known here")
	case m.Process == cost.Plain && m.PlainK.Value == 0:
		f.fault(f.v.at, "plain_k is missing", "give plain_k from a test cut, or like: a material known here")
	case m.DensityKgPerM3.Value == 0:
		f.warn(f.v.at, "density is missing", "weights and waste of this material count as nothing")
	}
}

func (l *loader) materialGap(f *fields, name string) {
	g := Gap{math.NaN(), math.NaN()}
	s, okS := f.quantity("spacing", &length, gap)
	m, okM := f.quantity("margin", &length, gap)
	if okS {
		g.Spacing = s
	}
	if okM {
		g.Margin = m
	}
	if okS || okM {
		l.job.Gaps[name] = g
	}
}

// isAsbestos also knows the mineral by its names, whatever the entry says.
func isAsbestos(m cost.Material, name string) bool {
	name = strings.ToLower(name)
	for _, word := range []string{"asbestos", "chrysotile", "crocidolite", "amosite"} {
		if strings.Contains(name, word) && !strings.Contains(name, "free") && !strings.Contains(name, "non-"+word) && !strings.Contains(name, "non "+word) {
			return true
		}
	}
	return m.Asbestos
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
