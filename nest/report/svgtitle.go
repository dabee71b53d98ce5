package report

import (
	"fmt"
	"strings"

	"kerfold/nest/week"
)

// A titleCell is one field of the title block.
type titleCell struct {
	key, val string
	share    float64 // of the row's width
}

// titleBlock draws what has to be known at the machine before the sheet is
// loaded: which layout, what material, how many sheets at once and how often.
func (d *sheetDrawing) titleBlock() {
	const nameW = 46.0
	d.c.Rect(edge, edge, nameW, titleH, `class="ink"`)
	d.fitted(edge+nameW/2, edge+13.5, 10, nameW-6, "name mid", d.l.ID)
	d.fitted(edge+nameW/2, edge+20.5, 3, nameW-6, "of mid", d.plan.Job)
	d.c.Rect(edge, edge, pageW-2*edge, titleH, `class="rule"`)
	x, w := edge+nameW, pageW-2*edge-nameW
	d.titleRow(x, edge, w, d.titleFirst())
	d.c.Line(x, edge+titleH/2, x+w, edge+titleH/2, `class="hair"`)
	d.titleRow(x, edge+titleH/2, w, d.titleSecond())
}

func (d *sheetDrawing) titleRow(x, y, w float64, cells []titleCell) {
	for i, c := range cells {
		if i > 0 {
			d.c.Line(x, y, x, y+titleH/2, `class="hair"`)
		}
		d.text(x+2, y+4, "key", c.key, `font-size="2.5"`)
		d.fitted(x+2, y+9.6, 4.4, w*c.share-5, "val", c.val)
		x += w * c.share
	}
}

func (d *sheetDrawing) titleFirst() []titleCell {
	return []titleCell{
		{"material", d.g.Material, .24},
		{"thickness", d.measure.length(d.g.ThicknessMM), .11},
		{"edge grade", d.g.Grade.String(), .12},
		{"machine", machineWords(d.plan, d.l), .12},
		{"sheet", d.sheetWords(), .41},
	}
}

func (d *sheetDrawing) titleSecond() []titleCell {
	return []titleCell{
		{"load and cut", cutWords(d.l), .3},
		{"yield", Percent(d.l.Yield()), .12},
		{"machine time, all runs", Duration(d.l.Seconds()), .17},
		{"cost, all runs", Amount(d.l.Ledger.Money.Total(), d.plan.Currency), .17},
		{"feed", d.feedWords(), .24},
	}
}

func (d *sheetDrawing) sheetWords() string {
	s := d.g.Sheets[d.l.Sheet]
	b := s.Outline.Bounds()
	words := s.ID + ", " + d.size(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1])
	if s.Location != "" {
		words += ", at " + s.Location
	}
	return words
}

// cutWords says how often the layout is cut and how many sheets at once.
func cutWords(l *week.Layout) string {
	var words []string
	for _, r := range mergedRuns(l.Runs) {
		switch {
		case r.Depth == 1 && r.Count == 1:
			words = append(words, "1 sheet")
		case r.Depth == 1:
			words = append(words, fmt.Sprintf("%d single sheets", r.Count))
		case r.Count == 1:
			words = append(words, fmt.Sprintf("a stack of %d", r.Depth))
		default:
			words = append(words, fmt.Sprintf("%d stacks of %d", r.Count, r.Depth))
		}
	}
	return strings.Join(words, " + ")
}

// mergedRuns adds up runs of equal depth on different machines.
func mergedRuns(runs []week.Run) []week.Run {
	var out []week.Run
next:
	for _, r := range runs {
		for i := range out {
			if out[i].Depth == r.Depth {
				out[i].Count += r.Count
				continue next
			}
		}
		out = append(out, r)
	}
	return out
}

func (d *sheetDrawing) feedWords() string {
	if len(d.l.Runs) == 0 {
		return ""
	}
	s := d.l.Runs[0].Speed
	return fmt.Sprintf("%s %s (%s)", d.feed(s.MMPerMin), d.unit("mm/min"), s.Limit)
}
