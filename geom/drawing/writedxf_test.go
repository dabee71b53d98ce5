package drawing

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// sampleSketch has one of everything a sketch can hold.
func sampleSketch() Sketch {
	slot := geom.Contour{{P: orb.Point{100, 10}}, {P: orb.Point{140, 10}, Bulge: 1}, {P: orb.Point{140, 20}}, {P: orb.Point{100, 20}, Bulge: 1}}
	plate := geom.Contour{{P: orb.Point{0, 0}}, {P: orb.Point{200, 0}}, {P: orb.Point{200, 90}, Bulge: math.Tan(math.Pi / 8)}, {P: orb.Point{190, 100}}, {P: orb.Point{0, 100}}}
	circle := geom.Contour{{P: orb.Point{20, 50}, Bulge: -1}, {P: orb.Point{60, 50}, Bulge: -1}}
	return Sketch{Layers: []SketchLayer{
		{Name: LayerSheet, Contours: []geom.Contour{{{P: orb.Point{-50, -50}}, {P: orb.Point{250, -50}}, {P: orb.Point{250, 150}}, {P: orb.Point{-50, 150}}}}},
		{Name: LayerCutOutside, Contours: []geom.Contour{plate}},
		{Name: LayerCutInside, Contours: []geom.Contour{slot, circle}},
		{Name: LayerLead, Paths: []geom.Path{
			{{P: orb.Point{-5, 5}}, {P: orb.Point{0, 5}}},
			{{P: orb.Point{-5, 30}, Bulge: -0.4142135623730951}, {P: orb.Point{0, 35}}},
			{{P: orb.Point{0, 60}, Bulge: 0.3}, {P: orb.Point{-5, 65}}, {P: orb.Point{-10, 65}}},
		}},
		{Name: LayerPierce, Points: []orb.Point{{-5, 5}, {-5, 30}}},
		{Name: LayerPartLabel, Labels: []Label{{Text: "bracket Ø40 ^1 50%%", At: orb.Point{120, 60}, HeightMM: 8, Centred: true}, {Text: "K-7", At: orb.Point{5, 80}, HeightMM: 5, AngleDeg: 90}}},
	}}
}

// ezdxf runs a script with the independent reader, or skips.
func ezdxf(t *testing.T, script string, args ...string) string {
	t.Helper()
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import ezdxf").Run() != nil {
		t.Skip("the independent reader (python3-ezdxf) is not installed")
	}
	out, err := exec.Command(python, append([]string{"-c", script}, args...)...).CombinedOutput()
	if err != nil {
		t.Fatalf("independent reader: %v\n%s", err, out)
	}
	return string(out)
}

const ezdxfAudit = `
import ezdxf, sys
for name in sys.argv[1:]:
    doc = ezdxf.readfile(name)
    a = doc.audit()
    for e in a.errors + a.fixes: print("error", e.code, e.message)
    print("units", doc.units)
    h = doc.header
    print("extents", *["%.9f" % v for v in (*h["$EXTMIN"][:2], *h["$EXTMAX"][:2])])
    for e in doc.modelspace():
        k = e.dxftype()
        if k == "LWPOLYLINE":
            print(e.dxf.layer, k, int(e.closed), *["%.9f,%.9f,%.9f" % p for p in e.get_points("xyb")])
        elif k == "CIRCLE": print(e.dxf.layer, k, "%.9f,%.9f,%.9f" % (e.dxf.center.x, e.dxf.center.y, e.dxf.radius))
        elif k == "ARC": print(e.dxf.layer, k, "%.9f,%.9f" % (e.start_point.x, e.start_point.y), "%.9f,%.9f" % (e.end_point.x, e.end_point.y))
        elif k == "LINE": print(e.dxf.layer, k, "%.9f,%.9f" % (e.dxf.start.x, e.dxf.start.y), "%.9f,%.9f" % (e.dxf.end.x, e.dxf.end.y))
        elif k == "POINT": print(e.dxf.layer, k, "%.9f,%.9f" % (e.dxf.location.x, e.dxf.location.y))
        elif k == "TEXT": print(e.dxf.layer, k, ezdxf.decode_dxf_unicode(e.plain_text()), e.get_placement()[0].name, "%.9f,%.9f" % (e.get_placement()[1].x, e.get_placement()[1].y))
        else: print("unexpected", k)
`

