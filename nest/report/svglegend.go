package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"kerfold/geom"
	"kerfold/nest/week"
)

// A legendRow explains one part number.
type legendRow struct {
	part    int
	onSheet int // copies on one sheet
}

func legendRows(g *week.Group, l *week.Layout) []legendRow {
	counts := make([]int, len(g.Parts))
	for _, p := range l.Placements {
		counts[p.Part]++
	}
	var rows []legendRow
	for i, n := range counts {
		if n > 0 {
			rows = append(rows, legendRow{part: i, onSheet: n})
		}
	}
	return rows
}

const (
	rowMost, rowLeast = 8.0, 4.2 // mm
	legendTop         = edge + titleH + gutter + 9
)

// legendSize chooses the height of a row and of the page.
func legendSize(rows int) (rowH, height float64) {
	room := pageH - legendTop - footH - edge
	rowH = math.Min(rowMost, room/math.Max(1, float64(rows)))
	if rowH >= rowLeast {
		return rowH, pageH
	}
	return rowLeast, legendTop + rowLeast*float64(rows) + footH + edge
}

// legend lists the parts of the sheet beside their numbers.
func (d *sheetDrawing) legend() {
	x := pageW - edge - legendW
	y := edge + titleH + gutter
	d.text(x, y+3, "head", "No.", `font-size="2.6"`)
	d.text(x+20, y+3, "head", "part, order, due", `font-size="2.6"`)
	d.text(x+legendW-13, y+3, "head right", "a sheet", `font-size="2.6"`)
	d.text(x+legendW, y+3, "head right", "in all", `font-size="2.6"`)
	d.c.Line(x, y+5, x+legendW, y+5, `class="rule"`)
	for i, r := range d.rows {
		d.legendRow(x, legendTop+float64(i)*d.rowH-3, r)
	}
	d.legendTotal(x, legendTop+float64(len(d.rows))*d.rowH-3)
}

func (d *sheetDrawing) legendRow(x, y float64, r legendRow) {
	o := d.g.Parts[r.part]
	h := d.rowH
	mid := y + h/2 + 1
	size := math.Min(3.2, h*0.5)
	d.text(x+3, mid, "val mid", fmt.Sprint(r.part+1), fmt.Sprintf(`font-size="%s"`, num(math.Min(3.8, h*0.6))))
	d.thumbnail(x+7, y+0.5, 11, h-1, r.part)
	room := legendW - 20 - 26
	if h >= 6.4 {
		d.fitted(x+20, y+h/2-0.3, size, room, "val", o.Part)
		d.fitted(x+20, y+h/2+2.9, 2.5, room, "small", orderWords(o.ID, o.Due))
	} else {
		d.fitted(x+20, mid, size, room, "small", o.Part+" · "+orderWords(o.ID, o.Due))
	}
	d.text(x+legendW-13, mid, "right", fmt.Sprint(r.onSheet), fmt.Sprintf(`font-size="%s"`, num(size)))
	d.text(x+legendW, mid, "val right", fmt.Sprint(r.onSheet*d.l.Repeats), fmt.Sprintf(`font-size="%s"`, num(size)))
	d.c.Line(x, y+h, x+legendW, y+h, `class="hair"`)
}

func orderWords(id string, due time.Time) string {
	if due.IsZero() {
		return id
	}
	return id + ", " + due.Format("Mon 2 Jan")
}

// thumbnail draws a part small, as it lies in its own drawing.
func (d *sheetDrawing) thumbnail(x, y, w, h float64, part int) {
	s := d.g.Parts[part].Shape
	v := fit(s.Outer.Bounds(), x, y, w, h)
	d.c.Group(fmt.Sprintf(`class="part t%d"`, part%tints))
	d.c.Path(v.shapePath(s))
	d.c.Gend()
}

func (d *sheetDrawing) legendTotal(x, y float64) {
	n := len(d.l.Placements)
	d.text(x+legendW-13, y+4, "right", fmt.Sprint(n), `font-size="2.8"`)
	d.text(x+legendW, y+4, "val right", fmt.Sprint(n*d.l.Repeats), `font-size="2.8"`)
	d.text(x, y+4, "small", d.legendNote(), `font-size="2.4"`)
	if d.turnedOver() {
		d.text(x, y+7.6, "small", "overlined number: turned over", `font-size="2.4"`)
		y += 3.6
	}
	d.cautions(x, y+11)
}

