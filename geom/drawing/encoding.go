package drawing

import (
	"bytes"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
	"golang.org/x/text/encoding/traditionalchinese"
)

// toBytes returns the data with one byte per ASCII character: UTF-16, told by
// its byte order mark or by the zero bytes of its first characters, becomes
// UTF-8, and a UTF-8 byte order mark is taken off.
func toBytes(data []byte) []byte {
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		return data[3:]
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		return fromUTF16(data[2:], 1)
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		return fromUTF16(data[2:], 0)
	case zeroesAt(data, 1):
		return fromUTF16(data, 1)
	case zeroesAt(data, 0):
		return fromUTF16(data, 0)
	}
	return data
}

// zeroesAt reports whether, of the first 16 byte pairs, the bytes at this
// place in the pair are all zero and the others are not.
func zeroesAt(data []byte, place int) bool {
	if len(data) < 32 {
		return false
	}
	for i := 0; i < 32; i += 2 {
		if data[i+place] != 0 || data[i+1-place] == 0 {
			return false
		}
	}
	return true
}

// fromUTF16 decodes; high is the place of the high byte in a pair.
func fromUTF16(data []byte, high int) []byte {
	out := make([]byte, 0, len(data)/2+16)
	unit := func(i int) rune { return rune(data[i+high])<<8 | rune(data[i+1-high]) }
	for i := 0; i+1 < len(data); i += 2 {
		r := unit(i)
		if utf16.IsSurrogate(r) && i+3 < len(data) {
			r = utf16.DecodeRune(r, unit(i+2))
			i += 2
		}
		out = utf8.AppendRune(out, r)
	}
	return out
}

// codePages are the values of $DWGCODEPAGE.
var codePages = map[string]encoding.Encoding{
	"ANSI_874":  charmap.Windows874,
	"ANSI_932":  japanese.ShiftJIS,
	"ANSI_936":  simplifiedchinese.GBK,
	"ANSI_949":  korean.EUCKR,
	"ANSI_950":  traditionalchinese.Big5,
	"ANSI_1250": charmap.Windows1250,
	"ANSI_1251": charmap.Windows1251,
	"ANSI_1252": charmap.Windows1252,
	"ANSI_1253": charmap.Windows1253,
	"ANSI_1254": charmap.Windows1254,
	"ANSI_1255": charmap.Windows1255,
	"ANSI_1256": charmap.Windows1256,
	"ANSI_1257": charmap.Windows1257,
	"ANSI_1258": charmap.Windows1258,
	"DOS437":    charmap.CodePage437,
	"DOS850":    charmap.CodePage850,
	"DOS852":    charmap.CodePage852,
	"DOS866":    charmap.CodePage866,
}

// decodeName turns the bytes of a name into text: UTF-8 where it is valid (all
// versions from R2007, and plain ASCII), else the drawing's code page, with
// \U+XXXX escapes resolved.
func decodeName(b []byte, codePage string) string {
	s := string(b)
	if !utf8.Valid(b) {
		s = fromCodePage(b, codePage)
	}
	return unescapeName(s)
}

func fromCodePage(b []byte, codePage string) string {
	cp, ok := codePages[strings.ToUpper(codePage)]
	if !ok {
		cp = charmap.Windows1252
	}
	out, err := cp.NewDecoder().Bytes(b)
	if err != nil {
		return strings.ToValidUTF8(string(b), "\uFFFD")
	}
	return string(out)
}

// unescapeName resolves \U+XXXX.
func unescapeName(s string) string {
	if !strings.Contains(s, `\U+`) {
		return s
	}
	var b strings.Builder
	for {
		before, after, found := strings.Cut(s, `\U+`)
		b.WriteString(before)
		if !found {
			return b.String()
		}
		if r, ok := hexRune(after); ok {
			b.WriteRune(r)
			s = after[4:]
		} else {
			b.WriteString(`\U+`)
			s = after
		}
	}
}

// hexRune reads the four hexadecimal digits at the start of s.
func hexRune(s string) (rune, bool) {
	if len(s) < 4 {
		return 0, false
	}
	v, ok := parseHex([]byte(s[:4]))
	return rune(v), ok && utf8.ValidRune(rune(v))
}
