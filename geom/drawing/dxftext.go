package drawing

import (
	"fmt"
	"strings"
)

// dxfText makes a text safe for a DXF TEXT in plain ASCII: other characters
// become \U+XXXX, control characters spaces, and the marks that DXF gives a
// meaning of their own lose it: ^ is spaced as the format asks, and %% is
// parted, because readers differ about it.
func dxfText(s string) string {
	var b strings.Builder
	s = strings.ReplaceAll(s, "%%", "% %")
	for _, r := range s {
		switch {
		case r == '^':
			b.WriteString("^ ")
		case r < ' ' || r == 0x7f:
			b.WriteByte(' ')
		case r < 0x7f:
			b.WriteRune(r)
		case r <= 0xffff:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default: // beyond what the escape can hold
			b.WriteByte('?')
		}
	}
	return b.String()
}
