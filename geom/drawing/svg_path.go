package drawing

import (
	"math"

	"github.com/paulmach/orb"
)

// A trail draws the subpaths of one SVG element through its transform.
type trail struct {
	pen      *pen
	m        affine2
	start    orb.Point // of the subpath
	at       orb.Point // where the pen is
	lastCtrl orb.Point // the second control point of the last curve
	last     byte      // the last command's kind, in lower case
	smooth   cubics    // curves not yet drawn, in mm
	count    int       // subpaths drawn
}

func (t *trail) moveTo(p orb.Point) {
	t.finish(false)
	t.start, t.at = p, p
}

func (t *trail) lineTo(p orb.Point) {
	t.flush()
	t.pen.lineTo(t.m.at(t.at), t.m.at(p))
	t.at = p
}

func (t *trail) cubicTo(c1, c2, p orb.Point) {
	t.smooth = append(t.smooth, cubic{t.m.at(t.at), t.m.at(c1), t.m.at(c2), t.m.at(p)})
	t.at, t.lastCtrl = p, c2
}

// quadTo draws a curve of degree 2 as the same curve of degree 3.
func (t *trail) quadTo(c, p orb.Point) {
	third := func(a, b orb.Point) orb.Point {
		return orb.Point{a[0] + (b[0]-a[0])*2/3, a[1] + (b[1]-a[1])*2/3}
	}
	t.cubicTo(third(t.at, c), third(p, c), p)
	t.lastCtrl = c
}

// flush draws the waiting curves as one, so that arcs may run on from one to
// the next.
func (t *trail) flush() {
	if len(t.smooth) > 0 {
		t.pen.fitted(t.smooth)
		t.smooth = nil
	}
}

// finish ends the subpath.
func (t *trail) finish(closed bool) {
	t.flush()
	if closed && t.at != t.start && len(t.pen.segs) > 0 {
		t.lineTo(t.start)
	}
	if t.pen.draft.place(t.pen.segs, closed, t.pen.from, t.pen.layer, t.pen.out) {
		t.count++
	}
	t.pen.segs = t.pen.segs[:0]
	t.at = t.start
}

// points draws the points of a polyline or polygon.
func (t *trail) points(s string, closed bool) bool {
	n := &numberScanner{s: s}
	var p [2]float64
	for first := true; !n.done(); first = false {
		if !n.numbers(p[:]) {
			return false
		}
		if first {
			t.moveTo(p)
		} else {
			t.lineTo(p)
		}
	}
	t.finish(closed)
	return true
}

// rect draws a rectangle, with quarter ellipses for corners where they are
// rounded.
func (t *trail) rect(r svgRect) {
	if !(r.w > 0) || !(r.h > 0) {
		return
	}
	if !(r.rx > 0) || !(r.ry > 0) {
		r.rx, r.ry = 0, 0
	}
	x0, x1, x2, x3 := r.x, r.x+r.rx, r.x+r.w-r.rx, r.x+r.w
	y0, y1, y2, y3 := r.y, r.y+r.ry, r.y+r.h-r.ry, r.y+r.h
	t.moveTo(orb.Point{x1, y0})
	corner := func(c, end orb.Point, fromDeg float64) {
		if r.rx > 0 {
			t.conicTo(conic{c, orb.Point{r.rx, 0}, orb.Point{0, r.ry}, fromDeg * math.Pi / 180, math.Pi / 2}, end)
		}
	}
	side := func(p orb.Point) {
		if p != t.at {
			t.lineTo(p)
		}
	}
	side(orb.Point{x2, y0})
	corner(orb.Point{x2, y1}, orb.Point{x3, y1}, -90)
	side(orb.Point{x3, y2})
	corner(orb.Point{x2, y2}, orb.Point{x2, y3}, 0)
	side(orb.Point{x1, y3})
	corner(orb.Point{x1, y2}, orb.Point{x0, y2}, 90)
	side(orb.Point{x0, y1})
	corner(orb.Point{x1, y1}, orb.Point{x1, y0}, 180)
	t.finish(true)
}

// ellipse draws a whole ellipse.
func (t *trail) ellipse(c orb.Point, rx, ry float64) {
	if !(rx > 0) || !(ry > 0) {
		return
	}
	t.moveTo(orb.Point{c[0] + rx, c[1]})
	t.conicTo(conic{c, orb.Point{rx, 0}, orb.Point{0, ry}, 0, 2 * math.Pi}, t.at)
	t.finish(true)
}

// conicTo draws part of an ellipse, given in user units, that ends at p.
func (t *trail) conicTo(e conic, p orb.Point) {
	t.flush()
	t.pen.ellipseTo(conic{t.m.at(e.c), t.m.dir(e.u), t.m.dir(e.v), e.from, e.sweep})
	t.at = p
}

