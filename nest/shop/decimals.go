package shop

import (
	"regexp"
	"slices"
	"strings"
)

// textKeys hold words, where commas and points mean nothing.
var textKeys = []string{
	"id", "part", "customer", "note", "material", "grade", "due", "rotations", "kit", "shape", "drawing",
	"drawing_units", "layers", "exclude_layers", "take", "accept", "lot", "location", "since", "source", "origin", "mirror",
	"points", "points_mm", "points_cm", "points_m", "points_in", "points_ft", "filler", "remnant",
}

func isNumberKey(key string) bool { return !slices.Contains(textKeys, key) }

var (
	commaInNumber = regexp.MustCompile(`^[+-]?[0-9]{1,3}(\.[0-9]{3})*,[0-9]+([^0-9,.].*)?$|^[+-]?[0-9]+,[0-9]+([^0-9,.].*)?$`)
	surelyComma   = regexp.MustCompile(`,([0-9]{1,2}|[0-9]{4,})([^0-9,.].*)?$`)
)

// findDecimal finds out whether the table writes 3.5 or 3,5: by what the job
// says, else by its number columns. A comma counts as decimal where the cells
// are parted by something else, or where it cannot part thousands.
func (t *tabler) findDecimal(body []row) {
	t.decimal = t.spec.decimal
	if t.decimal != "" {
		return
	}
	t.decimal = "point"
	for _, r := range body {
		for i, c := range r {
			text := strings.TrimSpace(c.text)
			if i < len(t.keys) && t.keys[i] != "" && isNumberKey(t.keys[i]) && commaInNumber.MatchString(text) &&
				(t.spec.comma != ',' || surelyComma.MatchString(text)) {
				t.decimal = "comma"
				return
			}
		}
	}
}

// number writes a number with a decimal point. Points between thousands go
// where the table writes decimal commas.
func (t *tabler) number(text string) string {
	if t.decimal != "comma" || !commaInNumber.MatchString(text) {
		return text
	}
	head, tail, _ := strings.Cut(text, ",")
	return strings.ReplaceAll(head, ".", "") + "." + tail
}
