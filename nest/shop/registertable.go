package shop

import (
	"errors"
	"math"
	"slices"
	"strings"
	"time"

	"kerfold/geom"
)

// A rawTable is a table as written: fields with their quotes, so that what is
// not edited stays to the letter.
type rawTable struct {
	head    string // a separator line before the table, its line end included
	rows    [][]string
	lines   []int // the line each row begins in
	heading int   // index of the heading row
	comma   rune
	decimal string
	keys    []string // of each column; "" is not ours
	end     string   // what follows the last row: a line end or nothing
}

var errNoTable = errors.New("no table")

// readRawTable parts a table's text into fields as written.
func readRawTable(name, text string) (*rawTable, error) {
	l := newLoader(nil, name)
	spec := tableSpec{name: name, at: spot{file: name}, heads: stockHeads, dates: isoDates}
	rows := parseCSV(l.log, &spec, text)
	head, body := spec.splitHeading(rows)
	if head == nil {
		return nil, errNoTable
	}
	t := &rawTable{comma: spec.comma, keys: l.headings(&spec, head), heading: len(rows) - len(body) - 1}
	if len(t.keys) == 0 {
		return nil, errNoTable
	}
	cells := tabler{log: l.log, spec: &spec, head: head, keys: t.keys}
	cells.findDecimal(body)
	t.decimal = cells.decimal
	t.split(name, text, &spec)
	return t, nil
}

func (t *rawTable) split(name, text string, spec *tableSpec) {
	r := csvReader{log: newLog(), file: name, text: []rune(text), line: 1, column: 1, comma: t.comma}
	r.separatorLine(spec)
	t.head = string(r.text[:r.pos])
	for !r.end() {
		t.lines = append(t.lines, r.line)
		var ended bool
		var fields []string
		fields, ended = r.rawRow()
		t.rows = append(t.rows, fields)
		if ended && r.end() {
			t.end = "\n"
		}
	}
}

// rawRow is row with the fields as written, and whether a line end closed it.
func (r *csvReader) rawRow() (out []string, ended bool) {
	for {
		from := r.pos
		r.field()
		out = append(out, string(r.text[from:r.pos]))
		if r.end() {
			return out, false
		}
		if r.next() == '\n' {
			return out, true
		}
		if r.end() {
			return append(out, ""), false
		}
	}
}

func (t *rawTable) String() string {
	var b strings.Builder
	b.WriteString(t.head)
	for i, r := range t.rows {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(strings.Join(r, string(t.comma)))
	}
	b.WriteString(t.end)
	return b.String()
}

// column is the place of the column that holds a key, made where there is none.
func (t *rawTable) column(key string) int {
	if i := slices.Index(t.keys, key); i >= 0 {
		return i
	}
	head := t.rows[t.heading]
	for len(head) < len(t.keys) {
		head = append(head, "")
	}
	t.rows[t.heading] = append(head, key)
	t.keys = append(t.keys, key)
	return len(t.keys) - 1
}

// set writes a field of a row, which grows as needed.
func (t *rawTable) set(row, column int, text string) {
	for len(t.rows[row]) <= column {
		t.rows[row] = append(t.rows[row], "")
	}
	t.rows[row][column] = t.quoted(text)
}

// quoted puts a text in quotes where it needs them.
func (t *rawTable) quoted(text string) string {
	if !strings.ContainsRune(text, t.comma) && !strings.ContainsAny(text, "\"\n") && strings.TrimSpace(text) == text {
		return text
	}
	return `"` + strings.ReplaceAll(text, `"`, `""`) + `"`
}

func (t *rawTable) number(x float64) string {
	text := exact(x)
	if t.decimal == "comma" {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text
}

// editTable writes changed counts and appends new lines.
func editTable(name, text string, before, after []Stock) (string, error) {
	t, err := readRawTable(name, text)
	if err != nil {
		return "", err
	}
	filled := t.filledRows()
	if len(filled) != len(before) {
		return "", errNoTable
	}
	for i, row := range filled {
		if after[i].Count != before[i].Count {
			t.set(row, t.column("count"), exact(float64(after[i].Count)))
		}
	}
	for i := range after[len(before):] {
		if err := t.add(&after[len(before)+i]); err != nil {
			return "", err
		}
	}
	return t.String(), nil
}

// filledRows are the rows below the heading that hold something, in order.
func (t *rawTable) filledRows() []int {
	var out []int
	for i := t.heading + 1; i < len(t.rows); i++ {
		if slices.ContainsFunc(t.rows[i], func(s string) bool { return strings.Trim(s, "\" \t\u00a0") != "" }) {
			out = append(out, i)
		}
	}
	return out
}

// add appends a line of stock.
func (t *rawTable) add(s *Stock) error {
	row := t.newRow()
	put := func(key, text string) {
		if text != "" {
			t.set(row, t.column(key), text)
		}
	}
	put("id", s.ID)
	put("material", s.Material)
	t.size(row, "thickness", s.ThicknessMM)
	if len(s.Blocked) > 0 {
		return errors.New("a table holds no blocked zones")
	}
	if x, y, ok := boxSize(s.Outline); ok {
		t.size(row, "width", x)
		t.size(row, "height", y)
	} else {
		put("points_mm", pointsCell(s.Outline))
	}
	put("count", exact(float64(s.Count)))
	put("cost", t.number(s.Cost))
	if s.GrainDeg != nil {
		put("grain_deg", t.number(*s.GrainDeg))
	}
	put("remnant", map[bool]string{true: "yes", false: "no"}[s.Remnant])
	put("lot", s.Lot)
	put("location", s.Location)
	if !s.Since.IsZero() {
		put("since", s.Since.Format(time.DateOnly))
	}
	put("source", s.Source)
	put("origin", s.Origin)
	put("note", s.Note)
	return nil
}

// newRow makes a row after the last that holds something.
func (t *rawTable) newRow() int {
	at := t.heading + 1
	if filled := t.filledRows(); len(filled) > 0 {
		at = filled[len(filled)-1] + 1
	}
	if at == len(t.rows) && t.end == "" {
		t.end = "\n"
	}
	t.rows = slices.Insert(t.rows, at, make([]string, len(t.keys)))
	return at
}

// size writes a length into the column that holds it, in that column's unit.
func (t *rawTable) size(row int, base string, mm float64) {
	for _, u := range length.units {
		if i := slices.Index(t.keys, base+"_"+u.suffix); i >= 0 {
			t.set(row, i, t.number(inUnit(mm, u.size)))
			return
		}
	}
	if i := slices.Index(t.keys, base); i >= 0 {
		t.set(row, i, t.number(mm)+" mm")
		return
	}
	t.set(row, t.column(base+"_mm"), t.number(mm))
}

// inUnit is a length in a unit of so many mm, with as few digits as read back
// within the grid.
func inUnit(mm, size float64) float64 {
	x := mm / size
	for scale := 1.0; scale < 1e9; scale *= 10 {
		if r := math.Round(x*scale) / scale; math.Abs(r*size-mm) < geom.Grid/4 {
			return r
		}
	}
	return x
}

// pointsCell writes an outline into a cell.
func pointsCell(c geom.Contour) string {
	points := make([]string, len(c))
	for i, v := range c {
		points[i] = exact(v.P[0]) + " " + exact(v.P[1])
		if v.Bulge != 0 {
			points[i] += " " + exact(v.Bulge)
		}
	}
	return strings.Join(points, "|")
}
