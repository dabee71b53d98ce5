package report

import (
	"bytes"
	"context"
	"fmt"
	"html"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/xuri/excelize/v2"

	"kerfold/cost"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// usPlan is the sample plan read in customary units, with messages that name amounts
// and a material that is named like one.
func usPlan() *week.Plan {
	p := samplePlan()
	p.Units = cost.US
	const name = "foil 3 mm"
	for i := range p.Groups {
		g := &p.Groups[i]
		g.Cautions = append(g.Cautions, "a web of 0.8 mm or less may break through")
		for k := range g.Layouts {
			g.Layouts[k].Route.Warnings = append(g.Layouts[k].Route.Warnings, "a remnant of 320 × 210 mm is not kept")
		}
	}
	p.Groups[0].Material = name
	for i := range p.Stock {
		p.Stock[i].Material = name
	}
	p.Warnings = append(p.Warnings, "order K-1: 3 of 4 found no place: add stock of foil 3 mm, 6 mm", "the parts have 1.20 m² and the sheets 0.60 m²")
	p.Cautions = append(p.Cautions, "lift nothing over 25 kg alone", "the jet runs at 380 MPa and 900 m/s")
	p.Remnants = week.RemnantRule{MinSideMM: 200, ValueShare: 0.5, Source: "demo"}
	p.Changes = []string{"layout G1-L1 lies on a sheet of 1000 x 600 mm"}
	return p
}

// metric are the units that a reader of customary ones must not meet.
var metric = strings.Fields("mm cm m km µm um mm² cm² m² mm³ m³ g kg t mg L l mL litre litres MPa kPa kW W °C mm/s mm/min m/min m/s m/s² mm/s² g/min kg/min L/min L/s kg/m³ N/mm²")

var glued = regexp.MustCompile(`^[±~]?[0-9][0-9.,]*(\pL.*)$`)

// pressureInBar needs its number: a chart has bars too.
var pressureInBar = regexp.MustCompile(`[0-9] ?bar\b`)

// metricWords are the words of a text that are metric units, names left out.
func metricWords(text string, names ...string) []string {
	for _, n := range names {
		text = strings.ReplaceAll(text, n, "name")
	}
	out := pressureInBar.FindAllString(text, -1)
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \t\r\n,;:()[]\"'“”×–|", r) }) {
		w = strings.TrimRight(w, ".!?")
		if m := glued.FindStringSubmatch(w); m != nil {
			w = m[1]
		}
		if slices.Contains(metric, w) {
			out = append(out, w)
		}
	}
	return out
}

var (
	unseen = regexp.MustCompile(`(?s)<style.*?</style>|<script.*?</script>|<defs.*?</defs>`)
	spoken = regexp.MustCompile(`(?:aria-label|title|alt|placeholder)="([^"]*)"`)
	tag    = regexp.MustCompile(`<[^>]*>`)
)

// seen is the text of a page or a picture, with what is read out of it.
func seen(markup string) string {
	markup = unseen.ReplaceAllString(markup, " ")
	var b strings.Builder
	for _, m := range spoken.FindAllStringSubmatch(markup, -1) {
		b.WriteString(m[1] + "\n")
	}
	return html.UnescapeString(b.String() + tag.ReplaceAllString(markup, " "))
}

// bookText is every cell of a workbook.
func bookText(t *testing.T, data []byte) string {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var b strings.Builder
	for _, name := range f.GetSheetList() {
		rows, err := f.GetRows(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			b.WriteString(strings.Join(row, "\n") + "\n")
		}
	}
	return b.String()
}

