package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"kerfold/nest/week"
)

var cutListHead = []string{
	"layout", "material", "thickness_mm", "grade", "sheet", "location", "sheets_cut", "stacks", "machines",
	"number", "part", "order", "customer", "due", "per_sheet", "total", "note",
}

// WriteCutList writes one line per layout and part as CSV (RFC 4180, UTF-8):
// what lies on each sheet, how often it is cut, and how many parts come of it.
func WriteCutList(w io.Writer, p *week.Plan) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	out.Write(cutListHead)
	for gi := range p.Groups {
		g := &p.Groups[gi]
		for li := range g.Layouts {
			for _, r := range legendRows(g, &g.Layouts[li]) {
				out.Write(cutListLine(p, g, &g.Layouts[li], r))
			}
		}
	}
	out.Flush()
	return out.Error()
}

func cutListLine(p *week.Plan, g *week.Group, l *week.Layout, r legendRow) []string {
	s, o := &g.Sheets[l.Sheet], &g.Parts[r.part]
	return []string{
		l.ID, g.Material, Length(g.ThicknessMM), g.Grade.String(), s.ID, s.Location,
		strconv.Itoa(l.Repeats), stackWords(l), machineWords(p, l),
		strconv.Itoa(r.part + 1), o.Part, o.ID, o.Customer, encodeDay(o.Due),
		strconv.Itoa(r.onSheet), strconv.Itoa(r.onSheet * l.Repeats), o.Note,
	}
}

// stackWords is the stacks of a layout in short: 2 x 4 + 1 x 3.
func stackWords(l *week.Layout) string {
	var words []string
	for _, r := range mergedRuns(l.Runs) {
		words = append(words, fmt.Sprintf("%d x %d", r.Count, r.Depth))
	}
	return strings.Join(words, " + ")
}

func machineWords(p *week.Plan, l *week.Layout) string {
	var words []string
	for i := range p.Machines {
		for _, r := range l.Runs {
			if r.Machine == i {
				words = append(words, p.Machines[i].ID)
				break
			}
		}
	}
	return strings.Join(words, " + ")
}
