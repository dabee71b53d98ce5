package shop

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

var (
	plainNumber    = regexp.MustCompile(`^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,3})?$`)
	plainFraction  = regexp.MustCompile(`^([+-]?)(?:([0-9]{1,9})(?: +|-))?([0-9]{1,9}) ?/ ?([0-9]{1,9})$`)
	groupedNumber  = regexp.MustCompile(`^[+-]?[0-9]{1,3}(,[0-9]{3})+(\.[0-9]+)?$`)
	commaNumber    = regexp.MustCompile(`^[+-]?[0-9]+,[0-9]+$`)
	numberThenUnit = regexp.MustCompile(`^([+-]?[0-9.,/ +-]*[0-9.](?:[eE][+-]?[0-9]{1,3})?) *([^0-9 .,+-].*)$`)
)

// parseNumber reads 12, 12.5, 1e3, 1/8 or 1 1/2. It returns why not in mend.
func parseNumber(s string) (x float64, mend string) {
	s = strings.TrimSpace(s)
	if m := plainFraction.FindStringSubmatch(s); m != nil {
		return fraction(m[1], m[2], m[3], m[4])
	}
	if !plainNumber.MatchString(s) {
		return 0, numberMend(s)
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(x, 0) {
		return 0, "write a number of ordinary size"
	}
	return x, ""
}

func fraction(sign, whole, over, under string) (float64, string) {
	w, _ := strconv.ParseFloat("0"+whole, 64)
	a, _ := strconv.ParseFloat(over, 64)
	b, _ := strconv.ParseFloat(under, 64)
	if b == 0 {
		return 0, "write a fraction whose lower number is not 0"
	}
	x := w + a/b
	if sign == "-" {
		x = -x
	}
	return x, ""
}

// anyNumber is the mend for what is no number at all.
const anyNumber = "write a number, such as 12.5"

func numberMend(s string) string {
	switch {
	case groupedNumber.MatchString(s):
		return "write " + strings.ReplaceAll(s, ",", "") + ", without commas between thousands"
	case commaNumber.MatchString(s):
		return "write " + strings.ReplaceAll(s, ",", ".") + ", with a decimal point"
	}
	return anyNumber
}

// splitUnit parts "1/8 in" into the number and the unit; the unit is empty
// where there is none.
func splitUnit(s string) (number, unit string) {
	s = strings.TrimSpace(s)
	if m := numberThenUnit.FindStringSubmatch(s); m != nil {
		return strings.TrimSpace(m[1]), strings.TrimSpace(m[2])
	}
	return s, ""
}
