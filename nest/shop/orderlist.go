package shop

import (
	"fmt"
	"slices"
)

// defaultKeys are what orders may have in common.
var defaultKeys = func() []string {
	keys := []string{
		"material", "grade", "due", "rotations", "mirror", "grain_deg", "grain", "priority", "over_run", "filler",
		"customer", "note", "drawing_units", "layers", "exclude_layers", "accept", "kit",
	}
	keys = append(keys, length.keys("thickness")...)
	return append(keys, length.keys("tolerance")...)
}()

// allOrders reads the orders of the job file, then those of its tables.
func (l *loader) allOrders(top *fields) {
	defaults := l.defaults(top)
	top.records("orders", func(v *value) {
		l.job.Orders = append(l.job.Orders, l.order(v, defaults, isoDates)...)
	})
	l.orderTables(top, defaults)
	if len(l.job.Orders) == 0 && l.badOrders == 0 && len(l.log.problems) == 0 {
		l.noOrders(top)
	}
}

// noOrders says that nothing is wanted, and where it was looked for.
func (l *loader) noOrders(top *fields) {
	if top.get("order_tables") != nil {
		top.fault(spot{file: l.name}, "no orders: the tables under order_tables: have headings and no rows below them", "fill them in, or list what is wanted under orders:")
		return
	}
	top.fault(spot{file: l.name}, "no orders", "list what is wanted under orders:, or name a table under order_tables:")
}

// defaults reads the keys orders may have in common; values are checked where
// an order uses them.
func (l *loader) defaults(f *fields) *value {
	got := f.get("defaults")
	if got == nil {
		return nil
	}
	d := l.log.open(got.val, "defaults")
	d.known = append(d.known, defaultKeys...)
	d.done()
	l.note("defaults", d)
	return d.v
}

// withDefaults adds to an order the default keys that it does not say itself in
// any spelling.
func withDefaults(v, defaults *value) *value {
	if defaults == nil || v.kind != record {
		return v
	}
	out := *v
	out.fields = slices.Clone(v.fields)
	for _, f := range defaults.fields {
		if !slices.ContainsFunc(v.fields, func(own field) bool { return sameKey(own.key, f.key) }) {
			out.fields = append(out.fields, f)
		}
	}
	return &out
}

// sameKey reports whether two keys are spellings of one.
func sameKey(a, b string) bool {
	if a == b {
		return true
	}
	for _, base := range []string{"thickness", "tolerance"} {
		if slices.Contains(length.keys(base), a) && slices.Contains(length.keys(base), b) {
			return true
		}
	}
	return slices.Contains(angle.keys("grain"), a) && slices.Contains(angle.keys("grain"), b)
}

// orderTables reads the tables of orders the job names.
func (l *loader) orderTables(top *fields, defaults *value) {
	for _, item := range top.items("order_tables") {
		switch item.kind {
		case scalar:
			item = &value{kind: record, at: item.at, fields: []field{{"file", item.at, item}}}
		case record:
		default:
			top.fault(item.at, fmt.Sprintf("order_tables holds %s", item.kind), "name a file: order_tables: [orders.csv]")
			continue
		}
		l.orderTable(item, defaults)
	}
}

func (l *loader) orderTable(item, defaults *value) {
	f := l.log.open(item, "order table "+plainScalar(item, "file"))
	spec, ok := l.tableSpec(f)
	own := l.defaults(f)
	f.done()
	l.note("order_tables", f)
	if !ok || f.faulty {
		l.badOrders++
		return
	}
	data, err := l.read(spec.name)
	if err != nil {
		f.fault(f.at("file"), fmt.Sprintf("%s cannot be read: %v", spec.name, plainReason(err)), l.fileMend(spec.name))
		l.badOrders++
		return
	}
	if own != nil {
		defaults = withDefaults(own, defaults)
	}
	for _, row := range l.tableRecords(spec, data) {
		l.job.Orders = append(l.job.Orders, l.order(row, defaults, spec.dates)...)
	}
}
