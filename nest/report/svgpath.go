package report

import (
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A view maps sheet millimetres to paper millimetres: x grows to the right, y
// to the bottom of the page.
type view struct {
	scale          float64 // paper mm per sheet mm
	left, bottom   float64 // paper place of the sheet's lower left corner
	minX, minY     float64 // that corner in sheet coordinates
	paperW, paperH float64 // extents on paper
}

// fit places bounds centred into a paper rectangle.
func fit(b orb.Bound, x, y, w, h float64) view {
	bw, bh := math.Max(b.Max[0]-b.Min[0], 1), math.Max(b.Max[1]-b.Min[1], 1)
	s := math.Min(w/bw, h/bh)
	v := view{scale: s, minX: b.Min[0], minY: b.Min[1], paperW: bw * s, paperH: bh * s}
	v.left = x + (w-v.paperW)/2
	v.bottom = y + h - (h-v.paperH)/2
	return v
}

func (v view) at(p orb.Point) (x, y float64) {
	return v.left + (p[0]-v.minX)*v.scale, v.bottom - (p[1]-v.minY)*v.scale
}

// num writes a paper coordinate: a micrometre on paper is finer than any zoom
// shows, and keeps the file small.
func num(x float64) string {
	s := strconv.FormatFloat(x, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

// closedPath is the path data of a closed contour.
func (v view) closedPath(c geom.Contour) string {
	if len(c) == 0 {
		return ""
	}
	var b strings.Builder
	v.segments(&b, c, len(c))
	b.WriteString("Z")
	return b.String()
}

// openPath is the path data of an open chain.
func (v view) openPath(p geom.Path) string {
	if len(p) < 2 {
		return ""
	}
	var b strings.Builder
	v.segments(&b, geom.Contour(p), len(p)-1)
	return b.String()
}

// segments writes the first n segments of c, the last closing where n = len(c).
func (v view) segments(b *strings.Builder, c []geom.Vertex, n int) {
	x, y := v.at(c[0].P)
	b.WriteString("M" + num(x) + " " + num(y))
	for i := range n {
		v.segment(b, c[i], c[(i+1)%len(c)].P)
	}
}

func (v view) segment(b *strings.Builder, from geom.Vertex, to orb.Point) {
	x, y := v.at(to)
	if from.Bulge == 0 {
		b.WriteString("L" + num(x) + " " + num(y))
		return
	}
	chord := math.Hypot(to[0]-from.P[0], to[1]-from.P[1])
	r := chord * (1 + from.Bulge*from.Bulge) / (4 * math.Abs(from.Bulge)) * v.scale
	large, sweep := "0", "0"
	if math.Abs(from.Bulge) > 1 {
		large = "1"
	}
	if from.Bulge < 0 { // the page's y axis points down
		sweep = "1"
	}
	b.WriteString("A" + num(r) + " " + num(r) + " 0 " + large + " " + sweep + " " + num(x) + " " + num(y))
}

// shapePath is the path data of an outline with its holes.
func (v view) shapePath(s geom.Shape) string {
	var b strings.Builder
	b.WriteString(v.closedPath(s.Outer))
	for _, h := range s.Holes {
		b.WriteString(v.closedPath(h))
	}
	return b.String()
}
