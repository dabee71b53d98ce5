package drawing

import (
	"encoding/json"
	"io"
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
	}{ReportFormat, append([]Report{}, reports...)}) // a list, if an empty one
}
