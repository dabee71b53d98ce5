package report

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/geom/drawing"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// routedPlan plans the part of the demo week that is cut from some materials,
// with tabs, so that every kind of cut occurs.
func routedPlan(t *testing.T) *week.Plan {
	t.Helper()
	if testing.Short() {
		t.Skip("plans a part of the demo week, some seconds")
	}
	job, err := shop.Load(os.DirFS("../../testdata/week"), "week.yaml")
	if err != nil {
		t.Fatal(err)
	}
	keep := []string{"stainless 304", "aluminium 6061", "glass-epoxy laminate"}
	job.Orders = slices.DeleteFunc(job.Orders, func(o shop.Order) bool { return !slices.Contains(keep, o.Material) })
	job.Cutting.Tabs, job.Cutting.TabBelowMM = true, 60
	// A remnant is worth cutting free whatever it costs.
	job.Remnants.ValueShare, job.Remnants.UpkeepMoney = 1, 0
	p, err := week.Make(context.Background(), job, week.Options{Seed: 1, Effort: 0.02, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

const ezdxfLayers = `
import ezdxf, json, sys
out = []
for name in sys.argv[1:]:
    doc = ezdxf.readfile(name)
    a = doc.audit()
    f = {"Audit": len(a.errors) + len(a.fixes), "Units": doc.header["$INSUNITS"], "Contours": [], "Counts": {}, "Texts": []}
    for e in doc.modelspace():
        l, t = e.dxf.layer, e.dxftype()
        f["Counts"][l] = f["Counts"].get(l, 0) + 1
        if t == "LWPOLYLINE":
            f["Contours"].append({"Layer": l, "Closed": bool(e.closed), "Vertices": [list(p) for p in e.get_points("xyb")]})
        elif t == "CIRCLE":
            c, r = e.dxf.center, e.dxf.radius
            f["Contours"].append({"Layer": l, "Closed": True, "Vertices": [[c.x - r, c.y, 1], [c.x + r, c.y, 1]]})
        elif t == "LINE":
            f["Contours"].append({"Layer": l, "Closed": False, "Vertices": [[e.dxf.start.x, e.dxf.start.y, 0], [e.dxf.end.x, e.dxf.end.y, 0]]})
        elif t == "TEXT": f["Texts"].append(e.dxf.text)
        elif t not in ("POINT", "ARC"): f["Counts"]["unexpected " + t] = 1
    out.append(f)
print(json.dumps(out))
`

// An otherFile is a drawing as the other program read it.
type otherFile struct {
	Audit, Units int
	Counts       map[string]int
	Texts        []string
	Contours     []struct {
		Layer    string
		Closed   bool
		Vertices [][3]float64
	}
}

func readByOther(t *testing.T, names []string) []otherFile {
	t.Helper()
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		t.Skip("needs python3-ezdxf (Debian) at " + python)
	}
	out, err := exec.Command(python, append([]string{"-c", ezdxfLayers}, names...)...).Output()
	if err != nil {
		t.Fatal(err)
	}
	var files []otherFile
	if err := json.Unmarshal(out, &files); err != nil {
		t.Fatal(err)
	}
	return files
}

// Every routed layout, with leads, tabs, severing cuts, rapid moves, labels and
// the remnant, is read by an independent program without a fault, and holds the
// route's cuts to 1e-6 mm. Our own reader closes every contour of it.
func TestRoutedLayoutsThroughAnother(t *testing.T) {
	p := routedPlan(t)
	dir := t.TempDir()
	var names []string
	var layouts []*week.Layout
	severed, tabs, raised := 0, 0, 0
	for g := range p.Groups {
		for k := range p.Groups[g].Layouts {
			l := &p.Groups[g].Layouts[k]
			var b bytes.Buffer
			if err := WriteLayoutDXF(&b, p, g, k); err != nil {
				t.Fatal(err)
			}
			name := filepath.Join(dir, l.ID+".dxf")
			if err := os.WriteFile(name, b.Bytes(), 0o666); err != nil {
				t.Fatal(err)
			}
			readByUs(t, l, b.Bytes())
			names, layouts = append(names, name), append(layouts, l)
			severed, raised = severed+len(l.Route.Severing), raised+l.Route.Crossings
			for _, c := range l.Route.Cuts {
				if c.TabMM > 0 {
					tabs++
				}
			}
		}
	}
	if severed == 0 || tabs == 0 {
		t.Errorf("%d severing cuts and %d tabs: the plan does not try them all", severed, tabs)
	}
	for i, f := range readByOther(t, names) {
		compareWithOther(t, layouts[i], &f)
	}
	t.Logf("%d layouts, %d severing cuts, %d tabs, %d raised moves", len(layouts), severed, tabs, raised)
}

// readByUs reads the cuts back and compares each contour by its vertices.
func readByUs(t *testing.T, l *week.Layout, data []byte) {
	t.Helper()
	in, err := drawing.Read(l.ID, data, drawing.Options{Layers: []string{drawing.LayerCutOutside, drawing.LayerCutInside, drawing.LayerTab}})
	if err != nil {
		t.Fatal(err)
	}
	if len(in.Parts) != len(l.Placements) || !in.Closed() || in.Worst() > drawing.Note {
		t.Errorf("%s: %d parts of %d, %s", l.ID, len(in.Parts), len(l.Placements), in.Verdict())
	}
	var got []geom.Contour
	for _, s := range in.Parts {
		got = append(append(got, s.Outer), s.Holes...)
	}
	for _, c := range l.Route.Cuts {
		if !slices.ContainsFunc(got, func(g geom.Contour) bool { return sameCut(g, c.Contour, c.TabMM > 0) }) {
			t.Errorf("%s: %s, hole %d, did not come back", l.ID, c.Name, c.Hole)
		}
	}
}

// sameCut compares two contours by box, area and length to a millionth of a
// millimetre of each, and by their vertices: those of b lie on a. A tab adds a
// vertex.
func sameCut(a, b geom.Contour, tab bool) bool {
	p, q := a.Bounds(), b.Bounds()
	const tol = 1e-6
	for k := range 2 {
		if math.Abs(p.Min[k]-q.Min[k]) > tol || math.Abs(p.Max[k]-q.Max[k]) > tol {
			return false
		}
	}
	if math.Abs(math.Abs(a.Area())-math.Abs(b.Area())) > tol*b.Length() || math.Abs(a.Length()-b.Length()) > tol*float64(len(a)+len(b)) {
		return false
	}
	if tab || len(a) != len(b) {
		return true // a circle or a split arc: box, area and length tell
	}
	for _, v := range b {
		if !slices.ContainsFunc(a, func(w geom.Vertex) bool { return math.Hypot(v.P[0]-w.P[0], v.P[1]-w.P[1]) <= tol }) {
			return isRound(b)
		}
	}
	return true
}

// isRound reports whether all of a contour is arcs: a circle begins anywhere.
func isRound(c geom.Contour) bool {
	return !slices.ContainsFunc(c, func(v geom.Vertex) bool { return v.Bulge == 0 })
}

func compareWithOther(t *testing.T, l *week.Layout, f *otherFile) {
	t.Helper()
	if f.Audit != 0 || f.Units != 4 {
		t.Errorf("%s: %d faults to mend, units %d, want 0 and 4 (mm)", l.ID, f.Audit, f.Units)
	}
	wantInside, wantTabs, wantLeads := 0, 0, 0
	var want []geom.Path
	for _, c := range l.Route.Cuts {
		if c.Hole >= 0 {
			wantInside++
		}
		if c.TabMM > 0 {
			wantTabs++
			want = append(want, c.Cut())
		}
		for _, p := range []geom.Path{c.LeadIn, c.LeadOut} {
			if len(p) > 1 {
				wantLeads++
			}
		}
	}
	for _, s := range l.Route.Severing {
		want = append(want, s.Path)
		for _, p := range []geom.Path{s.LeadIn, s.LeadOut} {
			if len(p) > 1 {
				wantLeads++
			}
		}
	}
	raised := 0
	for _, m := range moves(&l.Route) {
		if m.over > 0 {
			raised++
		}
	}
	remnants := 0
	if l.Remnant != nil {
		remnants = 1
	}
	for layer, n := range map[string]int{
		drawing.LayerCutInside: wantInside, drawing.LayerCutOutside: len(l.Placements), drawing.LayerTab: wantTabs,
		drawing.LayerLead: wantLeads, drawing.LayerPierce: l.Route.Pierces, drawing.LayerCutSever: len(l.Route.Severing),
		drawing.LayerRaised: raised, drawing.LayerRapid: len(moves(&l.Route)) - raised, drawing.LayerRemnant: remnants,
	} {
		if f.Counts[layer] != n {
			t.Errorf("%s: %d entities on %s, want %d", l.ID, f.Counts[layer], layer, n)
		}
	}
	for layer := range f.Counts {
		if strings.HasPrefix(layer, "unexpected") {
			t.Errorf("%s: %s", l.ID, layer)
		}
	}
	for _, c := range l.Route.Cuts {
		if c.TabMM == 0 && !isRound(c.Contour) {
			want = append(want, geom.Path(c.Contour))
		}
	}
	for _, w := range want {
		if !f.has(w) {
			t.Errorf("%s: a cut from %v is missing or off by more than 1e-6 mm", l.ID, w[0].P)
		}
	}
	if len(f.Texts) != len(l.Placements)+1 {
		t.Errorf("%s: %d labels, want %d", l.ID, len(f.Texts), len(l.Placements)+1)
	}
}

// has reports whether the vertices of a path occur as they are.
func (f *otherFile) has(want geom.Path) bool {
	for _, c := range f.Contours {
		if len(c.Vertices) != len(want) {
			continue
		}
		same := true
		for i, v := range c.Vertices {
			w := want[i]
			same = same && math.Abs(v[0]-w.P[0]) <= 1e-6 && math.Abs(v[1]-w.P[1]) <= 1e-6 &&
				(math.Abs(v[2]-w.Bulge) <= 1e-6 || i == len(want)-1 && !c.Closed)
		}
		if same {
			return true
		}
	}
	return false
}

const firstJob = `
version: 1
name: first
start: 2031-03-03
machines: [{id: jet, process: abrasive, pressure_mpa: 380, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400, table_x_mm: 3000, table_y_mm: 1500, hours_per_day: 8}]
stock: [{id: S, material: aluminium 6061, thickness_mm: 3, width_mm: 1500, height_mm: 1000, count: 1, cost: 100, grain_deg: 30}]
orders: [{id: A, shape: rectangle, width_mm: 250, height_mm: 180, quantity: 6, material: aluminium 6061, thickness_mm: 3}]
`

const nextJob = `
version: 1
name: next
start: 2031-03-10
machines: [{id: jet, process: abrasive, pressure_mpa: 380, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400, table_x_mm: 3000, table_y_mm: 1500, hours_per_day: 8}]
register: stock.yaml
orders: [{id: B, shape: ring, diameter_mm: 120, bore_mm: 60, quantity: 12, material: aluminium 6061, thickness_mm: 3}]
`

// A remnant that one plan leaves is a sheet of the next, as the register has it:
// outline, grain, worth. The cut that frees it runs along its outline.
func TestRemnantFeedsTheNextJob(t *testing.T) {
	first := planText(t, firstJob, nil)
	l := &first.Groups[0].Layouts[0]
	if l.Remnant == nil || len(l.Route.Severing) == 0 {
		t.Fatalf("remnant %v, %d severing cuts; want both; notes %q", l.Remnant, len(l.Route.Severing), l.Route.Warnings)
	}
	var stock bytes.Buffer
	if err := WriteStock(&stock, first); err != nil {
		t.Fatal(err)
	}
	next := planText(t, nextJob, stock.Bytes())
	g := &next.Groups[0]
	if len(g.Layouts) != 1 || len(g.Unplaced) != 0 {
		t.Fatalf("%d layouts, %v without a place", len(g.Layouts), g.Unplaced)
	}
	s := &g.Sheets[g.Layouts[0].Sheet]
	want := l.Remnant.Bounds()
	size := orb.Point{want.Max[0] - want.Min[0], want.Max[1] - want.Min[1]}
	if b := s.Outline.Bounds(); !s.Remnant || b.Min != (orb.Point{}) || b.Max != size || s.GrainDeg == nil || *s.GrainDeg != 30 {
		t.Errorf("the sheet is %+v, want a remnant of %v", s, size)
	}
	if r := week.Judge(g); !r.OK() {
		t.Errorf("the layout on the remnant breaks a rule: %s", r.Violations[0].Text)
	}
	for _, fault := range week.Audit(next) {
		t.Error(fault)
	}
}

func planText(t *testing.T, text string, stock []byte) *week.Plan {
	t.Helper()
	files := fstest.MapFS{"job.yaml": {Data: []byte(text)}, "stock.yaml": {Data: stock}}
	job, err := shop.Load(files, "job.yaml")
	if err != nil {
		t.Fatal(fmt.Errorf("%w\n%s", err, stock))
	}
	p, err := week.Make(context.Background(), job, week.Options{Seed: 1, Effort: 0.02, Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	return p
}
