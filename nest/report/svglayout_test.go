package report

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"
)

func TestLayoutSVG(t *testing.T) {
	p := samplePlan()
	var b bytes.Buffer
	if err := WriteLayoutSVG(&b, p, 0, 0); err != nil {
		t.Fatal(err)
	}
	if dir := os.Getenv("KERFOLD_KEEP"); dir != "" {
		os.WriteFile(dir+"/sample.svg", b.Bytes(), 0o644)
	}
	texts := svgTexts(t, b.Bytes())
	for _, want := range []string{
		"G1-L1", "aluminium 6061", "6 mm", "medium", "AL-6-1000x600, 1000 × 600 mm, at rack 3",
		"a stack of 3 + 1 sheet", "21 min 40 s", "381.00 EUR", "flange DN 80", "K-101/1, Wed 5 Mar",
		"blocked", "remnant R-042, 525 × 590 mm", "grain", "200 mm",
	} {
		if texts[want] == 0 {
			t.Errorf("no text %q on the page; there are %v", want, texts)
		}
	}
	// Each copy carries its number, and the legend explains it once.
	for _, number := range []string{"1", "2"} {
		if texts[number] < 3 {
			t.Errorf("number %s is written %d times, want 2 on parts and 1 in the legend", number, texts[number])
		}
	}
}

// svgTexts parses the drawing and counts its texts.
func svgTexts(t *testing.T, data []byte) map[string]int {
	t.Helper()
	texts := map[string]int{}
	dec := xml.NewDecoder(bytes.NewReader(data))
	inText := false
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return texts
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			inText = tok.Name.Local == "text"
		case xml.EndElement:
			inText = false
		case xml.CharData:
			if inText {
				texts[string(tok)]++
			}
		}
	}
}

func TestSVGEscapes(t *testing.T) {
	p := samplePlan()
	p.Groups[0].Parts[0].Part = `<b>"A&B"</b>`
	var b bytes.Buffer
	if err := WriteLayoutSVG(&b, p, 0, 0); err != nil {
		t.Fatal(err)
	}
	svgTexts(t, b.Bytes())
	if strings.Contains(b.String(), "<b>") {
		t.Error("a part's name became markup")
	}
}

func TestFitText(t *testing.T) {
	for _, c := range []struct {
		s    string
		room float64
		size float64
		want string
	}{
		{"short", 40, 4, "short"},
		{"a name that is a little too long", 40, 40 / (32 * emWidth), "a name that is a little too long"},
		{"a name that cannot be made small enough for its place", 10, leastText, "a name…"},
		{"äöü", 1, leastText, "ä…"},
	} {
		size, s := fitText(c.s, 4, c.room)
		if math.Abs(size-c.size) > 1e-9 || s != c.want {
			t.Errorf("%q in %v mm: %q at %v, want %q at %v", c.s, c.room, s, size, c.want, c.size)
		}
	}
}

// The legend's totals count parts; pierces are said apart, one a cut.
func TestLegendTellsPartsFromPierces(t *testing.T) {
	p := samplePlan()
	l := &p.Groups[0].Layouts[0]
	want := fmt.Sprintf("%d pierces", len(l.Route.Cuts))
	if len(l.Route.Cuts) == len(l.Placements) {
		t.Fatal("the sample has one pierce a part and cannot tell them apart")
	}
	var b bytes.Buffer
	if err := WriteLayoutSVG(&b, p, 0, 0); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), want) {
		t.Errorf("the legend does not say %q", want)
	}
}
