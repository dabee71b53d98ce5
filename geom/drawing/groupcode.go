package drawing

import (
	"bytes"
	"encoding/binary"
	"math"
	"strconv"
)

// A tag is one group of a DXF file: a code and where its value lies in the
// data. Values are decoded when they are asked for.
type tag struct {
	code   int32
	off, n uint32
}

// tags reads groups one after another, from ASCII or binary data. It trusts
// nothing: counts are never read ahead of the bytes that are there.
type tags struct {
	data   []byte
	pos    int
	line   int  // lines read so far; 0 throughout for binary data
	end    byte // what ends a line
	binary bool
	wide   bool // binary codes take two bytes (R13 and later)
	log    *log
	comma  bool // a decimal comma was met
}

func newTags(data []byte, f format, l *log) *tags {
	t := &tags{data: data, log: l, binary: f == formatBinary}
	if t.binary {
		t.pos = len(binarySentinel)
		t.wide = t.pos+1 < len(data) && data[t.pos] == 0 && data[t.pos+1] == 0
		return t
	}
	t.end = lineEnd(data)
	return t
}

// lineEnd tells what ends lines: a carriage return where more of those stand
// alone than there are line feeds, else a line feed.
func lineEnd(data []byte) byte {
	feeds := bytes.Count(data, []byte{'\n'})
	alone := bytes.Count(data, []byte{'\r'}) - bytes.Count(data, []byte("\r\n"))
	if alone > feeds {
		return '\r'
	}
	return '\n'
}

// next returns the next group; comments are passed over.
func (t *tags) next() (tag, bool) {
	for {
		g, ok := t.nextAny()
		if !ok || g.code != 999 {
			return g, ok
		}
	}
}

func (t *tags) nextAny() (tag, bool) {
	if t.binary {
		return t.nextBinary()
	}
	for {
		off, n, ok := t.readLine()
		if !ok {
			return tag{}, false
		}
		code, good := parseCode(t.data[off : off+n])
		if !good {
			t.stray(off, n)
			continue
		}
		off, n, ok = t.readLine()
		if !ok {
			return tag{}, false
		}
		return tag{int32(code), uint32(off), uint32(n)}, true
	}
}

// readLine returns the next line without its end.
func (t *tags) readLine() (off, n int, ok bool) {
	if t.pos >= len(t.data) {
		return 0, 0, false
	}
	off = t.pos
	n = bytes.IndexByte(t.data[off:], t.end)
	if n < 0 {
		n = len(t.data) - off
	}
	t.pos = off + n + 1
	t.line++
	if n > 0 && (t.data[off+n-1] == '\r' || t.data[off+n-1] == '\n') {
		n--
	}
	return off, n, true
}

// stray notes a line that should be a group code and is none. Reading goes on
// with the next line, which finds the right step again when one line of a
// pair was lost.
func (t *tags) stray(off, n int) {
	if len(bytes.Trim(t.data[off:off+n], " \t\r\x00\x1a")) == 0 {
		return // blank lines and an end-of-file mark of old systems
	}
	t.log.add(Finding{
		Kind: StrayLine, Level: Suspect, Line: t.line,
		Text: "a line that should be a group code is none; it was passed over, and geometry near it may be missing",
	})
}

// parseCode reads a group code: an integer with optional blanks around it.
func parseCode(b []byte) (int, bool) {
	i, j := 0, len(b)
	for i < j && (b[i] == ' ' || b[i] == '\t') {
		i++
	}
	for j > i && (b[j-1] == ' ' || b[j-1] == '\t' || b[j-1] == '\r') {
		j--
	}
	if i == j || j-i > 5 {
		return 0, false
	}
	sign := 1
	if b[i] == '-' {
		sign, i = -1, i+1
	}
	v := 0
	for _, c := range b[i:j] {
		if c < '0' || c > '9' {
			return 0, false
		}
		v = v*10 + int(c-'0')
	}
	return sign * v, i < j
}

// bytes returns the value's bytes without blanks around them.
func (t *tags) bytes(g tag) []byte {
	b := t.data[g.off : g.off+g.n]
	if len(b) > 0 && (b[0] <= ' ' || b[len(b)-1] <= ' ') {
		b = bytes.Trim(b, " \t\r\x00\x1a")
	}
	return b
}

