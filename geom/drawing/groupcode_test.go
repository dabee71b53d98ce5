package drawing

import (
	"reflect"
	"strconv"
	"strings"
	"testing"
)

func parseStandard(s string) (float64, error) { return strconv.ParseFloat(s, 64) }

// The same drawing as text, and in both binary forms, is the same drawing.
func TestBinaryIsTheSame(t *testing.T) {
	want, err := Read("twin", readFile(t, "twin.dxf"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"binary-2000.dxf", "binary-12.dxf"} {
		got, err := Read("twin", readFile(t, name), Options{})
		if err != nil {
			t.Fatal(err)
		}
		got.Format = want.Format
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s differs:\n%+v\nwant\n%+v", name, got, want)
		}
	}
}

// Line ends, blanks and comments make no difference.
func TestLineEnds(t *testing.T) {
	text := string(readFile(t, "twin.dxf"))
	want, err := Read("twin", []byte(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for why, data := range map[string]string{
		"carriage return and line feed": strings.ReplaceAll(text, "\n", "\r\n"),
		"carriage return":               strings.ReplaceAll(text, "\n", "\r"),
		"twice converted":               strings.ReplaceAll(text, "\n", "\r\r\n"),
		"blanks":                        "  " + strings.ReplaceAll(text, "\n", " \n   "),
		"end-of-file mark":              text + "\x1a",
		"no last line end":              strings.TrimSuffix(text, "\n"),
	} {
		got, err := Read("twin", []byte(data), Options{})
		if err != nil {
			t.Errorf("%s: %v", why, err)
			continue
		}
		if !reflect.DeepEqual(got.Parts, want.Parts) || len(got.Findings) != len(want.Findings) {
			t.Errorf("%s: %v, want %v; findings %v", why, got.Parts, want.Parts, got.Findings)
		}
	}
	commented := strings.Replace(text, "0\nLWPOLYLINE", "999\nfrom the drawing office\n0\nLWPOLYLINE", 1)
	if got, err := Read("twin", []byte(commented), Options{}); err != nil || !reflect.DeepEqual(got.Parts, want.Parts) {
		t.Errorf("a comment spoils the drawing: %v, %v", got.Parts, err)
	}
}

func TestGroupValues(t *testing.T) {
	for _, c := range []struct {
		text string
		want int
		ok   bool
	}{
		{"10", 10, true},
		{"  0", 0, true},
		{"1071 ", 1071, true},
		{"-5", -5, true},
		{"", 0, false},
		{"-", 0, false},
		{"1.0", 0, false},
		{"LINE", 0, false},
		{"123456", 0, false}, // no group code has so many digits
	} {
		if got, ok := parseCode([]byte(c.text)); got != c.want && ok || ok != c.ok {
			t.Errorf("code %q: %d, %v, want %d, %v", c.text, got, ok, c.want, c.ok)
		}
	}
	for _, c := range []struct {
		text string
		want float64
		ok   bool
	}{
		{"1.5", 1.5, true},
		{" -2.5E-3\r", -2.5e-3, true},
		{"1234567890123456789", 1234567890123456789, true},
		{"2,5", 2.5, true},
		{"1,000.5", 0, false},
		{"nan", 0, false},
		{"Inf", 0, false},
		{"1e999", 0, false},
		{"0x10", 0, false},
		{"x", 0, false},
	} {
		tg := newTags([]byte("10\n"+c.text+"\n"), formatASCII, newLog())
		g, _ := tg.next()
		if got, ok := tg.float(g); ok != c.ok || ok && got != c.want {
			t.Errorf("value %q: %v, %v, want %v, %v", c.text, got, ok, c.want, c.ok)
		}
	}
}

// Findings of a kind are bounded, and none is lost from the count.
func TestLogIsBounded(t *testing.T) {
	l := newLog()
	for i := range 3 * maxAlike {
		l.add(Finding{Kind: GapClosed, HasAt: true, Line: i})
		l.add(Finding{Kind: StrayLine, Text: "the same"})
		l.add(Finding{Kind: BadEntity, Text: strconv.Itoa(i)})
	}
	count := map[Kind]int{}
	for _, f := range l.findings {
		count[f.Kind] += f.Count
	}
	if len(l.findings) != 2*maxAlike+1 {
		t.Errorf("%d findings kept, want %d", len(l.findings), 2*maxAlike+1)
	}
	for _, k := range []Kind{GapClosed, StrayLine, BadEntity} {
		if count[k] != 3*maxAlike {
			t.Errorf("%s counts %d, want %d", k, count[k], 3*maxAlike)
		}
	}
}
