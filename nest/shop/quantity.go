package shop

import (
	"fmt"
	"strings"
)

// quantity reads a number with a unit: from a key that names it
// (thickness_mm: 3) or from a value that does (thickness: 1/8 in). The result
// is in the dimension's first unit.
func (f *fields) quantity(base string, d *dimension, lim limits) (float64, bool) {
	got := f.oneOf(base, d)
	if got == nil {
		return 0, false
	}
	x, ok := f.convert(got, base, d)
	if !ok {
		return 0, false
	}
	return x, f.inside(got.val.at, base, x, d.units[0].names[0], lim)
}

// oneOf finds the one spelling of a key that was used and makes all known.
func (f *fields) oneOf(base string, d *dimension) *field {
	var found *field
	f.rare = append(f.rare, d.keys(base)...)
	for i, key := range d.keys(base) {
		got := f.v.find(key)
		if got != nil || i == 0 {
			got = f.get(key)
		}
		if got != nil && found != nil {
			f.fault(got.at, fmt.Sprintf("%s and %s say the same", found.key, key), "keep one")
			return nil
		}
		if got != nil {
			found = got
		}
	}
	if found != nil && found.val.kind != scalar {
		f.fault(found.val.at, fmt.Sprintf("%s holds %s", found.key, found.val.kind), "write a number such as "+d.example)
		return nil
	}
	return found
}

func (f *fields) convert(got *field, base string, d *dimension) (float64, bool) {
	if suffix := strings.TrimPrefix(got.key, base+"_"); suffix != got.key {
		for _, u := range d.units {
			if u.suffix == suffix {
				return f.keyed(got, base, d, u)
			}
		}
	}
	return f.measured(got.val, got.key, d)
}

// keyed reads a plain number whose key names the unit.
func (f *fields) keyed(got *field, base string, d *dimension, u unit) (float64, bool) {
	x, mend := parseNumber(got.val.text)
	if mend == "" {
		return x * u.size, true
	}
	number, name := splitUnit(got.val.text)
	if stated := d.named(name); stated != nil {
		if stated.suffix == u.suffix { // thickness_mm: 3 mm says it twice, and rightly
			if x, mend := parseNumber(number); mend == "" {
				return x * u.size, true
			}
		}
		mend = fmt.Sprintf("the key says %s; write %s: %s", u.names[0], base, got.val.text)
	}
	f.fault(got.val.at, fmt.Sprintf("%s is %s", got.key, quoteText(got.val.text)), mend)
	return 0, false
}

// measured reads a number with its unit.
func (f *fields) measured(v *value, key string, d *dimension) (float64, bool) {
	number, name := splitUnit(v.text)
	x, mend := parseNumber(number)
	if mend != "" {
		f.fault(v.at, fmt.Sprintf("%s is %s", key, quoteText(v.text)), mend+" with its unit, such as "+d.example)
		return 0, false
	}
	if name == "" {
		f.fault(v.at, fmt.Sprintf("%s is %s, without a unit", key, v.text),
			fmt.Sprintf("write %s_%s: %s, or a unit behind the number, such as %s", key, d.units[0].suffix, v.text, d.example))
		return 0, false
	}
	u := d.named(name)
	if u == nil {
		f.fault(v.at, fmt.Sprintf("%s is in %q, which is no unit of %s known here", key, name, d.name), "use "+listing(d.names()))
		return 0, false
	}
	return x * u.size, true
}
