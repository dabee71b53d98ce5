package shop

import "strings"

// A kind is the sort of a value.
type kind int

const (
	empty  kind = iota // nothing was written
	scalar             // one word or number
	list
	record // keys with values
)

func (k kind) String() string {
	return [...]string{"nothing", "a single value", "a list", "keys with values"}[k]
}

// A value is one piece of a job file or one row of a table, with its place.
// Orders are read from values, so a row and a YAML entry obey the same rules.
type value struct {
	kind   kind
	at     spot
	text   string // scalar
	quoted bool   // scalar written in quotes
	cell   bool   // scalar from a table, where lists are written in one cell
	broken bool   // empty because of a fault already told
	items  []*value
	fields []field
}

// A field is one key of a record.
type field struct {
	key string
	at  spot
	val *value
}

// find returns the field of that key, or nil.
func (v *value) find(key string) *field {
	for i := range v.fields {
		if v.fields[i].key == key {
			return &v.fields[i]
		}
	}
	return nil
}

// numbers returns the items of a list of numbers; a table's cell is split at
// bars, spaces and slashes.
func (v *value) numbers() []*value {
	return v.split(func(r rune) bool { return r == '|' || r == ' ' || r == '/' })
}

// list returns the items of a list; a table's cell is split at bars alone, for
// names may hold spaces.
func (v *value) list() []*value {
	return v.split(func(r rune) bool { return r == '|' })
}

func (v *value) split(at func(rune) bool) []*value {
	if v.kind != scalar || !v.cell {
		return v.items
	}
	var items []*value
	for _, word := range strings.FieldsFunc(v.text, at) {
		items = append(items, &value{kind: scalar, at: v.at, text: strings.TrimSpace(word), cell: true})
	}
	return items
}