// arcTo draws the arc of an SVG path's A command: the end point form turned
// into centre form as the SVG specification's implementation notes have it.
func (t *trail) arcTo(rx, ry, turnDeg float64, large, ccw bool, p orb.Point) {
	rx, ry = math.Abs(rx), math.Abs(ry)
	if p == t.at {
		return
	}
	if rx == 0 || ry == 0 {
		t.lineTo(p)
		return
	}
	sin, cos := math.Sincos(turnDeg * math.Pi / 180)
	hx, hy := (t.at[0]-p[0])/2, (t.at[1]-p[1])/2
	x, y := cos*hx+sin*hy, cos*hy-sin*hx // the first point, seen from the middle, along the axes
	if k := x*x/(rx*rx) + y*y/(ry*ry); k > 1 {
		rx, ry = rx*math.Sqrt(k), ry*math.Sqrt(k)
	}
	k := (rx*rx*ry*ry - rx*rx*y*y - ry*ry*x*x) / (rx*rx*y*y + ry*ry*x*x)
	f := math.Sqrt(max(0, k))
	if large == ccw {
		f = -f
	}
	cx, cy := f*rx*y/ry, -f*ry*x/rx
	from := math.Atan2((y-cy)/ry, (x-cx)/rx)
	sweep := math.Atan2((-y-cy)/ry, (-x-cx)/rx) - from
	if ccw && sweep < 0 {
		sweep += 2 * math.Pi
	}
	if !ccw && sweep > 0 {
		sweep -= 2 * math.Pi
	}
	c := orb.Point{cos*cx - sin*cy + (t.at[0]+p[0])/2, sin*cx + cos*cy + (t.at[1]+p[1])/2}
	t.conicTo(conic{c, orb.Point{rx * cos, rx * sin}, orb.Point{-ry * sin, ry * cos}, from, sweep}, p)
}

// path draws path data; false where something in it is no command or number.
// What comes before is drawn, as the specification asks.
func (t *trail) path(s string) bool {
	n := &numberScanner{s: s}
	cmd, ok := n.command()
	if !ok || cmd|0x20 != 'm' {
		return n.done()
	}
	for ok {
		if !t.command(n, cmd) {
			return false
		}
		t.last = cmd | 0x20
		if n.done() {
			return true
		}
		next, isCommand := n.command()
		switch {
		case isCommand:
			cmd = next
		case cmd|0x20 == 'z':
			return false
		case cmd == 'M':
			cmd = 'L'
		case cmd == 'm':
			cmd = 'l'
		}
	}
	return true
}

// pathNumbers is how many numbers the commands take whose numbers are points.
var pathNumbers = map[byte]int{'m': 2, 'c': 6, 's': 4, 'q': 4, 't': 2}

// command draws one command with one set of numbers.
func (t *trail) command(n *numberScanner, cmd byte) bool {
	var origin orb.Point
	if cmd >= 'a' { // lower case counts from where the pen is
		origin = t.at
	}
	cmd |= 0x20
	switch cmd {
	case 'z':
		t.finish(true)
		return true
	case 'l', 'h', 'v':
		return t.straight(n, cmd, origin)
	case 'a':
		return t.arcCommand(n, origin)
	}
	var v [6]float64
	count, known := pathNumbers[cmd]
	if !known || !n.numbers(v[:count]) {
		return false
	}
	t.pointCommand(cmd, func(i int) orb.Point { return orb.Point{origin[0] + v[2*i], origin[1] + v[2*i+1]} })
	return true
}

// pointCommand draws a command given by points.
func (t *trail) pointCommand(cmd byte, pt func(i int) orb.Point) {
	switch cmd {
	case 'm':
		t.moveTo(pt(0))
	case 'c':
		t.cubicTo(pt(0), pt(1), pt(2))
	case 's':
		t.cubicTo(t.mirrored('c', 's'), pt(0), pt(1))
	case 'q':
		t.quadTo(pt(0), pt(1))
	case 't':
		t.quadTo(t.mirrored('q', 't'), pt(0))
	}
}

func (t *trail) straight(n *numberScanner, cmd byte, origin orb.Point) bool {
	x, ok := n.number()
	if !ok {
		return false
	}
	p := orb.Point{origin[0] + x, t.at[1]}
	switch cmd {
	case 'v':
		p = orb.Point{t.at[0], origin[1] + x}
	case 'l':
		y, ok := n.number()
		if !ok {
			return false
		}
		p[1] = origin[1] + y
	}
	t.lineTo(p)
	return true
}

func (t *trail) arcCommand(n *numberScanner, origin orb.Point) bool {
	var r [3]float64
	var end [2]float64
	if !n.numbers(r[:]) {
		return false
	}
	large, ok1 := n.flag()
	ccw, ok2 := n.flag()
	if !ok1 || !ok2 || !n.numbers(end[:]) {
		return false
	}
	t.arcTo(r[0], r[1], r[2], large, ccw, orb.Point{origin[0] + end[0], origin[1] + end[1]})
	return true
}

// mirrored is the last curve's control point mirrored in where the pen is, or
// that place itself after another command.
func (t *trail) mirrored(kinds ...byte) orb.Point {
	for _, k := range kinds {
		if t.last == k {
			return orb.Point{2*t.at[0] - t.lastCtrl[0], 2*t.at[1] - t.lastCtrl[1]}
		}
	}
	return t.at
}
