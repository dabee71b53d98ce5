package report

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// severing draws the cuts that free the remnant, with an arrow where each
// begins.
func (d *sheetDrawing) severing() {
	for _, s := range d.l.Route.Severing {
		d.c.Path(d.v.openPath(s.Path), `class="sever"`)
		x, y := d.v.at(s.Path[0].P)
		ux, uy := d.heading(s.Path[0].P, s.Path[1].P)
		d.arrowHead(x+2.6*ux, y+2.6*uy, ux, uy)
	}
}

// raised draws the rapid moves that pass over parts already cut free.
func (d *sheetDrawing) raised() {
	for _, m := range moves(&d.l.Route) {
		if m.over == 0 {
			continue
		}
		d.c.Path(d.v.openPath(m.path()), `class="raised"`)
		n := len(m.way)
		x, y := d.v.at(m.way[n-1])
		ux, uy := d.heading(m.way[n-2], m.way[n-1])
		d.smallHead(x, y, ux, uy)
	}
}

// heading is the direction from a to b on the page.
func (d *sheetDrawing) heading(a, b orb.Point) (ux, uy float64) {
	l := math.Max(math.Hypot(b[0]-a[0], b[1]-a[1]), 1e-9)
	return (b[0] - a[0]) / l, -(b[1] - a[1]) / l
}

func (d *sheetDrawing) smallHead(x, y, ux, uy float64) {
	const long, wide = 1.5, 0.5
	bx, by := x-long*ux, y-long*uy
	d.c.Polygon([]float64{x, bx - wide*uy, bx + wide*uy}, []float64{y, by + wide*ux, by - wide*ux}, `class="ink"`)
}

// tabs marks where parts hang on a tab.
func (d *sheetDrawing) tabs() {
	for i := range d.l.Route.Cuts {
		if tab := d.l.Route.Cuts[i].Tab(); len(tab) > 1 {
			a, b := tab[0].P, tab[len(tab)-1].P
			d.diamond(d.v.at(orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}))
		}
	}
}

func (d *sheetDrawing) diamond(x, y float64) {
	const r = 0.75
	d.c.Polygon([]float64{x, x + r, x, x - r}, []float64{y - r, y, y + r, y}, `class="tab"`)
}

// key explains the marks of the cuts that the sheet has, from x to the right.
func (d *sheetDrawing) key(x, y float64) {
	const gap = 6.0
	say := func(s string) {
		d.text(x, y, "small", s, `font-size="2.6"`)
		x += 2.6*emWidth*float64(len([]rune(s))) + gap
	}
	if n := len(d.l.Route.Severing); n > 0 {
		d.c.Line(x, y-1, x+9, y-1, `class="sever"`)
		x += 11
		say("cut last, frees the remnant")
	}
	raised, tabs := 0, 0
	for _, m := range moves(&d.l.Route) {
		raised += min(m.over, 1)
	}
	for i := range d.l.Route.Cuts {
		if d.l.Route.Cuts[i].TabMM > 0 {
			tabs++
		}
	}
	if raised > 0 {
		d.c.Line(x, y-1, x+7, y-1, `class="raised"`)
		d.smallHead(x+8, y-1, 1, 0)
		x += 10
		say(fmt.Sprintf("head raised over parts cut free (%d)", raised))
	}
	if tabs > 0 {
		d.diamond(x+1, y-1)
		x += 3
		say(fmt.Sprintf("tab (%d)", tabs))
	}
}
