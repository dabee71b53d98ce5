package report

import (
	"fmt"
	"io"
	"strings"

	svg "github.com/ajstarks/svgo/float"
	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/week"
)

// The page is A4 across, in mm; it grows downwards only when the legend needs it.
const (
	pageW, pageH = 297.0, 210.0
	edge         = 9.0  // unprinted border
	titleH       = 25.0 // title block
	footH        = 17.0 // scale bar, grain, small print
	legendW      = 84.0
	gutter       = 6.0
)

// WriteLayoutSVG draws one layout of a plan as a page that can be read on
// screen and on paper, in colour or not: parts carry numbers that the legend
// explains, and no meaning hangs on a colour alone.
func WriteLayoutSVG(w io.Writer, p *week.Plan, group, layout int) error {
	d := newSheetDrawing(w, p, group, layout)
	d.start()
	d.titleBlock()
	d.sheet()
	d.parts()
	d.cuts()
	d.severing()
	d.raised()
	d.numbers()
	d.tabs()
	d.legend()
	d.foot()
	d.c.End()
	return d.out.err
}

// A sheetDrawing is one page in the making.
type sheetDrawing struct {
	out    *stickyWriter
	c      *svg.SVG
	plan   *week.Plan
	g      *week.Group
	l      *week.Layout
	height float64 // of the page
	v      view
	rows   []legendRow
	rowH   float64
	placed []placedPart
	measure
}

// A placedPart is one copy of a part where it lies.
type placedPart struct {
	part   int
	own    geom.Shape // as drawn
	shape  geom.Shape // as it lies
	pose   geom.Pose
	box    orb.Bound
	number string
}

// A stickyWriter keeps the first error, because the drawing calls return none.
type stickyWriter struct {
	w   io.Writer
	err error
}

func (s *stickyWriter) Write(b []byte) (int, error) {
	if s.err != nil {
		return 0, s.err
	}
	n, err := s.w.Write(b)
	s.err = err
	return n, err
}

func newSheetDrawing(w io.Writer, p *week.Plan, group, layout int) *sheetDrawing {
	out := &stickyWriter{w: w}
	d := &sheetDrawing{out: out, c: svg.New(out), plan: p, g: &p.Groups[group], measure: measureOf(p)}
	d.c.Decimals = 3
	d.l = &d.g.Layouts[layout]
	d.rows = legendRows(d.g, d.l)
	d.rowH, d.height = legendSize(len(d.rows))
	top := edge + titleH + gutter
	d.v = fit(d.g.Sheets[d.l.Sheet].Outline.Bounds(), edge+4, top+2,
		pageW-2*edge-legendW-gutter-8, d.height-top-footH-edge-4)
	d.placed = placedParts(d.g, d.l)
	return d
}

func placedParts(g *week.Group, l *week.Layout) []placedPart {
	var out []placedPart
	for _, pl := range l.Placements {
		p := placedPart{part: pl.Part, pose: pl.Pose, number: fmt.Sprint(pl.Part + 1), own: g.Parts[pl.Part].Shape}
		p.shape = posed(p.own, pl.Pose)
		p.box = p.shape.Outer.Bounds()
		out = append(out, p)
	}
	return out
}

func posed(s geom.Shape, pose geom.Pose) geom.Shape {
	out := geom.Shape{Outer: s.Outer.Transform(pose)}
	for _, h := range s.Holes {
		out.Holes = append(out.Holes, h.Transform(pose))
	}
	return out
}

func (d *sheetDrawing) start() {
	d.c.Startraw(
		fmt.Sprintf(`width="%smm"`, num(pageW)), fmt.Sprintf(`height="%smm"`, num(d.height)),
		fmt.Sprintf(`viewBox="0 0 %s %s"`, num(pageW), num(d.height)), `role="img"`)
	d.c.Title(fmt.Sprintf("%s: layout %s", d.plan.Job, d.l.ID))
	d.c.Desc(d.describe())
	d.c.Style("text/css", sheetStyle)
	d.c.Def()
	d.out.Write([]byte(hatchDefs))
	d.c.DefEnd()
	d.c.Rect(0, 0, pageW, d.height, `class="page"`)
}

// describe says in one sentence what a reader who cannot see the picture misses.
func (d *sheetDrawing) describe() string {
	return fmt.Sprintf("%s on %s, %s %s, %s; %s; yield %s",
		plural(len(d.l.Placements), "part"), d.g.Sheets[d.l.Sheet].ID, d.measure.length(d.g.ThicknessMM),
		d.g.Material, cutWords(d.l), Duration(d.l.Seconds()), Percent(d.l.Yield()))
}

// text writes a line of text in a class.
func (d *sheetDrawing) text(x, y float64, class, s string, more ...string) {
	d.c.Text(x, y, s, append([]string{`class="` + class + `"`}, more...)...)
}

// fitted writes a line of text, set smaller where it would be wider than room,
// and cut off where it would become illegible.
func (d *sheetDrawing) fitted(x, y, size, room float64, class, s string, more ...string) {
	size, s = fitText(s, size, room)
	d.text(x, y, class, s, append([]string{fmt.Sprintf(`font-size="%s"`, num(size))}, more...)...)
}

