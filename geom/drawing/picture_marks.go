package drawing

import (
	"fmt"
	"html"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// A mark is a place in the picture that findings speak of.
type mark struct {
	at    orb.Point
	level Level
	kind  Kind
	label string // its number in the list; "" where it is a note
	count int
	text  string
}

// A numberKey says which findings share a number.
type numberKey struct {
	kind  Kind
	level Level
}

// maxRows bounds the list below the picture.
const maxRows = 30

// markPlaces makes a mark of every finding with a place. Findings of one kind
// that lie close together share one; alike ones share a number, so that the
// list stays short.
func markPlaces(in Intake) []mark {
	reach := 0.0
	if !in.Bounds.IsEmpty() {
		reach = max(in.Bounds.Max[0]-in.Bounds.Min[0], in.Bounds.Max[1]-in.Bounds.Min[1]) / 60
	}
	var out []mark
	numbers := map[numberKey]string{}
	for _, level := range []Level{Note, Suspect, Problem} { // the gravest drawn last, on top
		for _, f := range in.Findings {
			if f.Level != level || !f.HasAt || nearMark(out, f, reach) {
				continue
			}
			out = append(out, mark{at: f.At, level: level, kind: f.Kind, count: f.Count, text: f.Text})
		}
	}
	for level := Problem; level >= Note; level-- {
		for _, group := range gather(in.Findings, level) {
			if k := (numberKey{group[0].Kind, level}); group[0].HasAt && numbers[k] == "" {
				numbers[k] = strconv.Itoa(len(numbers) + 1)
			}
		}
	}
	for i := range out {
		out[i].label = numbers[numberKey{out[i].kind, out[i].level}]
	}
	return out
}

// nearMark counts a finding on a mark of its kind nearby.
func nearMark(marks []mark, f Finding, reach float64) bool {
	for i := range marks {
		if marks[i].kind == f.Kind && marks[i].level == f.Level && dist(marks[i].at, f.At) < reach {
			marks[i].count += f.Count
			return true
		}
	}
	return false
}

// draw draws the mark: a triangle for a problem, a square for what should be
// checked, a small disc for a note, with its number.
func (m mark) draw(b *strings.Builder, x, y float64) {
	switch m.level {
	case Problem:
		fmt.Fprintf(b, `<path class="problem" d="M%.2f %.2fl-15 26h30z"/><text class="num" x="%.2f" y="%.2f">%s</text>`+"\n", x, y, x, y+22, m.label)
	case Suspect:
		fmt.Fprintf(b, `<rect class="check" x="%.2f" y="%.2f" width="22" height="22"/><text class="num" x="%.2f" y="%.2f">%s</text>`+"\n", x-11, y-11, x, y+5.5, m.label)
	default:
		fmt.Fprintf(b, `<circle class="note" cx="%.2f" cy="%.2f" r="9"/><text class="num" style="font-size:12px" x="%.2f" y="%.2f">%s</text>`+"\n", x, y, x, y+4.5, m.label)
	}
}

// A pictureRow is one line of the list below the picture.
type pictureRow struct {
	level Level
	label string
	text  string
}

// pictureRows lists what the marks mean, then the findings without a place,
// the gravest first.
func pictureRows(in Intake, marks []mark) []pictureRow {
	labels := map[numberKey]string{}
	for _, m := range marks {
		labels[numberKey{m.kind, m.level}] = m.label
	}
	var rows []pictureRow
	for level := Problem; level >= Note; level-- {
		for _, group := range gather(in.Findings, level) {
			n := 0
			for _, f := range group {
				n += f.Count
			}
			text := group[0].Text
			if n > 1 {
				text += " (×" + strconv.Itoa(n) + ")"
			}
			r := pictureRow{level: level, text: text}
			if group[0].HasAt {
				r.label = labels[numberKey{group[0].Kind, level}]
			}
			if l := group[0].Layer; l != "" && l != "0" && l != topLayer {
				r.text += ", layer " + l
			}
			rows = append(rows, r)
		}
	}
	if n := len(rows) - maxRows; n > 0 {
		rows = append(rows[:maxRows], pictureRow{level: Note, text: "and " + plural(n, "more line in the report", "more lines in the report")})
	}
	return rows
}

func (r pictureRow) draw(b *strings.Builder, y float64) {
	x := pageMargin + 14
	if r.label != "" {
		switch r.level {
		case Problem:
			mark{level: Problem, label: r.label}.draw(b, x, y-20)
		case Suspect:
			mark{level: Suspect, label: r.label}.draw(b, x, y-6)
		default:
			mark{level: Note, label: r.label}.draw(b, x, y-6)
		}
	}
	fmt.Fprintf(b, `<text class="row" x="%.0f" y="%.2f">%s: %s</text>`+"\n", x+28, y, r.level, html.EscapeString(clip(r.text, 150)))
}