func TestWriteDXFReadByAnother(t *testing.T) {
	var buf bytes.Buffer
	if err := WriteDXF(&buf, sampleSketch()); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "sample.dxf")
	if err := os.WriteFile(name, buf.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	got := strings.ReplaceAll(ezdxf(t, ezdxfAudit, name), "-0.000000000", "0.000000000")
	want := `units 4
extents -50.000000000 -50.000000000 250.000000000 150.000000000
SHEET LWPOLYLINE 1 -50.000000000,-50.000000000,0.000000000 250.000000000,-50.000000000,0.000000000 250.000000000,150.000000000,0.000000000 -50.000000000,150.000000000,0.000000000
CUT_OUTSIDE LWPOLYLINE 1 0.000000000,0.000000000,0.000000000 200.000000000,0.000000000,0.000000000 200.000000000,90.000000000,0.414213562 190.000000000,100.000000000,0.000000000 0.000000000,100.000000000,0.000000000
CUT_INSIDE LWPOLYLINE 1 100.000000000,10.000000000,0.000000000 140.000000000,10.000000000,1.000000000 140.000000000,20.000000000,0.000000000 100.000000000,20.000000000,1.000000000
CUT_INSIDE CIRCLE 40.000000000,50.000000000,20.000000000
LEAD LINE -5.000000000,5.000000000 0.000000000,5.000000000
LEAD ARC 0.000000000,35.000000000 -5.000000000,30.000000000
LEAD LWPOLYLINE 0 0.000000000,60.000000000,0.300000000 -5.000000000,65.000000000,0.000000000 -10.000000000,65.000000000,0.000000000
PIERCE POINT -5.000000000,5.000000000
PIERCE POINT -5.000000000,30.000000000
PART_LABEL TEXT bracket Ø40 ^1 50% % MIDDLE_CENTER 120.000000000,60.000000000
PART_LABEL TEXT K-7 LEFT 5.000000000,80.000000000
`
	if got != want {
		t.Errorf("the independent reader sees\n%s\nwant\n%s", got, want)
	}
}

func TestWriteDXFRefuses(t *testing.T) {
	ok := geom.Contour{{P: orb.Point{0, 0}}, {P: orb.Point{1, 0}}, {P: orb.Point{1, 1}}}
	for _, c := range []struct {
		why  string
		s    Sketch
		part string
	}{
		{"not a number", Sketch{[]SketchLayer{{Name: "A", Contours: []geom.Contour{{{P: orb.Point{math.NaN(), 0}}, {P: orb.Point{1, 1}}}}}}}, "not finite"},
		{"infinite", Sketch{[]SketchLayer{{Name: "A", Points: []orb.Point{{0, math.Inf(1)}}}}}, "not finite"},
		{"one vertex", Sketch{[]SketchLayer{{Name: "A", Paths: []geom.Path{{{P: orb.Point{1, 1}}}}}}}, "two vertices"},
		{"name twice, in another case", Sketch{[]SketchLayer{{Name: "A", Contours: []geom.Contour{ok}}, {Name: "a"}}}, "layer name"},
		{"the layer every drawing has", Sketch{[]SketchLayer{{Name: "0"}}}, "layer name"},
		{"name beyond ASCII", Sketch{[]SketchLayer{{Name: "Träger"}}}, "layer name"},
		{"no height", Sketch{[]SketchLayer{{Name: "A", Labels: []Label{{Text: "x"}}}}}, "height"},
	} {
		var buf bytes.Buffer
		err := WriteDXF(&buf, c.s)
		if err == nil || !strings.Contains(err.Error(), c.part) || buf.Len() > 0 {
			t.Errorf("%s: error %v, %d bytes written", c.why, err, buf.Len())
		}
	}
}

// The library shares tables between drawings; writing side by side and after
// one another must not show.
func TestWriteDXFSideBySide(t *testing.T) {
	var alone bytes.Buffer
	if err := WriteDXF(&alone, sampleSketch()); err != nil {
		t.Fatal(err)
	}
	other := Sketch{[]SketchLayer{{Name: "X", Labels: []Label{{Text: "other", HeightMM: 77}}}}}
	var wg sync.WaitGroup
	results := make([]bytes.Buffer, 20)
	for i := range results {
		wg.Go(func() {
			if err := WriteDXF(io.Discard, other); err != nil {
				t.Error(err)
			}
			if err := WriteDXF(&results[i], sampleSketch()); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	for i := range results {
		if !bytes.Equal(results[i].Bytes(), alone.Bytes()) {
			t.Fatalf("drawing %d differs from the one written alone", i)
		}
	}
}

func ExampleWriteDXF() {
	square := geom.Contour{{P: orb.Point{0, 0}}, {P: orb.Point{10, 0}}, {P: orb.Point{10, 10}}, {P: orb.Point{0, 10}}}
	var buf bytes.Buffer
	err := WriteDXF(&buf, Sketch{[]SketchLayer{{Name: LayerCutOutside, Contours: []geom.Contour{square}}}})
	fmt.Println(err, strings.Contains(buf.String(), "LWPOLYLINE"))
	// Output: <nil> true
}
