package shop

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// fields reads a record key by key. Asking for a key makes it known; done
// refuses the keys nobody asked for.
type fields struct {
	log     *log
	v       *value
	subject string // "order K-104/2", for messages
	known   []string
	rare    []string // other spellings of known keys, not offered in messages
	faulty  bool
	dates   dateOrder // how dates with slashes are meant
}

func (l *log) open(v *value, subject string) *fields {
	f := &fields{log: l, v: v, subject: subject}
	if v.kind != record {
		f.fault(v.at, fmt.Sprintf("%s where keys with values are due", v.kind), "write key: value lines, indented alike")
		f.v = &value{kind: record, at: v.at}
	}
	return f
}

func (f *fields) fault(at spot, fact, mend string) {
	f.faulty = true
	f.log.fault(at, f.subject, fact, mend)
}

func (f *fields) warn(at spot, fact, mend string) { f.log.warn(at, f.subject, fact, mend) }

// get finds a key; nil where it is absent. A key without a value is a fault.
func (f *fields) get(key string) *field {
	f.known = append(f.known, key)
	got := f.v.find(key)
	if got == nil {
		return nil
	}
	if got.val.broken {
		f.faulty = true
		return nil
	}
	if got.val.kind == empty {
		f.fault(got.at, key+" has no value", "give it one or remove the line")
		return nil
	}
	return got
}

// has says whether any of the keys was written, without making them known.
func (f *fields) has(keys ...string) bool {
	return slices.ContainsFunc(keys, func(k string) bool { return f.v.find(k) != nil })
}

// at is the place of a key, or of the record where the key is absent.
func (f *fields) at(key string) spot {
	if got := f.v.find(key); got != nil {
		return got.val.at
	}
	return f.v.at
}

// done refuses unknown keys.
func (f *fields) done() {
	for _, got := range f.v.fields {
		if !slices.Contains(f.known, got.key) && !slices.Contains(f.rare, got.key) {
			f.fault(got.at, fmt.Sprintf("unknown key %s", quoteText(got.key)), f.keyMend(got))
		}
	}
}

// keyMend says what an unknown key may have been meant for.
func (f *fields) keyMend(got field) string {
	if _, not := parseNumber(got.key); not == "" && got.val.kind == empty {
		return "inside braces a comma ends the value: write numbers without commas"
	}
	if near, ok := nearest(got.key, append(slices.Clone(f.known), f.rare...)); ok {
		return fmt.Sprintf("did you mean %s?", near)
	}
	return didYouMean(got.key, f.known)
}

// missing reports a key that must be there. It says nothing where the key is
// there and was found faulty, nor where an unknown key is likely to be meant
// for it, which done will say.
func (f *fields) missing(mend string, keys ...string) {
	if f.has(keys...) {
		return
	}
	for _, got := range f.v.fields {
		if !slices.Contains(f.known, got.key) && !slices.Contains(f.rare, got.key) {
			if near, ok := nearest(got.key, keys); ok && near != got.key {
				f.faulty = true
				return
			}
		}
	}
	f.fault(f.v.at, keys[0]+" is missing", mend)
}

// scalar is the one value of a key.
func (f *fields) scalar(key string) (*value, bool) {
	got := f.get(key)
	if got == nil {
		return nil, false
	}
	if got.val.kind != scalar {
		f.fault(got.val.at, fmt.Sprintf("%s holds %s", key, got.val.kind), "write a single value")
		return nil, false
	}
	return got.val, true
}

// text reads a word or a sentence.
func (f *fields) text(key string) (string, bool) {
	v, ok := f.scalar(key)
	if !ok || v.text == "" {
		return "", false
	}
	if len(v.text) > longestText {
		f.fault(v.at, fmt.Sprintf("%s is %d characters long", key, len(v.text)), fmt.Sprintf("keep it under %d", longestText))
		return "", false
	}
	if i := strings.IndexFunc(v.text, isControl); i >= 0 {
		f.fault(v.at, fmt.Sprintf("%s holds the control character %q", key, v.text[i]), "remove it")
		return "", false
	}
	return v.text, true
}

// longestText bounds names and notes, which end up in file names and reports.
const longestText = 500

func isControl(r rune) bool { return r < ' ' && r != '\n' && r != '\t' || r == 0x7f }

// flag reads yes or no.
func (f *fields) flag(key string) (is, ok bool) {
	v, ok := f.scalar(key)
	if !ok {
		return false, false
	}
	switch strings.ToLower(v.text) {
	case "yes", "true", "y", "x", "1":
		return true, true
	case "no", "false", "n", "0", "-":
		return false, true
	}
	f.fault(v.at, fmt.Sprintf("%s is %q", key, v.text), "write yes or no")
	return false, false
}

// whole reads a whole number from low to high.
func (f *fields) whole(key string, low, high int) (int, bool) {
	v, ok := f.scalar(key)
	if !ok {
		return 0, false
	}
	n, err := strconv.Atoi(strings.TrimPrefix(v.text, "+"))
	if err != nil {
		x, mend := parseNumber(v.text)
		fits := mend == ""
		if fits || mend == anyNumber {
			mend = wholeMend(low)
		}
		if !fits || x != math.Trunc(x) || math.Abs(x) > math.MaxInt32 {
			f.fault(v.at, fmt.Sprintf("%s is %s", key, quoteText(v.text)), mend)
			return 0, false
		}
		n = int(x)
	}
	if n < low || n > high {
		f.fault(v.at, fmt.Sprintf("%s is %d", key, n), fmt.Sprintf("write a whole number from %d to %d", low, high))
		return 0, false
	}
	return n, true
}

// wholeMend shows a whole number that would do.
func wholeMend(low int) string { return fmt.Sprintf("write a whole number, such as %d", max(low, 12)) }

// number reads a number without a unit, within limits.
func (f *fields) number(key string, lim limits) (float64, bool) {
	v, ok := f.scalar(key)
	if !ok {
		return 0, false
	}
	x, mend := parseNumber(v.text)
	if mend != "" {
		f.fault(v.at, fmt.Sprintf("%s is %s", key, quoteText(v.text)), mend)
		return 0, false
	}
	return x, f.inside(v.at, key, x, "", lim)
}

// choice reads one of some words.
func (f *fields) choice(key string, words ...string) (string, bool) {
	v, ok := f.scalar(key)
	if !ok {
		return "", false
	}
	word := strings.ToLower(v.text)
	if slices.Contains(words, word) {
		return word, true
	}
	mend := "use " + listing(words)
	if near, ok := nearest(word, words); ok {
		mend = fmt.Sprintf("did you mean %s? %s", near, mend)
	}
	f.fault(v.at, fmt.Sprintf("%s is %s", key, quoteText(v.text)), mend)
	return "", false
}

// words reads a list of words; one word alone is a list of one.
func (f *fields) words(key string) []string {
	var out []string
	for _, v := range f.items(key) {
		if v.kind != scalar || v.text == "" {
			f.fault(v.at, fmt.Sprintf("%s holds %s", key, v.kind), "write a list of words")
			continue
		}
		out = append(out, v.text)
	}
	return out
}

// items reads a list; a single value is a list of one.
func (f *fields) items(key string) []*value {
	got := f.get(key)
	switch {
	case got == nil:
		return nil
	case got.val.kind == list, got.val.cell:
		return got.val.list()
	}
	return []*value{got.val}
}

func quoteText(s string) string {
	if len(s) > 60 {
		s = s[:57] + "…"
	}
	return fmt.Sprintf("%q", s)
}
