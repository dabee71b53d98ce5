package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Duration writes seconds the way a shop says them: 48 s, 3 min 20 s, 2 h 05 min.
func Duration(sec float64) string {
	s := int(math.Round(sec))
	switch {
	case s < 60:
		return fmt.Sprintf("%d s", s)
	case s < 3600:
		return fmt.Sprintf("%d min %02d s", s/60, s%60)
	}
	m := int(math.Round(sec / 60))
	return fmt.Sprintf("%d h %02d min", m/60, m%60)
}

// Amount writes money with two decimals and its currency.
func Amount(money float64, currency string) string {
	return strings.TrimSpace(strconv.FormatFloat(money, 'f', 2, 64) + " " + currency)
}

// Percent writes a share with one decimal.
func Percent(share float64) string { return strconv.FormatFloat(100*share, 'f', 1, 64) + " %" }

// Length writes millimetres without needless decimals.
func Length(mm float64) string {
	return strconv.FormatFloat(math.Round(mm*100)/100, 'f', -1, 64)
}

// plural writes a count with its noun.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
