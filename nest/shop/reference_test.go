package shop

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// knownKeys loads jobs that touch every reader and gathers the keys they know.
func knownKeys(t *testing.T) map[string]bool {
	t.Helper()
	all := map[string]bool{}
	for _, l := range []*loader{
		newLoader(os.DirFS(root), "testdata/week/week.yaml"),
		newLoader(fstest.MapFS{"j.yaml": {Data: []byte(base + oneOrder + "order_tables: [{file: x.csv, defaults: {note: a}}]\nremnants: {location: rack}\ncutting: {tabs: yes}\n")}}, "j.yaml"),
	} {
		l.job.read(l, l.jobFile())
		for _, keys := range l.keys {
			for k := range keys {
				all[k] = true
			}
		}
	}
	return all
}

var keyWord = regexp.MustCompile(`[a-z][a-z0-9_]*`)

// Every key the readers know is described, under its plain name or with a unit.
func TestReferenceNamesEveryKey(t *testing.T) {
	words := map[string]bool{}
	for _, w := range keyWord.FindAllString(Reference(), -1) {
		words[w] = true
	}
	for _, k := range sortedKeys(knownKeys(t)) {
		if !words[k] && !words[plainKey(k)] && !otherUnit(k, words) {
			t.Errorf("the reference does not name %s", k)
		}
	}
}

var dimensions = []*dimension{&length, &pressure, &power, &massFlow, &speed, &acceleration, &duration, &hours, &density, &angle}

func plainKey(k string) string {
	for _, d := range dimensions {
		for _, u := range d.units {
			if base, ok := strings.CutSuffix(k, "_"+u.suffix); ok {
				return base
			}
		}
	}
	return k
}

// otherUnit reports whether the reference names the key with another unit.
func otherUnit(k string, words map[string]bool) bool {
	for _, d := range dimensions {
		if slices.ContainsFunc(d.keys(plainKey(k)), func(s string) bool { return words[s] }) {
			return true
		}
	}
	return false
}

// Every key the reference sets at the head of a line is known.
func TestReferenceNamesNoOtherKey(t *testing.T) {
	known := knownKeys(t)
	for _, k := range orderHeads {
		known[k] = true
	}
	line := regexp.MustCompile(`^  ([a-z][a-z0-9_, ]*?)(  |$)`)
	_, body, _ := strings.Cut(Reference(), "AT THE TOP")
	n := 0
	for _, text := range strings.Split(body, "\n") {
		m := line.FindStringSubmatch(text)
		if m == nil {
			continue
		}
		for _, k := range strings.Split(m[1], ",") {
			n++
			if k = strings.TrimSpace(k); !known[k] {
				t.Errorf("the reference names %q, which no reader knows", k)
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d keys found in the reference", n)
	}
}

func TestExampleLoads(t *testing.T) {
	j := mustLoad(t, Example())
	if len(j.Orders) != 2 || len(j.Warnings) != 0 {
		t.Errorf("%d orders, warnings %q", len(j.Orders), j.Warnings)
	}
}
