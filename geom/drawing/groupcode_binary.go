package drawing

import (
	"bytes"
	"encoding/binary"
)

// A valueKind is how the value of a group is stored in binary data.
type valueKind int

const (
	valueText   valueKind = iota // ends with a zero byte
	valueDouble                  // 8 bytes
	valueInt16
	valueInt32
	valueInt64
	valueByte
	valueChunk // one length byte, then as many bytes
)

// kinds gives the first code of each range, from the DXF reference.
var kinds = []struct {
	from int
	kind valueKind
}{
	{0, valueText},
	{10, valueDouble},
	{60, valueInt16},
	{80, valueText},
	{90, valueInt32},
	{100, valueText},
	{110, valueDouble},
	{160, valueInt64},
	{170, valueInt16},
	{180, valueText},
	{210, valueDouble},
	{240, valueText},
	{270, valueInt16},
	{290, valueByte},
	{300, valueText},
	{310, valueChunk},
	{320, valueText},
	{370, valueInt16},
	{390, valueText},
	{400, valueInt16},
	{410, valueText},
	{420, valueInt32},
	{430, valueText},
	{440, valueInt32},
	{460, valueDouble},
	{470, valueText},
	{1004, valueChunk},
	{1005, valueText},
	{1010, valueDouble},
	{1060, valueInt16},
	{1071, valueInt32},
	{1072, valueText},
}

// kindOf looks a code up. Codes below 0 and unknown ones hold text.
func kindOf(code int) valueKind {
	k := valueText
	for _, r := range kinds {
		if code < r.from {
			break
		}
		k = r.kind
	}
	return k
}

// size is the fixed number of bytes of a value, 0 where it varies.
func (k valueKind) size() int {
	switch k {
	case valueDouble, valueInt64:
		return 8
	case valueInt32:
		return 4
	case valueInt16:
		return 2
	case valueByte:
		return 1
	default:
		return 0
	}
}

// nextBinary reads a group of binary data.
func (t *tags) nextBinary() (tag, bool) {
	code, ok := t.binaryCode()
	if !ok {
		return tag{}, false
	}
	off, n := t.pos, 0
	switch k := kindOf(code); k {
	case valueText:
		if n = bytes.IndexByte(t.data[off:], 0); n < 0 {
			return tag{}, false
		}
		t.pos++ // the zero byte
	case valueChunk:
		if off >= len(t.data) {
			return tag{}, false
		}
		n = int(t.data[off])
		off++
		t.pos++
	default:
		n = k.size()
	}
	if off+n > len(t.data) {
		t.pos = len(t.data)
		return tag{}, false
	}
	t.pos += n
	return tag{int32(code), uint32(off), uint32(n)}, true
}

// binaryCode reads a code: two bytes since R13; before, one byte, or 255 and
// two bytes.
func (t *tags) binaryCode() (int, bool) {
	rest := len(t.data) - t.pos
	if !t.wide && rest >= 1 && t.data[t.pos] != 255 {
		t.pos++
		return int(t.data[t.pos-1]), true
	}
	if !t.wide {
		t.pos++
		rest--
	}
	if rest < 2 {
		t.pos = len(t.data)
		return 0, false
	}
	code := int(int16(binary.LittleEndian.Uint16(t.data[t.pos:])))
	t.pos += 2
	return code, true
}
