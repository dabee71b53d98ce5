package shop

import (
	"fmt"
	"slices"
	"strings"
)

// A tableSpec says how a table is to be read.
type tableSpec struct {
	name    string
	at      spot              // where the job names it
	columns map[string]string // our key by heading, as the job maps them
	mapped  []field           // the mapping as written
	ignore  []string          // headings left alone without a word
	comma   rune              // separator; 0 is to be found out
	decimal string            // "point", "comma" or "" to be found out
	sheet   string            // of a workbook; "" is the first
	heading int               // row of the headings, from 1; 0 is to be found out
	dates   dateOrder
	heads   []string // keys a heading may name
	// A workbook stores dates as day numbers.
	serialDates, from1904 bool
}

// orderHeads are the keys a column of orders may hold.
var orderHeads = func() []string {
	keys := []string{
		"id", "part", "customer", "note", "quantity", "over_run", "material", "grade", "due", "rotations", "mirror",
		"grain", "grain_deg", "priority", "kit", "per_kit", "filler", "shape", "sides", "bolts", "bolt_slot_deg", "bolt_start_deg",
	}
	keys = append(keys, drawingKeys...)
	for _, base := range []string{
		"thickness", "tolerance", "width", "height", "diameter", "bore", "bolt_circle", "bolt_hole",
		"corner_radius", "across_flats", "across_corners",
	} {
		keys = append(keys, length.keys(base)...)
	}
	return keys
}()

// stockHeads are the keys a column of stock may hold.
var stockHeads = func() []string {
	keys := []string{
		"id", "material", "count", "cost", "remnant", "lot", "location", "since", "source", "origin", "note",
		"grain", "grain_deg", "shape",
	}
	for _, base := range []string{"thickness", "width", "height", "diameter", "corner_radius", "points"} {
		keys = append(keys, length.keys(base)...)
	}
	return keys
}()

// tableSpec reads how a table of orders is laid out.
func (l *loader) tableSpec(f *fields) (tableSpec, bool) {
	spec := tableSpec{at: f.v.at, heads: orderHeads, columns: map[string]string{}, dates: isoDates}
	file, ok := f.text("file")
	if !ok {
		f.missing("name the table, such as file: orders.csv", "file")
	}
	if ok {
		spec.name, ok = l.resolve(f, "file", file)
	}
	if w, ok := f.choice("separator", "comma", "semicolon", "tab"); ok {
		spec.comma = map[string]rune{"comma": ',', "semicolon": ';', "tab": '\t'}[w]
	}
	spec.decimal, _ = f.choice("decimal", "point", "comma")
	spec.sheet, _ = f.text("sheet")
	spec.heading, _ = f.whole("heading_row", 1, maxRows)
	if w, ok := f.choice("dates", string(isoDates), string(dayFirst), string(monthFirst)); ok {
		spec.dates = dateOrder(w)
	}
	spec.ignore = f.words("ignore")
	f.columnMap(&spec)
	return spec, ok
}

// columnMap reads which heading holds which key.
func (f *fields) columnMap(spec *tableSpec) {
	got := f.get("columns")
	if got == nil {
		return
	}
	if got.val.kind != record {
		f.fault(got.val.at, fmt.Sprintf("columns holds %s", got.val.kind), "write key: heading lines, such as quantity: Qty")
		return
	}
	for _, c := range got.val.fields {
		switch {
		case !slices.Contains(spec.heads, c.key):
			f.fault(c.at, fmt.Sprintf("columns maps %q, which is no key of an order in a table", c.key), didYouMean(c.key, spec.heads))
		case c.val.kind != scalar:
			f.fault(c.val.at, fmt.Sprintf("%s is mapped to %s", c.key, c.val.kind), "write the column's heading")
		case spec.columns[foldHeading(c.val.text)] != "":
			f.fault(c.val.at, fmt.Sprintf("the column %q is mapped twice", c.val.text), "map each column once")
		default:
			spec.columns[foldHeading(c.val.text)] = c.key
			spec.mapped = append(spec.mapped, c)
		}
	}
}

// foldHeading makes headings alike that differ in case, spaces, brackets and
// signs: "Thickness (mm)" is thickness_mm.
func foldHeading(s string) string {
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return strings.ContainsRune(" _-.()[]/:#\n\t\u00a0", r)
	})
	return strings.Join(words, "_")
}