// written is what people read of a plan, by file.
func written(t *testing.T, p *week.Plan) map[string]string {
	t.Helper()
	get := func(write func(io.Writer) error) string {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	out := map[string]string{
		"summary.txt": get(func(w io.Writer) error { return WriteSummary(w, p) }),
		"report.html": seen(get(func(w io.Writer) error { return WriteReport(w, p) })),
		"labels.html": seen(get(func(w io.Writer) error { return WriteLabels(w, p) })),
		"week.xlsx":   bookText(t, []byte(get(func(w io.Writer) error { return WriteWorkbook(w, p) }))),
		"comparison":  get(func(w io.Writer) error { return WriteComparison(w, Compare(p, p), true) }),
	}
	for gi := range p.Groups {
		for li := range p.Groups[gi].Layouts {
			out[p.Groups[gi].Layouts[li].ID+".svg"] = seen(get(func(w io.Writer) error { return WriteLayoutSVG(w, p, gi, li) }))
		}
	}
	return out
}

// Nothing that people read of a plan in customary units is metric, but names.
func TestNothingMetricInCustomaryUnits(t *testing.T) {
	for name, text := range written(t, usPlan()) {
		if words := metricWords(text, "foil 3 mm"); len(words) > 0 {
			t.Errorf("%s has %q in\n%s", name, words, text)
		}
		if name != "comparison" && !strings.Contains(text, "foil 3 mm") {
			t.Errorf("%s does not name the material as it is called", name)
		}
	}
	p := usPlan()
	p.Units = cost.Metric
	for name, text := range written(t, p) { // the scan must see what is there
		if len(metricWords(text, "foil 3 mm")) == 0 {
			t.Errorf("%s: no metric unit found in\n%s", name, text)
		}
	}
}

// The same of a real plan, whose job file asks for customary units.
func TestPlannedInCustomaryUnits(t *testing.T) {
	if testing.Short() {
		t.Skip("makes a plan, some seconds")
	}
	text := strings.Replace(shop.Example(), "version: 1", "version: 1\nunits: us", 1)
	job, err := shop.Load(fstest.MapFS{"job.yaml": {Data: []byte(text)}}, "job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := week.Make(context.Background(), job, week.Options{Seed: 1, Effort: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	files := written(t, p)
	for name, text := range files {
		if words := metricWords(text); len(words) > 0 {
			t.Errorf("%s has %q in\n%s", name, words, text)
		}
	}
	for name, want := range map[string]string{"report.html": "feed, in/min", "week.xlsx": "abrasive, lb", "labels.html": "0.0787 in", "G1-L1.svg": "in/min", "summary.txt": "gal water"} {
		if !strings.Contains(files[name], want) {
			t.Errorf("%s: no %q in\n%s", name, want, files[name])
		}
	}
	b, err := week.MakeBid(context.Background(), job, week.BidOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var bid bytes.Buffer
	if err := WriteBid(&bid, b, cost.US); err != nil || len(metricWords(bid.String())) > 0 {
		t.Errorf("%v, the bid has %q in\n%s", err, metricWords(bid.String()), bid.String())
	}
	back, err := ReadPlan(strings.NewReader(planJSON(t, p)))
	if err != nil || back.Units != cost.US {
		t.Errorf("%v, units %v after reading plan.json", err, back.Units)
	}
}

func planJSON(t *testing.T, p *week.Plan) string {
	t.Helper()
	var b bytes.Buffer
	if err := WritePlan(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestMeasureText(t *testing.T) {
	m := measure{units: cost.US}
	m.keep("sheet 12 mm", "plate")
	for _, c := range []struct{ metric, us string }{
		{"3 mm", "0.118 in"},
		{"sheets of 1000 x 500 mm", "sheets of 39.37 x 19.69 in"},
		{"parts 2.25 mm apart instead of 3 mm", "parts 0.0886 in apart instead of 0.118 in"},
		{"320 × 210 mm is not kept", "12.6 × 8.268 in is not kept"},
		{"0.2 to 0.4 mm, or 380 MPa.", "0.0079 to 0.0157 in, or 55.1 ksi."},
		{"1.20 m² of sheet, 25 kg, 900 m/s", "12.9 ft² of sheet, 55.1 lb, 2953 ft/s"},
		{"sheet 12 mm, 12 mm", "sheet 12 mm, 0.472 in"},
		{"12 kWh and 37 kW", "12 kWh and 49.6 hp"},
		{"G1-L1: 12 mmm, 5 Lugs, thickness_mm: 3", "G1-L1: 12 mmm, 5 Lugs, thickness_mm: 3"},
		{"", ""},
	} {
		if got := m.text(c.metric); got != c.us {
			t.Errorf("%q became %q, want %q", c.metric, got, c.us)
		}
		if got := (measure{}).text(c.metric); got != c.metric {
			t.Errorf("metric: %q became %q", c.metric, got)
		}
	}
}

// Inches are close enough to the millimetres they stand for: half a last place.
func TestInchesAreClose(t *testing.T) {
	for mm := 0.1; mm < 6000; mm *= 1.07 {
		var in float64
		if _, err := fmt.Sscan(lengthIn(mm, cost.US), &in); err != nil {
			t.Fatal(err)
		}
		slack := 0.127 // a sheet's
		switch {
		case mm < 2.54:
			slack = 0.00127
		case mm < 254:
			slack = 0.0127
		}
		if off := in*cost.MMPerInch - mm; off > slack+1e-9 || off < -slack-1e-9 {
			t.Errorf("%v mm is written as %v in, off by %v mm", mm, in, off)
		}
	}
}
