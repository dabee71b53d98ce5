package shop

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"kerfold/cost"
	"kerfold/geom/drawing"
)

// root is the repository as seen from this package.
const root = "../.."

func loadWeek(t testing.TB) *Job {
	t.Helper()
	j, err := Load(os.DirFS(root), "testdata/week/week.yaml")
	if err != nil {
		t.Fatalf("the demo week does not load:\n%v", err)
	}
	return j
}

func TestDemoWeek(t *testing.T) {
	j := loadWeek(t)
	parts, materials, groups := 0, map[string]bool{}, map[Group]int{}
	for i := range j.Orders {
		o := &j.Orders[i]
		parts += o.Quantity
		materials[o.Material] = true
		groups[o.Group()]++
		checkShape(t, o.ID, o.Shape)
		if o.Grade == 0 || o.Where == "" || o.Part == "" {
			t.Errorf("%s: half read: %+v", o.ID, o)
		}
	}
	for _, n := range []struct {
		what      string
		got, want int
	}{
		{"kinds of parts", len(j.Orders), 39},
		{"parts", parts, 1690},
		{"materials", len(materials), 6},
		{"groups", len(groups), 10},
		{"machines", len(j.Machines), 2},
		{"working days", len(j.Days), 5},
		{"drawings", len(j.Drawings), 23},
		{"stock lines", len(j.Stock), 17},
	} {
		if n.got != n.want {
			t.Errorf("%d %s, want %d", n.got, n.what, n.want)
		}
	}
	if want := time.Date(2026, 11, 30, 0, 0, 0, 0, time.UTC); !j.Start.Equal(want) {
		t.Errorf("start %v, want %v", j.Start, want)
	}
}

// The week shows what the program can do: both processes, stacks worth making,
// remnants with blocked zones, kits, fillers, grain, early dates.
func TestDemoWeekHasVariety(t *testing.T) {
	j := loadWeek(t)
	has := map[string]bool{}
	for i := range j.Orders {
		o := &j.Orders[i]
		has[string(j.Materials[o.Material].Process)] = true
		has["stack"] = has["stack"] || o.Quantity >= 100
		has["kit"] = has["kit"] || o.Kit != ""
		has["filler"] = has["filler"] || o.Filler
		has["grain"] = has["grain"] || o.GrainDeg != nil
		has["free"] = has["free"] || o.FreeAngle
		has["mirror"] = has["mirror"] || o.Mirror
		has["over-run"] = has["over-run"] || o.Extra > 0
		has["due on the first day"] = has["due on the first day"] || o.Due.Equal(j.Start)
	}
	for i := range j.Stock {
		has["remnant"] = has["remnant"] || j.Stock[i].Remnant
		has["blocked"] = has["blocked"] || len(j.Stock[i].Blocked) > 0
		if j.Stock[i].Source != string(cost.Demo) {
			t.Errorf("stock %s: its cost is tagged %q, want demo", j.Stock[i].ID, j.Stock[i].Source)
		}
	}
	for _, what := range []string{"plain", "abrasive", "stack", "kit", "filler", "grain", "free", "mirror", "over-run", "due on the first day", "remnant", "blocked"} {
		if !has[what] {
			t.Errorf("nothing in the week is or has: %s", what)
		}
	}
	if j.Rates.Source != cost.Demo {
		t.Errorf("rates are tagged %q, want demo", j.Rates.Source)
	}
}

// The drawings hold every kind of entity and the usual flaws.
func TestDemoDrawings(t *testing.T) {
	entities, units, kinds := map[string]int{}, map[drawing.Unit]int{}, map[drawing.Kind]int{}
	for _, in := range loadWeek(t).Drawings {
		units[in.Units]++
		for kind, n := range in.Entities {
			entities[kind] += n
		}
		for _, f := range in.Findings {
			kinds[f.Kind]++
		}
		if !in.Closed() {
			t.Errorf("%s: a contour is open or refused", in.Name)
		}
		if in.UnitsFrom != "header" {
			t.Errorf("%s: units %s from %q, want the header", in.Name, in.Units, in.UnitsFrom)
		}
	}
	for _, kind := range []string{"LINE", "ARC", "CIRCLE", "LWPOLYLINE", "POLYLINE", "SPLINE", "ELLIPSE"} {
		if entities[kind] == 0 {
			t.Errorf("no %s in any drawing: %v", kind, entities)
		}
	}
	if units[drawing.Inch] < 4 || units[drawing.Millimetre] < 10 {
		t.Errorf("units %v", units)
	}
	for _, kind := range []drawing.Kind{drawing.GapClosed, drawing.Duplicate, drawing.Annotation, drawing.Construction, drawing.CurveFitted} {
		if kinds[kind] == 0 {
			t.Errorf("no drawing shows %s: %v", kind, kinds)
		}
	}
}