// is reports whether the value is the keyword, without case.
func (t *tags) is(g tag, keyword string) bool {
	b := t.bytes(g)
	return len(b) == len(keyword) && bytes.EqualFold(b, []byte(keyword))
}

// float returns the value; ok is false where it is no finite number.
func (t *tags) float(g tag) (v float64, ok bool) {
	if t.binary {
		v, ok = t.binaryFloat(g)
	} else {
		v, ok = t.parseFloat(t.bytes(g))
	}
	return v, ok && !math.IsNaN(v) && !math.IsInf(v, 0)
}

func (t *tags) parseFloat(b []byte) (float64, bool) {
	if v, ok := parseDecimal(b); ok {
		return v, true
	}
	v, err := strconv.ParseFloat(string(b), 64)
	if err == nil {
		return v, true
	}
	if bytes.Count(b, []byte{','}) != 1 || bytes.IndexByte(b, '.') >= 0 {
		return 0, false
	}
	v, err = strconv.ParseFloat(string(bytes.Replace(b, []byte{','}, []byte{'.'}, 1)), 64)
	t.comma = t.comma || err == nil
	return v, err == nil
}

// pow10 holds the powers of ten that a float64 holds exactly.
var pow10 = [...]float64{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// parseDecimal reads a plain decimal of at most 15 significant digits. Digits
// and power of ten are then exact, so one division rounds correctly (Clinger,
// How to read floating point numbers accurately, 1990).
func parseDecimal(b []byte) (float64, bool) {
	i, neg := 0, false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		i, neg = 1, b[0] == '-'
	}
	mant, digits, scale, point := uint64(0), 0, 0, false
	start := i
	for ; i < len(b); i++ {
		c := b[i]
		if c == '.' && !point {
			point = true
			continue
		}
		if c < '0' || c > '9' {
			return 0, false
		}
		if mant = mant*10 + uint64(c-'0'); mant > 0 {
			digits++
		}
		if point {
			scale++
		}
		if digits > 15 || scale > 22 {
			return 0, false
		}
	}
	if i == start || point && i == start+1 {
		return 0, false
	}
	v := float64(mant) / pow10[scale]
	if neg {
		v = -v
	}
	return v, true
}

// int returns the value as an integer, 0 where it is none.
func (t *tags) int(g tag) int {
	if t.binary {
		return t.binaryInt(g)
	}
	b := t.bytes(g)
	if v, ok := parseCode(b); ok {
		return v
	}
	v, err := strconv.ParseFloat(string(b), 64) // "1.0" is written for flags
	if err != nil || math.Abs(v) > 1<<31 {
		return 0
	}
	return int(v)
}

// hex returns a handle, 0 where it is none.
func (t *tags) hex(g tag) uint64 {
	v, _ := parseHex(t.bytes(g))
	return v
}

func parseHex(b []byte) (v uint64, ok bool) {
	if len(b) == 0 || len(b) > 16 {
		return 0, false
	}
	for _, c := range b {
		d := uint64(0)
		switch {
		case c >= '0' && c <= '9':
			d = uint64(c - '0')
		case c >= 'A' && c <= 'F':
			d = uint64(c-'A') + 10
		case c >= 'a' && c <= 'f':
			d = uint64(c-'a') + 10
		default:
			return 0, false
		}
		v = v<<4 | d
	}
	return v, true
}

// binaryFloat decodes a number of binary data by the size of its value.
func (t *tags) binaryFloat(g tag) (float64, bool) {
	if g.n == 8 && kindOf(int(g.code)) == valueDouble {
		return math.Float64frombits(binary.LittleEndian.Uint64(t.data[g.off:])), true
	}
	if kindOf(int(g.code)) == valueText {
		return 0, false
	}
	return float64(t.binaryInt(g)), true
}

func (t *tags) binaryInt(g tag) int {
	b := t.data[g.off : g.off+g.n]
	switch {
	case kindOf(int(g.code)) == valueDouble:
		v, _ := t.binaryFloat(g)
		if math.Abs(v) > 1<<31 || math.IsNaN(v) {
			return 0
		}
		return int(v)
	case len(b) == 1:
		return int(b[0])
	case len(b) == 2:
		return int(int16(binary.LittleEndian.Uint16(b)))
	case len(b) == 4:
		return int(int32(binary.LittleEndian.Uint32(b)))
	default:
		return 0
	}
}