// emWidth is the mean width of a character of the sans-serif faces in use, as a
// share of its size (measured on common faces, rounded up).
const emWidth = 0.64

const leastText = 1.9 // mm: smaller print is not read on a shop floor

func fitText(s string, size, room float64) (float64, string) {
	width := float64(len([]rune(s))) * emWidth
	if width*size <= room {
		return size, s
	}
	if small := room / width; small >= leastText {
		return small, s
	}
	keep := max(1, int(room/(leastText*emWidth))-1)
	runes := []rune(s)
	return leastText, strings.TrimRight(string(runes[:min(keep, len(runes))]), " ") + "…"
}

func (d *sheetDrawing) sheet() {
	s := d.g.Sheets[d.l.Sheet]
	d.c.Path(d.v.closedPath(s.Outline), `class="sheet"`)
	for _, b := range s.Blocked {
		path := d.v.closedPath(b)
		d.c.Path(path, `class="blocked"`)
	}
	if d.l.Remnant != nil {
		d.c.Path(d.v.closedPath(d.l.Remnant), `class="remnant"`)
	}
}

func (d *sheetDrawing) parts() {
	for i, p := range d.placed {
		o := d.g.Parts[p.part]
		d.c.Group(fmt.Sprintf(`class="part t%d"`, p.part%tints))
		d.c.Title(fmt.Sprintf("%s: %s, order %s, copy on this sheet %d, turned %s°%s",
			p.number, o.Part, o.ID, i+1, Length(p.pose.AngleDeg), turnedOver(p.pose)))
		d.c.Path(d.v.shapePath(p.shape))
		d.c.Gend()
	}
}

func turnedOver(p geom.Pose) string {
	if p.Mirror {
		return ", turned over"
	}
	return ""
}

// cuts draws leads and pierce points, thin: they matter at the machine, and
// must not hide the parts.
func (d *sheetDrawing) cuts() {
	d.c.Group(`class="lead"`)
	for i, cut := range d.l.Route.Cuts {
		path := d.v.openPath(cut.LeadIn) + d.v.openPath(cut.LeadOut)
		if path != "" {
			d.c.Path(path)
		}
		x, y := d.v.at(cut.Pierce)
		d.c.Circle(x, y, 0.35, fmt.Sprintf(`data-cut="%d"`, i+1))
	}
	d.c.Gend()
}

// numbers writes each part's number where the part is widest.
func (d *sheetDrawing) numbers() {
	d.c.Group(`class="number"`)
	for i, place := range numberPlaces(d.placed, d.v.scale) {
		x, y := d.v.at(place.at)
		if place.led {
			tx, ty := d.v.at(place.to)
			d.c.Line(x, y, tx, ty, `class="led"`)
			d.c.Circle(tx, ty, 0.25, `class="ink"`)
			continue
		}
		style := fmt.Sprintf(`font-size="%s"`, num(place.size))
		if place.tight {
			style += ` class="tight"`
		}
		if d.placed[i].pose.Mirror {
			style += ` text-decoration="overline"`
		}
		d.c.Text(x, y+0.36*place.size, d.placed[i].number, style)
	}
	d.c.Gend()
	d.zoneLabels()
}

// labelPlace is the widest spot of a part, in its own frame.
func labelPlace(s geom.Shape) geom.Disc {
	poly := orb.Polygon{s.Outer.Flatten(labelTolerance, geom.OnCurve)}
	for _, h := range s.Holes {
		poly = append(poly, h.Flatten(labelTolerance, geom.OnCurve))
	}
	b := s.Outer.Bounds()
	return geom.Pole(poly, max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1])/50)
}

// labelTolerance is how roughly an outline may be flattened to find room for
// its number, mm.
const labelTolerance = 0.5

// zoneLabels names blocked zones and the remnant.
func (d *sheetDrawing) zoneLabels() {
	for _, b := range d.g.Sheets[d.l.Sheet].Blocked {
		d.zoneLabel(b, "blocked")
	}
	if d.l.Remnant == nil {
		return
	}
	box := d.l.Remnant.Bounds()
	d.zoneLabel(d.l.Remnant, fmt.Sprintf("remnant %s, %s", d.l.RemnantID, d.measure.size(box.Max[0]-box.Min[0], box.Max[1]-box.Min[1])))
}

func (d *sheetDrawing) zoneLabel(c geom.Contour, s string) {
	box := c.Bounds()
	x, y := d.v.at(box.Center())
	w, h := (box.Max[0]-box.Min[0])*d.v.scale, (box.Max[1]-box.Min[1])*d.v.scale
	if wide := 3 * emWidth * float64(len(s)); w > h || w > wide || h < 12 {
		d.fitted(x, y+1, 3, max(w-2, 12), "zone", s)
		return
	}
	d.fitted(0, 1, 3, h-2, "zone", s, fmt.Sprintf(`transform="translate(%s %s) rotate(-90)"`, num(x), num(y)))
}
