package shop

import (
	"fmt"
	"path"
	"slices"
	"strings"
)

// Bounds of a table.
const (
	maxRows    = 200_000
	maxColumns = 500
)

// A cell is one field of a table with its place.
type cell struct {
	text string
	at   spot
}

// A row is a line of a table.
type row []cell

func (r row) blank() bool {
	return !slices.ContainsFunc(r, func(c cell) bool { return strings.TrimSpace(c.text) != "" })
}

// tableRecords reads a table into one record a row.
func (l *loader) tableRecords(spec tableSpec, data []byte) []*value {
	before := len(l.log.problems)
	rows := l.tableRows(&spec, data)
	head, body := spec.splitHeading(rows)
	if head == nil && len(l.log.problems) > before {
		return nil // why it cannot be read is said
	}
	if head == nil {
		l.log.fault(spot{file: spec.name}, "", "the table has no heading row", "put the column names in its first row")
		return nil
	}
	keys := l.headings(&spec, head)
	if len(keys) == 0 {
		return nil
	}
	t := tabler{log: l.log, spec: &spec, head: head, keys: keys}
	t.findDecimal(body)
	var out []*value
	for _, r := range body {
		if !r.blank() {
			out = append(out, t.record(r))
		}
	}
	if len(out) == 0 {
		l.log.warn(spot{file: spec.name}, "", "the table has headings and no rows", "")
	}
	return out
}

func (l *loader) tableRows(spec *tableSpec, data []byte) []row {
	switch strings.ToLower(path.Ext(spec.name)) {
	case ".xlsx", ".xlsm":
		return l.workbookRows(spec, data)
	}
	text, err := plainText(data)
	if err != nil {
		l.log.fault(spot{file: spec.name}, "", err.Error(), "save the table as CSV or XLSX")
		return nil
	}
	return parseCSV(l.log, spec, text)
}

// splitHeading parts the heading row from the rows below it.
func (spec *tableSpec) splitHeading(rows []row) (head row, body []row) {
	i := spec.headingRow(rows)
	if i < 0 {
		return nil, nil
	}
	return rows[i], rows[i+1:]
}

// headingWithin is how far down headings are looked for, in rows that are not
// blank: titles and addresses may stand above them.
const headingWithin = 20

// headingRow is the row that is named, else the one with the most headings that
// are known, the first of equals; -1 is none.
func (spec *tableSpec) headingRow(rows []row) int {
	best, most, seen := -1, -1, 0
	for i, r := range rows {
		switch {
		case r.blank() || spec.heading > 0 && r[0].at.line < spec.heading:
			continue
		case spec.heading > 0:
			return i
		}
		if n := spec.knownHeadings(r); n > most {
			best, most = i, n
		}
		if seen++; seen == headingWithin {
			break
		}
	}
	return best
}

func (spec *tableSpec) knownHeadings(r row) int {
	n := 0
	for _, c := range r {
		if name := foldHeading(c.text); spec.columns[name] != "" || slices.Contains(spec.heads, name) {
			n++
		}
	}
	return n
}

// headings gives each column its key, "" where it is left alone.
func (l *loader) headings(spec *tableSpec, head row) []string {
	keys := make([]string, len(head))
	bad := len(head) > maxColumns
	if bad {
		l.log.fault(head[0].at, "", fmt.Sprintf("%d columns", len(head)), fmt.Sprintf("keep it to %d", maxColumns))
	}
	for i, c := range head {
		if bad || strings.TrimSpace(c.text) == "" {
			continue
		}
		key := l.heading(spec, c)
		if j := slices.Index(keys, key); key != "" && j >= 0 {
			l.log.fault(c.at, "", fmt.Sprintf("the columns %q and %q both hold %s", head[j].text, c.text, key), "remove one, or map one under columns:")
			bad = true
		}
		keys[i] = key
	}
	bad = l.mappedThere(spec, head) || bad
	if bad {
		return nil
	}
	return keys
}

// heading finds the key of a column: by the job's mapping, else by its name.
func (l *loader) heading(spec *tableSpec, c cell) string {
	name := foldHeading(c.text)
	if key := spec.columns[name]; key != "" {
		return key
	}
	if slices.ContainsFunc(spec.ignore, func(s string) bool { return foldHeading(s) == name }) {
		return ""
	}
	if slices.Contains(spec.heads, name) && !slices.ContainsFunc(spec.mapped, func(f field) bool { return f.key == name }) {
		return name
	}
	mend := "map it under columns:, or list it under ignore:"
	if near, ok := nearest(name, spec.heads); ok {
		mend = fmt.Sprintf("did you mean %s? %s", near, mend)
	}
	l.log.warn(c.at, "", fmt.Sprintf("the column %q is not used", c.text), mend)
	return ""
}

// mappedThere reports mapped headings the table has not.
func (l *loader) mappedThere(spec *tableSpec, head row) (bad bool) {
	for _, m := range spec.mapped {
		if slices.ContainsFunc(head, func(c cell) bool { return foldHeading(c.text) == foldHeading(m.val.text) }) {
			continue
		}
		var names []string
		for _, c := range head {
			names = append(names, c.text)
		}
		l.log.fault(m.val.at, "", fmt.Sprintf("%s has no column %q", spec.name, m.val.text), didYouMean(m.val.text, names))
		bad = true
	}
	return bad
}

// A tabler turns rows into records.
type tabler struct {
	log     *log
	spec    *tableSpec
	head    row
	keys    []string
	decimal string // "point" or "comma"
}

// record makes a record of a row; cells without text are keys left out.
func (t *tabler) record(r row) *value {
	v := &value{kind: record, at: spot{file: t.spec.name, line: r[0].at.line}}
	for i, c := range r {
		text := strings.TrimSpace(c.text)
		if text == "" {
			continue
		}
		if i >= len(t.keys) || strings.TrimSpace(t.head[i].text) == "" {
			t.log.fault(c.at, fmt.Sprintf("row %d", c.at.line), fmt.Sprintf("%s stands in a column without a heading", quoteText(text)),
				"name the column, or put text that holds the separator in quotes")
			continue
		}
		if t.keys[i] != "" {
			v.fields = append(v.fields, field{t.keys[i], c.at, t.cell(t.keys[i], text, c.at)})
		}
	}
	return v
}

func (t *tabler) cell(key, text string, at spot) *value {
	switch {
	case isNumberKey(key):
		text = t.number(text)
	case t.spec.serialDates && (key == "due" || key == "since"):
		text = serialDate(text, t.spec.from1904)
	}
	return &value{kind: scalar, at: at, text: text, cell: true}
}
