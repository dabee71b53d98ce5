package drawing

import (
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A reference is what an independent reader (ezdxf) found in a drawing, in the
// drawing's own units: entities after expanding inserts, length and extents.
type reference struct {
	entities string // "ARC:2 LINE:10"; "unreadable: …" where that reader gave up
	figures  []float64
}

// loadReference reads REFERENCE.tsv beside the drawings.
func loadReference(t *testing.T) map[string]reference {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(corpusDir(t), "REFERENCE.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]reference{}
	for _, row := range strings.Split(strings.TrimSpace(string(data)), "\n")[1:] {
		f := strings.Split(row, "\t")
		r := reference{entities: f[2]}
		for _, s := range f[3:] {
			if v, err := strconv.ParseFloat(s, 64); err == nil {
				r.figures = append(r.figures, v)
			}
		}
		out[f[0]] = r
	}
	return out
}

// known explains every drawing on which we and the reference differ. Where
// the same independent reader can be brought to read the drawing leniently, or
// to measure its plan view, its figures stand here and are compared instead.
var known = map[string]struct {
	reason    string
	reference // compared instead, where it has entities
	refused   string
}{
	"diamond-bin.dxf":              {"binary, and the reference was computed by its recovering mode, which reads only text", reference{"LINE:12", []float64{1058.2014, -45, -45, 45, 45}}, ""},
	"ae.r12b.dxf":                  {"binary, as above", reference{"ARC:2 CIRCLE:1 LINE:10 POLYLINE:4", []float64{48.96839, -3.770728, -7.319536, 2.356274, 3}}, ""},
	"ae.r2000b.dxf":                {"binary, as above", reference{aeEntities, aeFigures}, ""},
	"ae.r2010b.dxf":                {"binary, as above", reference{aeEntities, aeFigures}, ""},
	"ae.r2013b.dxf":                {"binary, as above", reference{aeEntities, aeFigures}, ""},
	"uc.r2004b.dxf":                {"binary, as above", reference{"LWPOLYLINE:1", []float64{4, 0, 0, 1, 1}}, ""},
	"uc.r2007b.dxf":                {"binary, as above", reference{"LWPOLYLINE:1", []float64{4, 0, 0, 1, 1}}, ""},
	"bin_dxf_r14.dxf":              {"binary, as above", reference{"LINE:3", []float64{619.1506, 335.7176, 304.2704, 595.8781, 439.7706}}, ""},
	"supported_entities.dxf":       {"the reference stops at an unknown value; read leniently it runs a periodic spline over all of its knots, beyond the curve's domain, so only the counts compare", reference{"ARC:2 CIRCLE:1 ELLIPSE:3 LINE:21 LWPOLYLINE:14 SPLINE:6", nil}, ""},
	"spline_1.dxf":                 {"the reference stops at a missing subclass marker, which we do not need; there is no second figure", reference{"ARC:1 LINE:1 LWPOLYLINE:3", nil}, ""},
	"r12_blocks_with_no_names.dxf": {"the reference stops at blocks without names; the model is empty", reference{"", nil}, ""},
	"tables.dxf":                   {"holds tables only", reference{}, "no entities"},
	"loose.dxf":                    {"a circle and a line; the reference runs along four cubic Bézier curves, which are up to 1.4e-4 longer than the circle: 2π·86.62058 and the line of 52.06366 mm make 596.3168", reference{"CIRCLE:1 LINE:1", []float64{596.3168, 314.129, 92.6294, 487.371, 278.5}}, ""},
	"ellipticalarcs.dxf":           {"arcs of ellipses: as above; the figure here is the sum of chords over 200000 points of each arc's own formula", reference{"ELLIPSE:9", []float64{2422.1121, -100, -50, 520.004, 270.002}}, ""},
}

const aeEntities = "ARC:2 CIRCLE:1 LINE:10 LWPOLYLINE:1 SPLINE:3"

var aeFigures = []float64{49.02319, -3.770809, -7.319536, 2.356288, 3}

// TestReference compares every reference drawing with what the independent
// reader found: entity counts equal, length and extents within 1e-4.
func TestReference(t *testing.T) {
	refs := loadReference(t)
	compared, agreed, explained, refused := 0, 0, 0, 0
	for _, name := range corpus(t) {
		data, err := os.ReadFile(filepath.Join(corpusDir(t), name))
		if err != nil {
			t.Fatal(err)
		}
		ref, ok := refs[name]
		if !ok {
			t.Errorf("%s is not in the reference", name)
			continue
		}
		short := name[strings.LastIndex(name, "__")+2:]
		k, isKnown := known[short]
		in, err := Read(name, data, Options{})
		if err != nil || k.refused != "" {
			refused++
			if err == nil || k.refused == "" || !strings.Contains(err.Error(), k.refused) {
				t.Errorf("%s: error %v, want %q", name, err, k.refused)
			}
			continue
		}
		checkIntake(t, in)
		got := drawnFigures(in)
		readable := !strings.HasPrefix(ref.entities, "unreadable")
		why := differs(got, ref)
		if readable {
			compared++
			if why == "" {
				agreed++
			}
		}
		switch {
		case why != "" && !isKnown:
			t.Errorf("%s: %s, unexplained", name, why)
		case why == "" && isKnown:
			t.Errorf("%s agrees, yet is listed: %s", name, k.reason)
		case isKnown:
			explained++
			if still := differs(got, k.reference); still != "" {
				t.Errorf("%s: %s, even allowing that %s", name, still, k.reason)
			}
		}
	}
	t.Logf("%d of %d drawings that the reference reads agree within 1e-4 (%.1f %%); %d differences explained and checked; %d refused with a reason",
		agreed, compared, 100*float64(agreed)/float64(compared), explained, refused)
	if float64(agreed) < 0.97*float64(compared) {
		t.Errorf("fewer than 97 %% agree")
	}
}

// drawnFigures is what we found, in the drawing's units.
func drawnFigures(in Intake) reference {
	var ents []string
	for _, typ := range slices.Sorted(maps.Keys(in.Entities)) {
		ents = append(ents, fmt.Sprintf("%s:%d", typ, in.Entities[typ]))
	}
	r := reference{entities: strings.Join(ents, " ")}
	if per, ok := in.Units.MM(); ok && len(ents) > 0 {
		b := in.Drawn.Bounds
		r.figures = []float64{in.Drawn.PathMM / per, b.Min[0] / per, b.Min[1] / per, b.Max[0] / per, b.Max[1] / per}
	}
	return r
}

// differs says how two findings differ, "" where they agree. Length is
// compared with itself, extents with the larger side; the reference gives six
// digits of each.
func differs(got, ref reference) string {
	if got.entities != ref.entities {
		return fmt.Sprintf("entities %q, reference %q", got.entities, ref.entities)
	}
	if len(ref.figures) < 5 {
		return ""
	}
	size := max(ref.figures[3]-ref.figures[1], ref.figures[4]-ref.figures[2])
	for i, what := range []string{"length", "least x", "least y", "largest x", "largest y"} {
		scale := size
		if i == 0 {
			scale = ref.figures[0]
		}
		rounding := 0.5 * math.Pow(10, math.Floor(math.Log10(math.Abs(ref.figures[i])+1e-300))-5)
		if d := math.Abs(got.figures[i] - ref.figures[i]); d > 1e-4*scale+rounding {
			return fmt.Sprintf("%s %.7g, reference %.7g", what, got.figures[i], ref.figures[i])
		}
	}
	return ""
}

// TestPartsClose measures how many of the drawings of parts close in every
// contour at the default tolerance, with nothing done to them.
func TestPartsClose(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(corpusDir(t), "MANIFEST.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	parts, closed, clean := 0, 0, 0
	var not []string
	for _, row := range strings.Split(strings.TrimSpace(string(data)), "\n")[1:] {
		f := strings.Split(row, "\t")
		if f[1] != "part" {
			continue
		}
		data, err := os.ReadFile(filepath.Join(corpusDir(t), f[0]))
		if err != nil {
			t.Fatal(err)
		}
		in, err := Read(f[0], data, Options{})
		if err != nil {
			t.Error(err)
			continue
		}
		parts++
		if len(in.Open) == 0 && in.Contours()+len(in.Refused) > 0 {
			closed++
		} else {
			not = append(not, f[0]+": "+in.Verdict())
		}
		if in.Closed() {
			clean++
		}
	}
	t.Logf("%d of %d drawings of parts close in every contour (%.1f %%); %d of them have no contours that cross. Not closed:\n  %s",
		closed, parts, 100*float64(closed)/float64(parts), clean, strings.Join(not, "\n  "))
	if float64(closed) < 0.75*float64(parts) {
		t.Errorf("fewer than 75 %% close")
	}
}
