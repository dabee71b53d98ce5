package shop

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kerfold/cost"
)

// tuned fits some cuts, one of them in a material of its own.
func tuned(t *testing.T) []cost.Material {
	t.Helper()
	text := cutTable
	for _, row := range []string{
		"mild steel,25,55 ksi,0.013 in,1.02,350,good,38,14,",
		"mild steel,3,55 ksi,0.013 in,1.02,350,rough,1010,,",
		"cork,6,300 MPa,0.2 mm,,,rough,4600,,",
		"cork,10,300 MPa,0.2 mm,,,medium,2300,,",
	} {
		text += row + "\n"
	}
	cuts, _, err := loadCuts(text)
	if err != nil {
		t.Fatal(err)
	}
	own := cuts[0]
	own.Material, own.SpeedMMPerMin = "boron steel", 170
	fit, err := cost.Tune(append(cuts, own), cost.BuiltinMap())
	if err != nil {
		t.Fatal(err)
	}
	return fit.Materials
}

func TestMaterialFileRoundTrip(t *testing.T) {
	want := append(tuned(t), cost.Builtin()...)
	known := map[string]cost.Material{}
	for i := len(want) - 1; i >= 0; i-- { // the tuned ones come first and win
		known[want[i].Name] = want[i]
	}
	var list []cost.Material
	for _, name := range sortedKeys(known) {
		list = append(list, known[name])
	}
	data := MarshalMaterials(list, "from test cuts")
	got, _, err := LoadMaterials(fstest.MapFS{"m.yaml": {Data: data}}, "m.yaml")
	if err != nil {
		t.Fatalf("%v\n%s", err, data)
	}
	if diff := cmp.Diff(known, got); diff != "" {
		t.Error(diff)
	}
}

func TestMaterialFileInAJob(t *testing.T) {
	ms := tuned(t)
	text := base + oneOrder + "material_file: shop/materials.yaml\n"
	j := mustLoad(t, text, "shop/materials.yaml", string(MarshalMaterials(ms)))
	steel := j.Materials["mild steel"]
	if diff := cmp.Diff(ms[0], steel); diff != "" {
		t.Error(diff)
	}
	if _, ok := j.Materials["boron steel"]; !ok {
		t.Error("the new material is not known")
	}
	// The job's own entry comes after the file's, and without a calibration it has none.
	text = strings.Replace(text, "materials:\n", "materials:\n  - {name: mild steel, machinability: 90}\n  - {name: my cork, like: cork}\n", 1)
	j = mustLoad(t, text, "shop/materials.yaml", string(MarshalMaterials(ms)))
	if m := j.Materials["mild steel"]; m.Machinability.Value != 90 || m.Calibration != nil || m.ThicknessExponent != steel.ThicknessExponent {
		t.Errorf("changed: %+v", m)
	}
	if j.Materials["my cork"].Calibration == nil {
		t.Error("a material like a calibrated one has no calibration")
	}
	for _, c := range []struct{ name, file, want string }{
		{"no file", "", "cannot be read"},
		{"other keys", "orders: []", "unknown key"},
		{"bad covariance", "materials:\n  - {name: a, like: cork, calibration: {params: [plain_k], covariance: [[-1]]}}", "not positive definite"},
		{"ragged covariance", "materials:\n  - {name: a, like: cork, calibration: {params: [plain_k], covariance: [[1, 2]]}}", "row 1 of the covariance has 2 numbers"},
		{"unknown number", "materials:\n  - {name: a, like: cork, calibration: {params: [plainK], covariance: [[1]]}}", "no number that can be learnt"},
		{"words", "materials:\n  - {name: a, like: cork, calibration: {params: [plain_k], covariance: [[x]]}}", "write lists of numbers"},
	} {
		more := []string{"shop/materials.yaml", c.file}
		if c.file == "" {
			more = nil
		}
		if _, err := load(base+oneOrder+"material_file: shop/materials.yaml\n", more...); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// What the cuts leave open reaches the speed's interval the same way before and
// after the file.
func TestCalibrationSurvivesTheFile(t *testing.T) {
	ms := tuned(t)
	got, _, err := LoadMaterials(fstest.MapFS{"m.yaml": {Data: MarshalMaterials(ms)}}, "m.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s := cost.Setup{
		Machine:     cost.Machine{ID: "jet 1", Process: cost.Abrasive, PressureMPa: 380, OrificeMM: 0.33, TubeMM: 1.02, AbrasiveGPerMin: 350},
		ThicknessMM: 20, Grade: cost.Medium,
	}
	s.Material = ms[0]
	a, err := cost.SpeedInterval(s, 0.9)
	if err != nil {
		t.Fatal(err)
	}
	s.Material = got["mild steel"]
	b, _ := cost.SpeedInterval(s, 0.9)
	if a != b || math.IsNaN(a.Low) {
		t.Errorf("%+v before, %+v after", a, b)
	}
}

func FuzzMaterials(f *testing.F) {
	f.Add([]byte("materials:\n  - {name: a, like: cork, calibration: {params: [plain_k, thickness_exponent], degrees_of_freedom: 3, covariance: [[1, 0.1], [0.1, 2]]}}"))
	f.Add(MarshalMaterials(cost.Builtin()[:3]))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		ms, _, err := LoadMaterials(fstest.MapFS{"m.yaml": {Data: data}}, "m.yaml")
		if err != nil {
			return
		}
		var list []cost.Material
		builtin := cost.BuiltinMap()
		for _, name := range sortedKeys(ms) {
			if b, known := builtin[name]; known && cmp.Equal(b, ms[name]) {
				continue
			}
			if err := ms[name].Validate(); err != nil {
				t.Fatalf("accepted, but %v", err)
			}
			list = append(list, ms[name])
		}
		again, _, err := LoadMaterials(fstest.MapFS{"m.yaml": {Data: MarshalMaterials(list)}}, "m.yaml")
		if err != nil {
			t.Fatalf("written, but not read back: %v\n%s", err, MarshalMaterials(list))
		}
		if diff := cmp.Diff(ms, again); diff != "" {
			t.Fatal(diff)
		}
	})
}

// Comments in customary units change nothing that is read, and stand where a unit is.
func TestMaterialsInCustomaryUnits(t *testing.T) {
	var ms []cost.Material
	builtin := cost.BuiltinMap()
	for _, name := range sortedKeys(builtin) {
		ms = append(ms, builtin[name])
	}
	text := string(MarshalMaterialsIn(ms, cost.US))
	got, _, err := LoadMaterials(fstest.MapFS{"m.yaml": {Data: []byte(text)}}, "m.yaml")
	if err != nil {
		t.Fatal(err)
	}
	plain, _, err := LoadMaterials(fstest.MapFS{"m.yaml": {Data: MarshalMaterials(ms)}}, "m.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(plain, got); diff != "" {
		t.Errorf("the comments changed what is read (-without +with):\n%s", diff)
	}
	for _, want := range []string{" lb/ft³\n", " in/min\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if strings.Contains(string(MarshalMaterials(ms)), " # ") {
		t.Error("a metric file says its numbers twice")
	}
}