// cautions writes the group's hazards below the legend, as far as there is room.
func (d *sheetDrawing) cautions(x, y float64) {
	const lead = 3.3
	size := 2.4
	for _, c := range d.g.Cautions {
		for i, line := range wrap("! "+d.measure.text(c), int(legendW/(size*emWidth))) {
			if y+lead > d.height-edge-footH {
				return
			}
			indent := 0.0
			if i > 0 {
				indent = 2.2
			}
			d.text(x+indent, y, "small", line, fmt.Sprintf(`font-size="%s"`, num(size)))
			y += lead
		}
		y += 0.8
	}
}

// wrap breaks a text into lines of at most so many characters, at spaces.
func wrap(s string, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && len([]rune(line))+1+len([]rune(word)) > most {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// legendNote names the row's totals, which count parts, and beside them the
// pierces, which a part may have many of.
func (d *sheetDrawing) legendNote() string {
	return fmt.Sprintf("all parts · %d pierces (○) a cut", len(d.l.Route.Cuts))
}

func (d *sheetDrawing) turnedOver() bool {
	return slices.ContainsFunc(d.placed, func(p placedPart) bool { return p.pose.Mirror })
}

// foot draws the scale bar, the grain, and the small print.
func (d *sheetDrawing) foot() {
	y := d.height - edge - footH + 6
	d.scaleBar(edge+4, y+2)
	d.grain(edge+72, y+2)
	d.key(edge+108, y+2)
	d.fitted(edge, d.height-edge, 2.3, pageW-2*edge-60, "small",
		"Figures are estimates. Check the sheet, the clamps and the first pierce; local codes and licensed practice decide.")
	d.text(pageW-edge, d.height-edge, "small right", fmt.Sprintf("%s · %s · %s",
		d.plan.Job, d.g.ID, d.l.ID), `font-size="2.3"`)
	d.origin()
}

// scaleBar draws a bar of a round length, about a quarter of the picture.
func (d *sheetDrawing) scaleBar(x, y float64) {
	one, unit := d.units.Show(1, "mm") // so much of the unit is a millimetre
	long := roundLength(60 / d.v.scale * one)
	w := long / one * d.v.scale
	d.c.Rect(x, y-1.6, w/2, 1.6, `class="ink"`)
	d.c.Rect(x, y-1.6, w, 1.6, `class="rule"`)
	d.text(x, y+3, "mid", "0", `font-size="2.6"`)
	d.text(x+w/2, y+3, "mid", rounded(long/2, 3), `font-size="2.6"`)
	d.text(x+w, y+3, "mid", rounded(long, 3)+" "+unit, `font-size="2.6"`)
}

// roundLength is the largest of 1, 2, 5 times a power of ten up to most.
func roundLength(most float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(most)))
	for _, k := range []float64{5, 2} {
		if k*p <= most {
			return k * p
		}
	}
	return p
}

// grain draws the direction of the sheet's grain, where it has one.
func (d *sheetDrawing) grain(x, y float64) {
	deg := d.g.Sheets[d.l.Sheet].GrainDeg
	if deg == nil {
		d.text(x, y, "small", "no grain", `font-size="2.6"`)
		return
	}
	const half = 7.0
	sin, cos := geom.SinCosDeg(*deg)
	ax, ay, bx, by := x+half-half*cos, y-1+half*sin, x+half+half*cos, y-1-half*sin
	d.c.Line(ax, ay, bx, by, `class="rule"`)
	d.arrowHead(bx, by, cos, -sin)
	d.arrowHead(ax, ay, -cos, sin)
	d.text(x+2*half+4, y, "val", "grain", `font-size="2.8"`)
}

func (d *sheetDrawing) arrowHead(x, y, ux, uy float64) {
	const long, wide = 2.6, 0.9
	bx, by := x-long*ux, y-long*uy
	d.c.Polygon([]float64{x, bx - wide*uy, bx + wide*uy}, []float64{y, by + wide*ux, by - wide*ux}, `class="ink"`)
}

// origin marks the sheet's zero corner.
func (d *sheetDrawing) origin() {
	x, y := d.v.left, d.v.bottom
	d.c.Circle(x, y, 1, `class="rule"`)
	d.c.Line(x-2, y, x+2, y, `class="rule"`)
	d.c.Line(x, y-2, x, y+2, `class="rule"`)
}
