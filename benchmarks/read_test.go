package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"kerfold/geom"
)

// datasets is the folder of public instances, or skips the test.
func datasets(t testing.TB) string {
	t.Helper()
	dir := os.Getenv(dataEnv)
	if dir == "" {
		dir = filepath.Join("..", "..", "shared", "datasets")
	}
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("no public instances: set %s to their folder", dataEnv)
	}
	return dir
}

func TestReadPublicFolder(t *testing.T) {
	list, err := readFolder(datasets(t))
	if err != nil {
		t.Fatal(err)
	}
	strips, bins := 0, 0
	for _, in := range list {
		if in.strip() {
			strips++
			if _, ok := publishedDensities[in.Name]; !ok {
				t.Errorf("no published figures for %s", in.Name)
			}
		} else {
			bins++
			if in.Optimum == 0 || in.area() > float64(in.Optimum)*in.Bin[0]*in.Bin[1]+1e-6 {
				t.Errorf("%s: optimum %d is less than the parts' area", in.Name, in.Optimum)
			}
		}
	}
	names := map[string]bool{}
	for _, in := range append(list, generated()...) {
		if names[in.Name] {
			t.Errorf("two instances are called %s; records could not tell them apart", in.Name)
		}
		names[in.Name] = true
	}
	if strips != 13 || bins != 66 {
		t.Errorf("%d strips and %d bin instances, want 13 and 66", strips, bins)
	}
}

// TestFormsAgree reads the same instances in the collection's own forms and in
// JSON: the parts must be alike, up to where a ring starts and which way it runs.
func TestFormsAgree(t *testing.T) {
	dir := datasets(t)
	for own, plain := range map[string]string{
		"original/albano.xml":  "strip/albano.json",
		"original/TA001.txt":   "bin/terashima1/ta001.json",
		"original/TA001C5.txt": "bin/terashima2/ta001c5.json",
	} {
		a, err := readFile(filepath.Join(dir, own))
		if err != nil {
			t.Fatal(err)
		}
		b, err := readFile(filepath.Join(dir, plain))
		if err != nil {
			t.Fatal(err)
		}
		if a.Name != b.Name || a.StripWidth != b.StripWidth || a.Bin != b.Bin || len(a.Parts) != len(b.Parts) {
			t.Fatalf("%s: %s, strip %v, bin %v, %d parts; JSON: %s, strip %v, bin %v, %d parts",
				own, a.Name, a.StripWidth, a.Bin, len(a.Parts), b.Name, b.StripWidth, b.Bin, len(b.Parts))
		}
		for i := range a.Parts {
			p, q := a.Parts[i], b.Parts[i]
			if p.Quantity != q.Quantity || len(p.Angles) != len(q.Angles) ||
				geom.PolygonArea(p.Outline) != geom.PolygonArea(q.Outline) || geom.Bounds(p.Outline) != geom.Bounds(q.Outline) {
				t.Errorf("%s: part %d differs", own, i+1)
			}
		}
	}
}

func TestBadFilesAreExplained(t *testing.T) {
	cases := []struct{ data, says string }{
		{"", "the file ends before the number of parts"},
		{"2 10 10 3 0 0 1 0 0 1", "before the vertex count of part 2"},
		{"1 10 10 3 0 0 1 0 0 x", `"x" is not a number`},
		{"1 10 10 3 0 0 1 0 0 1 5", "1 numbers are left over"},
		{"1.5 10 10", "1.5 is not a count"},
		{"1 0 10 3 0 0 1 0 0 1", "neither a strip width nor a bin size"},
		{`{"strip_width": 5, "bin": [1, 2], "parts": []}`, "both a strip and bins"},
		{`{"bin": [1], "parts": []}`, "bin has 1 numbers"},
		{`{"strip_width": 5}`, "no parts"},
		{`{"strip_width": 5, "parts": [{"id": "a", "quantity": 1, "rotations_deg": "all"}]}`, `"all"`},
		{`{"strip_width": 5, "parts": [{"id": "a", "quantity": 1, "outline": [[0,0],[1,1],[2,2]]}]}`, "encloses no area"},
		{"<nesting></nesting>", "0 boards"},
		{"<other/>", "expected element type <nesting>"},
		{`<nesting><problem><boards><piece id="b"><component idPolygon="p"/></piece></boards></problem></nesting>`, `polygon "p", which is not in the file`},
	}
	for _, c := range cases {
		if _, err := read([]byte(c.data)); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: error %v, want one that says %q", c.data, err, c.says)
		}
	}
}

// fuzzRead feeds a reader anything; what it accepts must be a sound problem.
func fuzzRead(f *testing.F, reader func([]byte) (instance, error), seeds ...string) {
	for _, s := range seeds {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		in, err := reader(data)
		if err != nil {
			return
		}
		if err := in.problem().Validate(); err != nil {
			t.Errorf("accepted, but %v", err)
		}
		if in.strip() == (in.Bin[0] > 0) {
			t.Errorf("accepted as strip %v and bin %v", in.StripWidth, in.Bin)
		}
	})
}

func FuzzReadTXT(f *testing.F) {
	fuzzRead(f, readTXT, "1 10 10 3 0 0 5 0 0 5", "2 10 10 3 0 0 5 0 0 5 4 0 0 2 0 2 2 0 2", "0 1 1")
}

func FuzzReadJSON(f *testing.F) {
	fuzzRead(f, readJSON,
		`{"name": "a", "strip_width": 5, "parts": [{"id": "p", "quantity": 2, "rotations_deg": [0, 90], "outline": [[0,0],[1,0],[0,1]]}]}`,
		`{"bin": [5, 5], "known_optimum_bins": 1, "parts": [{"id": "p", "quantity": 1, "rotations_deg": "any", "outline": [[0,0],[1,0],[0,1]]}]}`)
}

func FuzzReadXML(f *testing.F) {
	fuzzRead(f, readXML, `<nesting><name>A</name><problem><boards><piece id="b" quantity="1"><component idPolygon="p0" type="0" xOffset="0" yOffset="0"/></piece></boards>
<lot><piece id="q" quantity="2"><orientation><enumeration angle="0"/></orientation><component idPolygon="p1" type="0" xOffset="0" yOffset="0"/></piece></lot></problem>
<polygons><polygon id="p0"><lines><segment x0="0" y0="0"/><segment x0="9" y0="0"/><segment x0="9" y0="5"/><segment x0="0" y0="5"/></lines></polygon>
<polygon id="p1"><lines><segment x0="0" y0="0"/><segment x0="2" y0="0"/><segment x0="0" y0="2"/></lines></polygon></polygons></nesting>`)
}
