package drawing

import (
	"fmt"
	"html"
	"io"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// Size of the picture in its own units: a landscape page.
const (
	pageWidth   = 1400.0
	pageMargin  = 40.0
	plotHeight  = 760.0
	titleHeight = 70.0
	lineHeight  = 24.0
)

// pictureStyle uses colours that stay apart for every common kind of colour
// blindness (Okabe and Ito, Color universal design, 2008); shape and dash
// patterns say the same without colour.
const pictureStyle = `
svg{background:#fff}
text{font-family:sans-serif;fill:#111}
.part{fill:#dde5ea;stroke:#111;stroke-width:1.4;fill-rule:evenodd}
.refused{fill:url(#cross);stroke:#a33b00;stroke-width:2.2;fill-rule:evenodd}
.open{fill:none;stroke:#d55e00;stroke-width:3;stroke-dasharray:11 5}
.end{fill:#fff;stroke:#d55e00;stroke-width:2}
.problem{fill:#d55e00;stroke:#fff;stroke-width:1.5}
.check{fill:#e69f00;stroke:#fff;stroke-width:1.5}
.note{fill:#0072b2;stroke:#fff;stroke-width:1}
.num{font-size:15px;font-weight:700;fill:#fff;text-anchor:middle}
.check+.num{fill:#111}
.title{font-size:24px;font-weight:700}
.sub{font-size:17px;fill:#333}
.row{font-size:16px}
.dim{font-size:16px;fill:#333;text-anchor:middle}
.rule{stroke:#555;stroke-width:1;fill:none}
.partno{font-size:16px;fill:#333;text-anchor:middle}
`

// WritePicture draws an intake as SVG: parts filled, what does not close
// dashed with rings at its ends, refused contours cross-hatched, and a numbered
// mark at every place the report speaks of, with the list of them below.
func WritePicture(w io.Writer, in Intake) error {
	marks := markPlaces(in)
	p := newPlot(in)
	rows := pictureRows(in, marks)
	height := titleHeight + p.height + 60 + lineHeight*float64(len(rows)) + pageMargin
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" width="%.0f" height="%.0f">`+"\n", pageWidth, height, pageWidth, height)
	fmt.Fprintf(&b, "<title>%s</title><style>%s</style>\n", html.EscapeString(in.Name), pictureStyle)
	b.WriteString(`<defs><pattern id="cross" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="9" height="9" fill="#fff"/><path d="M0 0H9M0 0V9" stroke="#a33b00" stroke-width="1.2"/></pattern></defs>` + "\n")
	pictureTitle(&b, in)
	p.draw(&b, in)
	p.dimensions(&b, in)
	for _, m := range marks {
		x, y := p.at(m.at)
		m.draw(&b, x, y)
	}
	top := titleHeight + p.height + 60
	for i, r := range rows {
		r.draw(&b, top+lineHeight*(float64(i)+0.7))
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func pictureTitle(b *strings.Builder, in Intake) {
	r := NewReport(in)
	fmt.Fprintf(b, `<text class="title" x="%.0f" y="36">%s: %s</text>`+"\n", pageMargin, html.EscapeString(clip(in.Name, 60)), html.EscapeString(r.Verdict))
	fmt.Fprintf(b, `<text class="sub" x="%.0f" y="60">%s; drawn in %s (%s)</text>`+"\n", pageMargin, r.summary(), words[r.Units], unitSource[r.UnitsFrom])
}

func clip(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}

// A plot maps the drawing to the page.
type plot struct {
	scale  float64
	box    orb.Bound
	left   float64
	height float64
}

func newPlot(in Intake) plot {
	box := in.Bounds
	if box.IsEmpty() {
		return plot{scale: 1, left: pageMargin, height: 40}
	}
	w, h := box.Max[0]-box.Min[0], box.Max[1]-box.Min[1]
	inner := pageWidth - 2*pageMargin - 60 // room for the height's figure
	scale := min(inner/max(w, 1e-9), plotHeight/max(h, 1e-9))
	return plot{scale: scale, box: box, left: pageMargin + 60 + (inner-w*scale)/2, height: h*scale + 20}
}

func (p plot) at(q orb.Point) (x, y float64) {
	return p.left + (q[0]-p.box.Min[0])*p.scale, titleHeight + 10 + (p.box.Max[1]-q[1])*p.scale
}

func (p plot) draw(b *strings.Builder, in Intake) {
	for _, c := range in.Refused {
		fmt.Fprintf(b, `<path class="refused" d="%s"/>`+"\n", p.contour(c))
	}
	for i, s := range in.Parts {
		d := p.contour(s.Outer)
		for _, h := range s.Holes {
			d += p.contour(h)
		}
		fmt.Fprintf(b, `<path class="part" d="%s"><title>part %d</title></path>`+"\n", d, i+1)
	}
	for _, c := range in.Open {
		fmt.Fprintf(b, `<path class="open" d="%s"/>`+"\n", p.path(pathSegments(c)))
		for _, end := range [2]orb.Point{c[0].P, c[len(c)-1].P} {
			x, y := p.at(end)
			fmt.Fprintf(b, `<circle class="end" cx="%.2f" cy="%.2f" r="4.5"/>`+"\n", x, y)
		}
	}
}

func (p plot) contour(c geom.Contour) string { return p.path(contourSegments(c)) + "Z" }

// path writes segments as path data. The page's y runs down, so what turns
// counter-clockwise in the drawing has the path's sweep flag 0.
func (p plot) path(segs []segment) string {
	if len(segs) == 0 {
		return ""
	}
	var b strings.Builder
	x, y := p.at(segs[0].a)
	fmt.Fprintf(&b, "M%.2f %.2f", x, y)
	for _, s := range segs {
		x, y := p.at(s.b)
		if !s.isArc() {
			fmt.Fprintf(&b, "L%.2f %.2f", x, y)
			continue
		}
		_, r := s.centre()
		large, sweep := 0, 0
		if math.Abs(s.bulge) > 1 {
			large = 1
		}
		if s.bulge < 0 {
			sweep = 1
		}
		fmt.Fprintf(&b, "A%.3f %.3f 0 %d %d %.2f %.2f", r*p.scale, r*p.scale, large, sweep, x, y)
	}
	return b.String()
}

// dimensions writes width and height beside the drawing.
func (p plot) dimensions(b *strings.Builder, in Intake) {
	if in.Bounds.IsEmpty() {
		return
	}
	x0, y0 := p.at(p.box.Min)
	x1, y1 := p.at(p.box.Max)
	width, height := p.box.Max[0]-p.box.Min[0], p.box.Max[1]-p.box.Min[1]
	n := decimals(width, height)
	fmt.Fprintf(b, `<path class="rule" d="M%.2f %.2fV%.2fM%.2f %.2fV%.2fM%.2f %.2fH%.2f"/>`+"\n", x0, y0+16, y0+28, x1, y0+16, y0+28, x0, y0+22, x1)
	fmt.Fprintf(b, `<text class="dim" x="%.2f" y="%.2f">%s mm</text>`+"\n", (x0+x1)/2, y0+42, fixed(width, n))
	fmt.Fprintf(b, `<path class="rule" d="M%.2f %.2fH%.2fM%.2f %.2fH%.2fM%.2f %.2fV%.2f"/>`+"\n", x0-28, y0, x0-16, x0-28, y1, x0-16, x0-22, y0, y1)
	fmt.Fprintf(b, `<text class="dim" transform="translate(%.2f %.2f) rotate(-90)">%s mm</text>`+"\n", x0-34, (y0+y1)/2, fixed(height, n))
}