// Areas of drawn parts by formulas of their own.
func TestDemoPartAreas(t *testing.T) {
	const in = 25.4
	disc := func(r float64) float64 { return math.Pi * r * r }
	want := map[string]float64{
		"G-201": disc(82.5) - disc(45) - 4*disc(9),
		"G-202": math.Pi*90*60 - math.Pi*66*38 - 6*disc(4.5),
		"A-411": in * in * (2.375*2 - 1.375*0.5 - disc(0.25)/2),
		"A-413": 120*40 - (4-math.Pi)*36 - 2*disc(1.7),
		"T-501": 300*220 - 4*25*25 - disc(9),
		"T-502": disc(90) - disc(12) - 24*disc(5),
		"E-603": 300*160 - 40*50 - 3*12*60,
		"F-303": in * in * (3.5*1.25 + 1.25*2.25 + (1-math.Pi/4)*0.25 - (1-math.Pi/4)*0.25),
		"S-102": 120*120 - 100*100/2 - disc(15)/4,
		"S-105": 400*250 - (4-math.Pi)*225 - 20*(32*8+disc(4)),
		"S-111": 250*250 - (4-math.Pi)*400 - disc(40) - 4*(14*18+disc(9)),
	}
	j := loadWeek(t)
	for i := range j.Orders {
		o := &j.Orders[i]
		w, ok := want[o.ID]
		if !ok {
			continue
		}
		delete(want, o.ID)
		// Ellipses become arcs within drawing.CurveTolerance of the curve.
		tol := 1e-4 * w
		if o.ID == "G-202" {
			tol = drawing.CurveTolerance * o.Shape.Length()
		}
		if got := o.Shape.Area(); math.Abs(got-w) > tol {
			t.Errorf("%s: area %.3f mm², want %.3f", o.ID, got, w)
		}
	}
	for id := range want {
		t.Errorf("no order %s", id)
	}
}

// The sheets suffice with room to spare, and are not wildly more than needed.
func TestDemoStockIsRealistic(t *testing.T) {
	j := loadWeek(t)
	need, sheet := map[string]float64{}, map[string]float64{}
	have := map[string]float64{}
	key := func(m string, th float64) string { return fmt.Sprintf("%s %g", m, th) }
	for i := range j.Orders {
		o := &j.Orders[i]
		need[key(o.Material, o.ThicknessMM)] += math.Abs(o.Shape.Outer.Area()) * float64(o.Quantity)
	}
	for i := range j.Stock {
		s := &j.Stock[i]
		k := key(s.Material, s.ThicknessMM)
		have[k] += s.AreaMM2() * float64(s.Count)
		sheet[k] = max(sheet[k], s.AreaMM2())
	}
	sheets := 0.0
	for k, a := range need {
		sheets += math.Ceil(a / sheet[k])
		if ratio := have[k] / a; ratio < 1.3 || ratio > 4 {
			t.Errorf("%s: stock is %.2f times the parts' area", k, ratio)
		}
		t.Logf("%-28s parts %.2f m², %.1f sheets, stock %.1f times", k, a/1e6, a/sheet[k], have[k]/a)
	}
	if sheets < 20 || sheets > 60 {
		t.Errorf("at least %v sheets, want 20 to 60", sheets)
	}
}

// The CSV gives the same orders with the marks and line ends spreadsheets write.
func TestDemoCSVWithCarriageReturns(t *testing.T) {
	fsys := overlay{os.DirFS(root), map[string]func([]byte) []byte{
		"testdata/week/orders.csv": func(b []byte) []byte {
			return []byte(strings.ReplaceAll(strings.ReplaceAll(string(b), "\r\n", "\n"), "\n", "\r\n"))
		},
	}}
	want := loadWeek(t)
	got, err := Load(fsys, "testdata/week/week.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if a, b := fmt.Sprint(got.Orders), fmt.Sprint(want.Orders); !strings.EqualFold(strip0x(a), strip0x(b)) {
		t.Error("orders differ with CRLF")
	}
}

// strip0x blanks the addresses of grain directions.
func strip0x(s string) string {
	words := strings.Fields(s)
	for i, w := range words {
		if strings.HasPrefix(w, "0x") {
			words[i] = "grain"
		}
	}
	return strings.Join(words, " ")
}

func TestDemoNamesAreUnique(t *testing.T) {
	j := loadWeek(t)
	var names []string
	for i := range j.Orders {
		names = append(names, j.Orders[i].Part)
	}
	slices.Sort(names)
	if len(slices.Compact(names)) != len(j.Orders) {
		t.Errorf("part names repeat: %q", names)
	}
}

func BenchmarkLoadWeek(b *testing.B) {
	for b.Loop() {
		loadWeek(b)
	}
}
