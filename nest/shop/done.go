package shop

import (
	"fmt"
	"io/fs"
	"strconv"
	"strings"
	"time"
)

// Done is what has been cut of a plan: for every layout how many sheets since
// the first plan, and which parts of them must be cut again. Giving the same
// file twice says nothing new.
type Done struct {
	// From is the day from which the rest is planned, FromSec the time of it,
	// seconds after midnight; zero where the file does not say.
	From    time.Time
	FromSec float64
	Lines   []DoneLine
}

// A DoneLine is one layout that has been begun.
type DoneLine struct {
	Layout   string
	Cut      int // sheets, all depths together
	Scrapped []Scrap
	At       Problem // where it is written, for messages
}

// A Scrap is copies of an order that were cut and are no good.
type Scrap struct {
	Order string
	Count int
}

// doneHeads are the headings of a table of what is done.
var doneHeads = []string{"layout", "cut", "scrapped"}

// ReadDone reads what has been cut: YAML with done: and a list, or a table with
// the columns layout, cut and scrapped. The error, where not nil, is a
// [Problems] with everything found wrong.
func ReadDone(fsys fs.FS, name string) (*Done, error) {
	l := newLoader(fsys, name)
	d := &Done{}
	data, err := l.read(name)
	if err != nil {
		l.log.fault(spot{file: name}, "", fmt.Sprintf("it cannot be read: %v", plainReason(err)), "look at its path")
		return nil, l.log.err()
	}
	var lines []*value
	if isTable(name) {
		lines = l.tableRecords(tableSpec{name: name, at: spot{file: name}, heads: doneHeads, dates: isoDates}, data)
	} else {
		lines = l.doneYAML(d, name, data)
	}
	first := map[string]spot{}
	for _, v := range lines {
		l.doneLine(d, v, first)
	}
	if len(lines) == 0 && len(l.log.problems) == 0 {
		l.log.fault(spot{file: name}, "", "nothing is done", "list layouts with how many sheets are cut, or plan without --done")
	}
	if err := l.log.err(); err != nil {
		return nil, err
	}
	return d, nil
}

func (l *loader) doneYAML(d *Done, name string, data []byte) []*value {
	v := parseYAML(l.log, name, data)
	if v == nil || v.kind == empty {
		return nil
	}
	f := l.log.open(v, "")
	if f.has("from") {
		d.From, d.FromSec = f.dueMoment("from")
	}
	f.known = append(f.known, "from")
	var lines []*value
	f.records("done", func(v *value) { lines = append(lines, v) })
	f.done()
	return lines
}

func (l *loader) doneLine(d *Done, v *value, first map[string]spot) {
	name := plainScalar(v, "layout")
	f := l.log.open(v, strings.TrimSpace("layout "+name))
	line := DoneLine{At: Problem{File: v.at.file, Line: v.at.line, Column: v.at.column, Subject: "layout " + name}}
	var ok bool
	if line.Layout, ok = f.text("layout"); !ok {
		f.missing("name the layout as the plan does, such as layout: G1-L2", "layout")
	}
	if line.Cut, ok = f.whole("cut", 0, maxQuantity); !ok {
		f.missing("say how many sheets of it are cut, such as cut: 2", "cut")
	}
	line.Scrapped = f.scrapped("scrapped")
	f.done()
	if at, twice := first[line.Layout]; twice {
		f.fault(f.at("layout"), fmt.Sprintf("%s is listed twice, first at %s", line.Layout, at), "give each layout one line with all its sheets")
	}
	first[line.Layout] = v.at
	if !f.faulty {
		d.Lines = append(d.Lines, line)
	}
}

// scrapped reads orders with counts: keys with values, or in a table
// "S-101: 2 | S-102: 1".
func (f *fields) scrapped(key string) []Scrap {
	got := f.get(key)
	if got == nil {
		return nil
	}
	var out []Scrap
	take := func(at spot, order, count string) {
		n, err := strconv.Atoi(strings.TrimSpace(count))
		if err != nil || n < 1 || n > maxQuantity || strings.TrimSpace(order) == "" {
			f.fault(at, fmt.Sprintf("%s holds %s", key, quoteText(order+": "+count)), "write the order and how many, such as S-101: 2")
			return
		}
		out = append(out, Scrap{strings.TrimSpace(order), n})
	}
	if got.val.kind == record {
		for _, s := range got.val.fields {
			take(s.at, s.key, s.val.text)
		}
		return out
	}
	for _, v := range itemsOf(got.val) {
		i := strings.LastIndex(v.text, ":")
		if i < 0 {
			take(v.at, v.text, "")
			continue
		}
		take(v.at, v.text[:i], v.text[i+1:])
	}
	return out
}

// itemsOf is a value's items; a single value is a list of one.
func itemsOf(v *value) []*value {
	if v.kind == scalar && !v.cell {
		return []*value{v}
	}
	return v.list()
}
