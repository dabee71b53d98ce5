package shop

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"kerfold/geom"
)

// quarterTurns are the rotations of an order that names none.
var quarterTurns = []float64{0, 90, 180, 270}

// rotations reads "any", "fixed", "every 45", or a list of degrees.
func (f *fields) rotations(key string) (angles []float64, free bool) {
	got := f.get(key)
	if got == nil {
		return slices.Clone(quarterTurns), false
	}
	v := got.val
	if v.kind == scalar {
		if angles, free, ok := f.rotationWord(key, v); ok {
			return angles, free
		}
	}
	items := v.numbers()
	if v.kind == scalar && len(items) < 2 {
		f.rotationFault(key, v)
		return nil, false
	}
	return f.rotationList(key, v, items), false
}

func (f *fields) rotationWord(key string, v *value) (angles []float64, free, ok bool) {
	word := strings.ToLower(v.text)
	switch word {
	case "any", "free":
		return slices.Clone(quarterTurns), true, true
	case "fixed", "none", "0":
		return []float64{0}, false, true
	}
	step, isStep := strings.CutPrefix(word, "every")
	if !isStep {
		return nil, false, false
	}
	step = strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(strings.TrimSpace(step), "deg"), "°"))
	x, mend := parseNumber(step)
	if mend != "" || x < 1 || x > 360 || math.Abs(math.Remainder(360, x)) > 1e-9 {
		f.fault(v.at, fmt.Sprintf("%s is %s", key, quoteText(v.text)), "write a step from 1 to 360 degrees that divides 360, such as every 45")
		return []float64{0}, false, true
	}
	for k := range int(math.Round(360 / x)) {
		angles = append(angles, geom.NormalDeg(float64(k)*x))
	}
	return angles, false, true
}

func (f *fields) rotationFault(key string, v *value) {
	mend := "write any, fixed, every 45, or a list of degrees such as [0, 180]"
	if _, no := parseNumber(v.text); no == "" {
		mend = fmt.Sprintf("write every %s for all turns by that step, or [0, %s] for these two", v.text, v.text)
	}
	f.fault(v.at, fmt.Sprintf("%s is %s", key, quoteText(v.text)), mend)
}

func (f *fields) rotationList(key string, v *value, items []*value) []float64 {
	if len(items) == 0 || len(items) > 360 {
		f.fault(v.at, fmt.Sprintf("%s lists %d turns", key, len(items)), "list 1 to 360, or write any, fixed or every 45")
		return nil
	}
	var angles []float64
	for _, item := range items {
		x, mend := parseNumber(item.text)
		if item.kind != scalar || mend != "" || math.Abs(x) > 3600 {
			f.fault(item.at, fmt.Sprintf("%s holds %s", key, quoteText(item.text)), "write degrees, such as 90")
			continue
		}
		angles = append(angles, geom.NormalDeg(x))
	}
	slices.Sort(angles)
	return slices.Compact(angles)
}
