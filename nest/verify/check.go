package verify

// Check judges a layout and reports every violation. Violations come in a fixed
// order: numbers and outlines first, then the rules that hold for the whole
// job, then use by use: each part by itself, each part against the sheet, and
// the pairs.
func Check(l Layout) Report {
	j := judge{l: l, tol: l.tolerance()}
	if !j.numbers() {
		return j.report
	}
	j.parts()
	j.sheets()
	j.quantities()
	j.sheetCounts()
	j.kits()
	for u := range l.Uses {
		j.use(u)
	}
	return j.report
}

// A judge holds what is worked out once per layout.
type judge struct {
	l      Layout
	tol    float64
	kinds  []kind      // by part, nil template where the outline is bad
	sheet  []sheetKind // by sheet
	report Report
}

// A kind is a part worked out in its own frame.
type kind struct {
	ok       bool
	template template
	own      region // in its own frame; its core is used for all poses
}

// A sheetKind is a sheet's outside and its blocked zones as regions.
type sheetKind struct {
	ok     bool
	beyond *region
	zones  []*region
}

// use judges one sheet with the parts on it.
func (j *judge) use(u int) {
	use := j.l.Uses[u]
	if !j.useNumbers(u) {
		return
	}
	bodies := j.bodies(u)
	for i := range use.Placements {
		j.placementRules(u, i)
	}
	j.compareAll(u, bodies)
}

// add lists a violation, or counts it when the list is full.
func (j *judge) add(v Violation) {
	if j.l.Limit > 0 && len(j.report.Violations) >= j.l.Limit {
		j.report.More++
		return
	}
	j.report.Violations = append(j.report.Violations, v)
}
