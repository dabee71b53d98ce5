package drawing

import (
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// ReportFormat names the JSON that WriteReportJSON writes. It changes when a
// field changes its meaning or goes; new fields may come under the same name.
const ReportFormat = "kerfold-inspect/1"

// A Report is an intake in the form that is printed and written as JSON.
// Lengths are in mm, areas in mm².
type Report struct {
	File      string         `json:"file"`
	Format    string         `json:"format"`
	Units     Unit           `json:"units"`
	UnitsFrom string         `json:"units_from"`
	Verdict   string         `json:"verdict"`
	Closed    bool           `json:"closed"`
	Width     float64        `json:"width_mm"`
	Height    float64        `json:"height_mm"`
	Contours  int            `json:"contours"`
	Holes     int            `json:"holes"`
	PathMM    float64        `json:"path_mm"`
	DrawnMM   float64        `json:"drawn_mm"`
	Parts     []PartReport   `json:"parts"`
	Open      []OpenReport   `json:"open"`
	Refused   int            `json:"refused"`
	Entities  map[string]int `json:"entities"`
	Skipped   map[string]int `json:"skipped"`
	Layers    []LayerReport  `json:"layers"`
	Findings  []FindingNote  `json:"findings"`
}

// A PartReport is one part.
type PartReport struct {
	Width  float64    `json:"width_mm"`
	Height float64    `json:"height_mm"`
	Area   float64    `json:"area_mm2"`
	CutMM  float64    `json:"cut_mm"`
	Holes  int        `json:"holes"`
	Box    [4]float64 `json:"box_mm"` // x and y of the lower left, then of the upper right corner
}

// An OpenReport is one chain that did not close.
type OpenReport struct {
	Length float64    `json:"length_mm"`
	From   [2]float64 `json:"from_mm"`
	To     [2]float64 `json:"to_mm"`
}

// A LayerReport is what became of one layer.
type LayerReport struct {
	Name     string `json:"name"`
	Entities int    `json:"entities"`
	Used     int    `json:"used"`
	Why      string `json:"why,omitempty"`
}

// A FindingNote is one finding.
type FindingNote struct {
	Kind   Kind        `json:"kind"`
	Level  string      `json:"level"`
	Text   string      `json:"text"`
	Count  int         `json:"count"`
	Line   int         `json:"line,omitempty"`
	Handle string      `json:"handle,omitempty"`
	Layer  string      `json:"layer,omitempty"`
	At     *[2]float64 `json:"at_mm,omitempty"`
}

// NewReport puts an intake into report form.
func NewReport(in Intake) Report {
	r := Report{
		File: in.Name, Format: in.Format, Units: in.Units, UnitsFrom: in.UnitsFrom,
		Verdict: in.Verdict(), Closed: in.Closed(), Contours: in.Contours(), PathMM: in.PathMM, DrawnMM: in.Drawn.PathMM,
		Refused: len(in.Refused), Entities: in.Entities, Skipped: in.Skipped,
		Parts: []PartReport{}, Open: []OpenReport{}, Layers: []LayerReport{}, Findings: []FindingNote{},
	}
	if !in.Bounds.IsEmpty() {
		r.Width, r.Height = in.Bounds.Max[0]-in.Bounds.Min[0], in.Bounds.Max[1]-in.Bounds.Min[1]
	}
	for _, p := range in.Parts {
		b := p.Bounds()
		r.Holes += len(p.Holes)
		r.Parts = append(r.Parts, PartReport{
			Width: b.Max[0] - b.Min[0], Height: b.Max[1] - b.Min[1], Area: p.Area(), CutMM: p.Length(), Holes: len(p.Holes),
			Box: [4]float64{b.Min[0], b.Min[1], b.Max[0], b.Max[1]},
		})
	}
	for _, c := range in.Open {
		r.Open = append(r.Open, OpenReport{c.Length(), c[0].P, c[len(c)-1].P})
	}
	for _, l := range in.Layers {
		r.Layers = append(r.Layers, LayerReport{l.Name, l.Entities, l.Kept, l.Why})
	}
	for _, f := range in.Findings {
		r.Findings = append(r.Findings, note(f))
	}
	return r
}

func note(f Finding) FindingNote {
	n := FindingNote{f.Kind, f.Level.String(), f.Text, f.Count, f.Line, f.Handle, f.Layer, nil}
	if f.HasAt {
		n.At = &[2]float64{f.At[0], f.At[1]}
	}
	return n
}

const closes = "every contour closes"

// Verdict says in a few words whether the drawing can be cut.
func (in Intake) Verdict() string {
	var faults []string
	if n := len(in.Open); n > 0 {
		faults = append(faults, plural(n, "chain does not close", "chains do not close"))
	}
	if n := len(in.Refused); n > 0 {
		faults = append(faults, plural(n, "contour cannot be cut as drawn", "contours cannot be cut as drawn"))
	}
	lost := 0
	for _, f := range in.Findings {
		if lossy[f.Kind] && f.Level == Problem {
			lost += f.Count
		}
	}
	if lost > 0 {
		faults = append(faults, plural(lost, "entity could not be read", "entities could not be read"))
	}
	if !in.Complete() {
		faults = append(faults, "not all of it could be read")
	}
	switch {
	case len(in.Parts) == 0 && len(faults) == 0:
		return "no closed contour"
	case in.Closed() && len(faults) > 0:
		return closes + ", but " + strings.Join(faults, ", ")
	case len(faults) > 0:
		return strings.Join(faults, ", ")
	}
	return closes
}

// lossy are the kinds of findings that say that an entity is missing.
var lossy = map[Kind]bool{BadEntity: true, OutOfRange: true, BlockMissing: true, BlockRecursive: true}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// WriteReportJSON writes reports as one JSON document.
func WriteReportJSON(w io.Writer, reports []Report) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(struct {
		Format string   `json:"format"`
		Files  []Report `json:"files"`
	}{ReportFormat, reports})
}

