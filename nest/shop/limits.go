package shop

import (
	"fmt"
	"strconv"
)

// limits bound a number: outside it is refused, outside the usual band it is
// asked about. Zero bounds of the band mean there is no band.
type limits struct {
	low, high           float64
	open                bool // low itself is refused
	usualLow, usualHigh float64
	hint                string // what may have been meant
}

func (l limits) allows(x float64) bool {
	return x >= l.low && x <= l.high && !(l.open && x == l.low)
}

func (l limits) text(unit string) string {
	if unit != "" {
		unit = " " + unit
	}
	switch {
	case l.high >= 1e9 && l.open:
		return fmt.Sprintf("write a number above %s%s", short(l.low), unit)
	case l.high >= 1e9:
		return fmt.Sprintf("write a number not below %s%s", short(l.low), unit)
	case l.open:
		return fmt.Sprintf("write a number above %s and up to %s%s", short(l.low), short(l.high), unit)
	}
	return fmt.Sprintf("write a number from %s to %s%s", short(l.low), short(l.high), unit)
}

// inside checks x, given in the unit named, against its limits.
func (f *fields) inside(at spot, key string, x float64, unit string, l limits) bool {
	shown := short(x)
	if unit != "" {
		shown += " " + unit
	}
	if !l.allows(x) {
		mend := l.text(unit)
		if l.hint != "" {
			mend += "; " + l.hint
		}
		f.fault(at, fmt.Sprintf("%s is %s", key, shown), mend)
		return false
	}
	if l.usualHigh > 0 && (x < l.usualLow || x > l.usualHigh) {
		f.warn(at, fmt.Sprintf("%s is %s, outside the usual %s to %s %s", key, shown, short(l.usualLow), short(l.usualHigh), unit), l.hint)
	}
	return true
}

// short writes a number with as many digits as it needs, up to six.
func short(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }
