package cost

import "testing"

func TestBuiltin(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range Builtin() {
		if seen[m.Name] {
			t.Errorf("%s occurs twice", m.Name)
		}
		seen[m.Name] = true
		if err := m.Validate(); err != nil {
			t.Error(err)
		}
		if m.Family == "" || m.LimitSource == "" {
			t.Errorf("%s: family %q, limits from %q", m.Name, m.Family, m.LimitSource)
		}
		for _, q := range []Quantity{m.coefficient(), m.ThicknessExponent, m.DensityKgPerM3, m.PressureExponent, m.OrificeExponent, m.FeedCapMMPerMin} {
			if q.Value != 0 && (q.Source == "" || q.RelStdDev <= 0) {
				t.Errorf("%s: %+v has no source or spread", m.Name, q)
			}
		}
	}
	if len(BuiltinMap()) != len(Builtin()) {
		t.Error("map and list differ")
	}
}

// Machinability numbers as tabled.
func TestMachinabilityChecks(t *testing.T) {
	want := map[string]float64{
		"hardened tool steel": 80, "mild steel": 87, "copper": 110, "titanium": 115, "aluminium 6061": 213, "granite": 322,
		"acrylic": 690, "pine": 2637, "stainless 304": 82, "stainless 316": 83, "cast iron": 121, "zinc alloy": 136, "lead": 490,
		"marble": 535, "nylon": 538, "glass": 596, "graphite": 738, "polypropylene": 985, "silicon carbide": 12.6,
		"alumina 85 %": 17, "alumina 90 %": 10,
	}
	m := BuiltinMap()
	for _, name := range sortedKeys(want) {
		if got := m[name].Machinability.Value; got != want[name] {
			t.Errorf("%s: %v, want %v", name, got, want[name])
		}
	}
}

// The plain constants reproduce the textbook's speeds at the assumed settings.
func TestTextbookChecks(t *testing.T) {
	m := BuiltinMap()
	for _, c := range []struct {
		name        string
		mm, mPerMin float64
	}{
		{"leather", 2.2, 20},
		{"pvc", 3, 0.5},
		{"polyester cloth", 2, 150},
		{"aramid cloth", 3, 3},
		{"graphite sheet", 2.3, 5},
		{"gypsum board", 10, 6},
		{"corrugated board", 7, 200},
		{"pulp sheet", 2, 120},
		{"plywood", 6, 1},
	} {
		s := Setup{Machine: Machine{ID: "W2", Process: Plain, PressureMPa: 350, OrificeMM: 0.2}, Material: m[c.name], ThicknessMM: c.mm, Grade: Medium}
		v, err := SpeedOf(s)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name, v.Law, c.mPerMin*1000, 1e-9)
	}
}

func TestDefaultsOfTheTrade(t *testing.T) {
	runChecks(t, []check{
		{"part gap, thin", "from memory, unverified", PartGapMM(2), 2, 9},
		{"part gap, thick", "from memory, unverified", PartGapMM(20), 10, 9},
		{"lead-in, thin", "from memory, unverified", LeadInMM(2), 3, 9},
		{"lead-in, thick", "from memory, unverified", LeadInMM(20), 6, 9},
		{"thin web", "from memory, unverified", ThinWebMM(1.6), 0.25, 9},
		{"kerf ratio at no stand-off", "from memory, unverified", KerfWidth(1, 0), 1.05, 9},
		{"taper at separate", "from memory, unverified", TaperMM(1, 50), 0.25, 9},
		{"taper at fine", "from memory, unverified", TaperMM(5, 50), 0.08, 9},
	})
	for _, d := range []float64{0.76, 1.02} { // 0.8 to 1.2 mm is usual
		if k := KerfWidth(d, DefaultStandOffMM.Value); !within(k, 0.8, 1.2) {
			t.Errorf("kerf of a %v mm tube: %v mm", d, k)
		}
	}
	if !within(SheetMarginMM.Value, 5, 10) {
		t.Errorf("sheet margin %v", SheetMarginMM.Value)
	}
	for _, c := range []struct {
		mesh, tube float64
		fits       bool
	}{{80, 1.02, true}, {80, 0.5, false}, {50, 0.76, false}, {120, 0.76, true}} {
		if got := GrainFits(MeshGrainMM(c.mesh), c.tube); got != c.fits {
			t.Errorf("mesh %v in %v mm: %v", c.mesh, c.tube, got)
		}
	}
	near(t, "worn tube", WearSlowdown(1, WornBore(1, 70, 70)), 0.905, 0.01)
}
