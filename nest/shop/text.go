package shop

import (
	"bytes"
	"errors"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

var errNotText = errors.New("not a text file")

// plainText is the file as UTF-8 with line feeds alone: byte order marks
// dropped, UTF-16 with a mark decoded, CRLF and CR made LF.
func plainText(data []byte) (string, error) {
	text, err := decodeText(data)
	if err != nil {
		return "", err
	}
	return strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), nil
}

func decodeText(data []byte) (string, error) {
	switch {
	case bytes.HasPrefix(data, []byte{0xEF, 0xBB, 0xBF}):
		data = data[3:]
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}):
		return fromUTF16(data[2:], 0, 1), nil
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		return fromUTF16(data[2:], 1, 0), nil
	}
	if bytes.IndexByte(data, 0) >= 0 {
		return "", errNotText
	}
	if !utf8.Valid(data) {
		// What spreadsheets write where UTF-8 was not asked for.
		text, err := charmap.Windows1252.NewDecoder().Bytes(data)
		return string(text), err
	}
	return string(data), nil
}

// fromUTF16 decodes pairs of bytes, low and high being where each half lies.
func fromUTF16(data []byte, low, high int) string {
	units := make([]uint16, len(data)/2)
	for i := range units {
		units[i] = uint16(data[2*i+low]) | uint16(data[2*i+high])<<8
	}
	return string(utf16.Decode(units))
}

func isUTF16(data []byte) bool {
	return bytes.HasPrefix(data, []byte{0xFF, 0xFE}) || bytes.HasPrefix(data, []byte{0xFE, 0xFF})
}

// isPlainUTF8 reports whether the text needs no decoding, with or without a
// byte order mark.
func isPlainUTF8(data []byte) bool { return utf8.Valid(data) && !isUTF16(data) }
