package drawing

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
)

// The JSON says what the intake says, with no list left null.
func TestReportJSON(t *testing.T) {
	in, err := Read("gaps.dxf", readFile(t, "gaps.dxf"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	if err := WriteReportJSON(&buf, []Report{NewReport(in)}); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Format string
		Files  []Report
	}
	dec := json.NewDecoder(&buf)
	dec.DisallowUnknownFields()
	if err := dec.Decode(&got); err != nil {
		t.Fatal(err)
	}
	r := got.Files[0]
	if got.Format != ReportFormat || r.File != "gaps.dxf" || r.Closed || len(r.Parts) != 1 || len(r.Open) != 2 || r.Contours != 1 {
		t.Errorf("%s: %+v", got.Format, r)
	}
	if math.Abs(r.Parts[0].Area-1500) > 0.5 || r.Entities["LINE"] != 8 || len(r.Layers) != 1 {
		t.Errorf("parts %+v, entities %v, layers %v", r.Parts, r.Entities, r.Layers)
	}
	if len(r.Findings) != len(in.Findings) || r.Findings[0].At == nil {
		t.Errorf("%d findings, want %d; the first at %v", len(r.Findings), len(in.Findings), r.Findings[0].At)
	}
	empty, _ := json.Marshal(NewReport(Intake{}))
	for _, list := range []string{"parts", "open", "layers", "findings"} {
		if !strings.Contains(string(empty), `"`+list+`":[]`) {
			t.Errorf("%s is not an empty list in %s", list, empty)
		}
	}
}

// The picture of every drawing in testdata is well-formed, and shows a mark
// for every problem that has a place, with its row in the list.
func TestPictures(t *testing.T) {
	for _, name := range testdata(t) {
		if name == "block-flood.dxf" {
			continue
		}
		in, err := Read(name, readFile(t, name), Options{})
		if err != nil {
			t.Fatal(err)
		}
		var buf bytes.Buffer
		if err := WritePicture(&buf, in); err != nil {
			t.Fatal(err)
		}
		count := countElements(t, name, buf.String())
		if count["path part"] != len(in.Parts) || count["path open"] != len(in.Open) || count["path refused"] != len(in.Refused) {
			t.Errorf("%s: draws %v, want %d parts, %d open, %d refused", name, count, len(in.Parts), len(in.Open), len(in.Refused))
		}
		if count["circle end"] != 2*len(in.Open) {
			t.Errorf("%s: %d rings at ends, want %d", name, count["circle end"], 2*len(in.Open))
		}
		placed := false
		for _, f := range in.Findings {
			placed = placed || f.Level == Problem && f.HasAt
		}
		if placed != (count["path problem"] >= 2) { // on the drawing and in the list
			t.Errorf("%s: %d problem marks, problems with a place: %v", name, count["path problem"], placed)
		}
	}
}

// countElements counts elements by name and class.
func countElements(t *testing.T, name, svg string) map[string]int {
	t.Helper()
	count := map[string]int{}
	dec := xml.NewDecoder(strings.NewReader(svg))
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return count
		}
		if err != nil {
			t.Fatalf("%s: picture is not well-formed: %v", name, err)
		}
		if e, ok := tok.(xml.StartElement); ok {
			for _, a := range e.Attr {
				if a.Name.Local == "class" {
					count[e.Name.Local+" "+a.Value]++
				}
				if strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") {
					t.Fatalf("%s: %s=%q", name, a.Name.Local, a.Value)
				}
			}
		}
	}
}

func ExampleRead() {
	drawing := `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
	<rect width="60" height="40" rx="5"/><circle cx="30" cy="20" r="8"/></svg>`
	in, err := Read("tag.svg", []byte(drawing), Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	part := in.Parts[0]
	fmt.Printf("%s: %s, %d hole, %.1f mm to cut\n", in.Name, in.Verdict(), len(part.Holes), part.Length())
	// Output: tag.svg: every contour closes, 1 hole, 241.7 mm to cut
}
