package drawing

import (
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A numberScanner reads the numbers and words of path data, transforms and
// points.
type numberScanner struct {
	s string
	i int
}

// blank passes over blanks and commas.
func (n *numberScanner) blank() {
	for n.i < len(n.s) && strings.IndexByte(" \t\r\n\f,", n.s[n.i]) >= 0 {
		n.i++
	}
}

func (n *numberScanner) done() bool {
	n.blank()
	return n.i >= len(n.s)
}

// number reads the next number: digits may end where a second point or a sign
// begins, as in "1.5.5-2".
func (n *numberScanner) number() (float64, bool) {
	n.blank()
	start := n.i
	n.sign()
	digits := n.digits()
	if n.i < len(n.s) && n.s[n.i] == '.' {
		n.i++
		digits += n.digits()
	}
	if digits == 0 {
		n.i = start
		return 0, false
	}
	n.exponent()
	v, err := strconv.ParseFloat(n.s[start:n.i], 64)
	return v, err == nil && !math.IsInf(v, 0)
}

func (n *numberScanner) sign() {
	if n.i < len(n.s) && (n.s[n.i] == '-' || n.s[n.i] == '+') {
		n.i++
	}
}

func (n *numberScanner) digits() int {
	start := n.i
	for n.i < len(n.s) && n.s[n.i] >= '0' && n.s[n.i] <= '9' {
		n.i++
	}
	return n.i - start
}

// exponent reads e and digits where both are there; "1em" is a length.
func (n *numberScanner) exponent() {
	start := n.i
	if n.i < len(n.s) && (n.s[n.i] == 'e' || n.s[n.i] == 'E') {
		n.i++
		n.sign()
		if n.digits() == 0 {
			n.i = start
		}
	}
}

// flag reads a 0 or 1, which need not be parted from what follows.
func (n *numberScanner) flag() (bool, bool) {
	n.blank()
	if n.i < len(n.s) && (n.s[n.i] == '0' || n.s[n.i] == '1') {
		n.i++
		return n.s[n.i-1] == '1', true
	}
	return false, false
}

// numbers reads as many numbers as v holds.
func (n *numberScanner) numbers(v []float64) bool {
	for i := range v {
		var ok bool
		if v[i], ok = n.number(); !ok {
			return false
		}
	}
	return true
}

// command reads a letter.
func (n *numberScanner) command() (byte, bool) {
	n.blank()
	if n.i < len(n.s) && (n.s[n.i]|0x20 >= 'a' && n.s[n.i]|0x20 <= 'z') {
		n.i++
		return n.s[n.i-1], true
	}
	return 0, false
}

// parseTransform reads a transform attribute: functions applied from right to
// left. What cannot be read ends the list.
func parseTransform(s string) affine2 {
	m := affine2{orb.Point{1, 0}, orb.Point{0, 1}, orb.Point{}}
	for {
		name, rest, ok := strings.Cut(s, "(")
		args, after, closed := strings.Cut(rest, ")")
		if !ok || !closed {
			return m
		}
		var v []float64
		n := &numberScanner{s: args}
		for x, ok := n.number(); ok; x, ok = n.number() {
			v = append(v, x)
		}
		m = m.after(transformOf(strings.Trim(name, " \t\r\n,"), v))
		s = after
	}
}

// transformOf is one transform function; with the wrong number of arguments it
// does nothing.
func transformOf(name string, v []float64) affine2 {
	id := affine2{orb.Point{1, 0}, orb.Point{0, 1}, orb.Point{}}
	arg := func(i int, otherwise float64) float64 {
		if i < len(v) {
			return v[i]
		}
		return otherwise
	}
	switch {
	case len(v) == 0:
		return id
	case name == "matrix" && len(v) == 6:
		return affine2{orb.Point{v[0], v[1]}, orb.Point{v[2], v[3]}, orb.Point{v[4], v[5]}}
	case name == "translate":
		id.o = orb.Point{v[0], arg(1, 0)}
	case name == "scale":
		id.x[0], id.y[1] = v[0], arg(1, v[0])
	case name == "rotate":
		sin, cos := geom.SinCosDeg(v[0])
		turn := affine2{orb.Point{cos, sin}, orb.Point{-sin, cos}, orb.Point{}}
		c := orb.Point{arg(1, 0), arg(2, 0)}
		back := turn.dir(c)
		turn.o = orb.Point{c[0] - back[0], c[1] - back[1]}
		return turn
	case name == "skewX":
		id.y[0] = math.Tan(v[0] * math.Pi / 180)
	case name == "skewY":
		id.x[1] = math.Tan(v[0] * math.Pi / 180)
	}
	return id
}
