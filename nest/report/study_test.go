package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// sampleStudy compares depths for discs of thin aluminium, five at most.
func sampleStudy(t *testing.T) *week.Study {
	t.Helper()
	j := cost.PartJob{
		Setup: cost.Setup{
			Machine: cost.Machine{
				ID: "jet 1", Process: cost.Abrasive, PressureMPa: 380, OrificeMM: 0.33, TubeMM: 1.02, AbrasiveGPerMin: 400,
				FeedCapMMPerMin: 3000, AccelMMPerS2: 300, MaxLayers: 5, Source: cost.Demo,
			},
			Material: cost.BuiltinMap()["aluminium 6061"], Rates: cost.DefaultRates(), ThicknessMM: 1, Grade: cost.Medium,
		},
		Part:     cost.Work{Parts: 1, Strokes: []cost.Stroke{{Contour: geom.CircleContour(orb.Point{}, 30)}}, RapidsMM: []float64{60}},
		PerSheet: 50, Quantity: 230, SheetMoney: 12, RemnantShare: 0.5,
	}
	p, err := cost.StudyPart(j)
	if err != nil {
		t.Fatal(err)
	}
	s := &week.Study{
		Order: shop.OrderByHand("K-7", geom.Shape{}, j.Quantity, "aluminium 6061", 1, cost.Medium),
		Sheet: shop.SheetByHand("S1", "aluminium 6061", 1, 500, 500, 12), PerSheet: 50, Yield: 0.565, Job: j, PartStudy: p,
	}
	if s.Cautions, err = cost.Cautions(j.Setup.At(2)); err != nil {
		t.Fatal(err)
	}
	return s
}

func TestWriteStudy(t *testing.T) {
	s := sampleStudy(t)
	var b bytes.Buffer
	if err := WriteStudy(&b, s, cost.Metric); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"K-7: 230 parts of aluminium 6061, 1 mm, medium, on jet 1", "50 on a sheet S1, yield 56.5 %", "machine cap",
		"6 layers and more: not allowed: machine jet 1: 6 layers, its limit is 5", "best: ", "break-even: ", "hydrogen",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
	b.Reset()
	if err := WriteStudy(&b, s, cost.US); err != nil || !strings.Contains(b.String(), "0.0394 in, medium") || !strings.Contains(b.String(), "118.1  fine") {
		t.Errorf("customary units: %v\n%s", err, b.String())
	}
	var list bytes.Buffer
	if err := WriteStudyList(&list, []*week.Study{s, s}, cost.Metric); err != nil {
		t.Fatal(err)
	}
	if strings.Count(list.String(), "\nK-7 ") != 2 || strings.Contains(list.String(), "webs of") {
		t.Errorf("list:\n%s", list.String())
	}
}

// The files hold the study's own numbers.
func TestStudyFiles(t *testing.T) {
	s := sampleStudy(t)
	var j, c bytes.Buffer
	if err := errors.Join(WriteStudyJSON(&j, []*week.Study{s}), WriteStudyCSV(&c, []*week.Study{s})); err != nil {
		t.Fatal(err)
	}
	var files []StudyFile
	dec := json.NewDecoder(&j)
	dec.DisallowUnknownFields()
	if err := dec.Decode(&files); err != nil || len(files) != 1 {
		t.Fatalf("%d studies, %v", len(files), err)
	}
	rows, err := csv.NewReader(&c).ReadAll()
	if err != nil || len(rows) != 1+len(s.Depths) {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	col := map[string]int{}
	for i, name := range rows[0] {
		col[name] = i
	}
	for i := range s.Depths {
		d, f, row := &s.Depths[i], files[0].Depths[i], rows[i+1]
		if f.Refusal != d.Refusal || row[col["refusal"]] != d.Refusal {
			t.Errorf("depth %d: refusal %q and %q, want %q", d.Depth, f.Refusal, row[col["refusal"]], d.Refusal)
		}
		if !d.Allowed() {
			continue
		}
		if f.Money.Likely != d.Money() || f.CutSec != d.Time.CutSec || f.Surplus != d.Surplus {
			t.Errorf("depth %d: %+v", d.Depth, f)
		}
		if v, err := strconv.ParseFloat(row[col["money"]], 64); err != nil || math.Abs(v/d.Money()-1) > 1e-6 {
			t.Errorf("depth %d: money %s", d.Depth, row[col["money"]])
		}
	}
	if files[0].Best != s.Depths[s.Best].Depth || len(files[0].Causes) == 0 || len(files[0].Cautions) == 0 {
		t.Errorf("head %+v", files[0])
	}
}

func TestStudySVG(t *testing.T) {
	s := sampleStudy(t)
	for _, name := range []string{"allowed only once", "all"} {
		if name == "allowed only once" {
			s.Depths = s.Depths[:1]
			s.Best = 0
		} else {
			s = sampleStudy(t)
		}
		var b bytes.Buffer
		if err := WriteStudySVG(&b, s, cost.Metric); err != nil {
			t.Fatal(err)
		}
		text := ""
		d := xml.NewDecoder(&b)
		for {
			tok, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			if s, ok := tok.(xml.CharData); ok {
				text += string(s) + "\n"
			}
		}
		for _, want := range []string{"seconds a part", "EUR a part", "layers cut at once", "machine cap", "piercing"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q in the picture", name, want)
			}
		}
	}
}

func TestWriteTrace(t *testing.T) {
	s := sampleStudy(t)
	tr, err := cost.Explain(s.Job.Setup.At(2), s.Job.Part.Copies(50), 12)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteTrace(&b, tr, cost.Metric); err != nil {
		t.Fatal(err)
	}
	for _, step := range tr {
		if !strings.Contains(b.String(), step.Name+" = ") || !strings.Contains(b.String(), step.Formula) || !strings.Contains(b.String(), string(step.Source)) {
			t.Errorf("step %s is not told whole", step.Name)
		}
	}
}

func TestWriteFit(t *testing.T) {
	cut := func(row int, h, u float64) cost.Cut {
		return cost.Cut{Row: row, Material: "mild steel", Process: cost.Abrasive, ThicknessMM: h, PressureMPa: 380, OrificeMM: 0.33, TubeMM: 1.02, AbrasiveGPerMin: 400, Grade: cost.Medium, SpeedMMPerMin: u}
	}
	var cuts []cost.Cut
	for i, h := range []float64{3, 5, 8, 12, 20, 30, 40} {
		in := cost.AbrasiveCut{Factor: 1, Machinability: 95, PressureMPa: 380, OrificeMM: 0.33, AbrasiveGPerMin: 400, Index: 3, ThicknessMM: h, TubeMM: 1.02}
		u := cost.AbrasiveSpeed(in) * (1 + 0.02*float64(i%3-1))
		if i == 3 {
			u *= 4
		}
		cuts = append(cuts, cut(i+2, h, u))
	}
	fit, err := cost.Tune(cuts, cost.BuiltinMap())
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteFit(&b, fit); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"learnt from 7 measurements", "machinability", "outlier, left out", "row 5, mild steel", "speed: "} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
	one, err := cost.Tune(cuts[:1], cost.BuiltinMap())
	if err != nil {
		t.Fatal(err)
	}
	b.Reset()
	if err := WriteFit(&b, one); err != nil || !strings.Contains(b.String(), "thickness exponent of abrasive stays 1.15") || !strings.Contains(b.String(), "assumed: too few cuts") {
		t.Errorf("%v\n%s", err, b.String())
	}
}