// maxListed bounds how many parts, layers or places the text names.
const maxListed = 12

// WriteReport writes an intake as text for people.
func WriteReport(w io.Writer, in Intake) error {
	r := NewReport(in)
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", r.File, r.Verdict)
	fmt.Fprintf(&b, "  %s, drawn in %s (%s)\n", r.Format, words[r.Units], unitSource[r.UnitsFrom])
	fmt.Fprintf(&b, "  %s\n", r.summary())
	if len(r.Entities) > 0 {
		fmt.Fprintf(&b, "  drawn: %s\n", counts(r.Entities))
	}
	if len(r.Skipped) > 0 {
		fmt.Fprintf(&b, "  passed over: %s\n", counts(r.Skipped))
	}
	r.writeParts(&b)
	r.writeLayers(&b)
	writeFindings(&b, in.Findings)
	_, err := io.WriteString(w, b.String())
	return err
}

// summary says what there is, how large it is and how long.
func (r Report) summary() string {
	what := "nothing that can be cut"
	if r.PathMM == 0 {
		return what
	}
	if len(r.Parts) > 0 {
		what = plural(len(r.Parts), "part", "parts") + " with " + plural(r.Holes, "hole", "holes")
	}
	return fmt.Sprintf("%s; %s, %.1f mm of line", what, describe(r.Width, r.Height), r.PathMM)
}

var unitSource = map[string]string{
	"job": "as the job says", "header": "as the drawing says", "measurement": "from the drawing's measurement system", "assumed": "assumed",
}

// counts lists types with how many there are of each.
func counts(m map[string]int) string {
	var out []string
	for _, k := range slices.Sorted(maps.Keys(m)) {
		out = append(out, strconv.Itoa(m[k])+" "+k)
	}
	return strings.Join(out, ", ")
}

func (r Report) writeParts(b *strings.Builder) {
	if len(r.Parts) == 0 {
		return
	}
	fmt.Fprintf(b, "  %6s %21s %7s %13s %12s\n", "part", "size mm", "holes", "area cm²", "to cut mm")
	for i, p := range r.Parts[:min(len(r.Parts), maxListed)] {
		fmt.Fprintf(b, "  %6d %9s × %9s %7d %13s %12.1f\n", i+1, number(p.Width), number(p.Height), p.Holes, number(p.Area/100), p.CutMM)
	}
	if n := len(r.Parts) - maxListed; n > 0 {
		fmt.Fprintf(b, "  and %s\n", plural(n, "more part", "more parts"))
	}
}

func (r Report) writeLayers(b *strings.Builder) {
	var told []LayerReport
	for _, l := range r.Layers {
		if l.Entities > 0 {
			told = append(told, l)
		}
	}
	if len(told) < 2 && (len(told) == 0 || told[0].Used == told[0].Entities) {
		return
	}
	b.WriteString("  layers\n")
	for _, l := range told[:min(len(told), maxListed)] {
		fmt.Fprintf(b, "    %s: %d of %d used", l.Name, l.Used, l.Entities)
		if l.Why != "" {
			fmt.Fprintf(b, " (%s)", l.Why)
		}
		b.WriteString("\n")
	}
	if n := len(told) - maxListed; n > 0 {
		fmt.Fprintf(b, "    and %s\n", plural(n, "more layer", "more layers"))
	}
}

// writeFindings writes findings, the gravest first, those of one kind and
// layer together under the text of the first.
func writeFindings(b *strings.Builder, findings []Finding) {
	for _, level := range []Level{Problem, Suspect, Note} {
		for _, group := range gather(findings, level) {
			f := group[0]
			n := 0
			for _, g := range group {
				n += g.Count
			}
			times := ""
			if n > 1 {
				times = " ×" + strconv.Itoa(n)
			}
			fmt.Fprintf(b, "  %-8s%s: %s%s\n", level, times, f.Text, where(f))
			if len(group) > 1 {
				fmt.Fprintf(b, "            also at %s\n", places(group[1:]))
			}
		}
	}
}

// gather groups the findings of a level by kind and layer, in the order of
// their first.
func gather(findings []Finding, level Level) [][]Finding {
	type like struct {
		kind  Kind
		layer string
		text  string
	}
	var out [][]Finding
	at := map[like]int{}
	for _, f := range findings {
		if f.Level != level {
			continue
		}
		key := like{f.Kind, f.Layer, ""}
		if !f.HasAt {
			key.text = f.Text
		}
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], f)
	}
	return out
}

// where says where a finding is, as far as it is known.
func where(f Finding) string {
	var out []string
	if f.HasAt {
		out = append(out, "at "+place(f.At))
	}
	if f.Layer != "" && f.Layer != "0" && f.Layer != topLayer {
		out = append(out, "layer "+f.Layer)
	}
	if f.Line > 0 {
		out = append(out, "line "+strconv.Itoa(f.Line))
	}
	if f.Handle != "" {
		out = append(out, "handle "+f.Handle)
	}
	if len(out) == 0 {
		return ""
	}
	return " (" + strings.Join(out, ", ") + ")"
}

// places lists where findings with a place are.
func places(fs []Finding) string {
	var out []string
	for _, f := range fs {
		if f.HasAt && len(out) < 4 {
			out = append(out, place(f.At))
		}
	}
	s := strings.Join(out, "; ")
	if n := len(fs) - len(out); n > 0 {
		s += fmt.Sprintf("; and %d more", n)
	}
	return s
}
