package cost

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestRefusals(t *testing.T) {
	m := BuiltinMap()
	soft := Machine{ID: "W2", Process: Plain, PressureMPa: 380, OrificeMM: 0.2}
	setup := func(mat string, mm float64, layers int) Setup {
		return Setup{Machine: smallMachine(), Material: m[mat], ThicknessMM: mm, Grade: Medium, Layers: layers}
	}
	with := func(s Setup, f func(*Setup)) Setup {
		f(&s)
		return s
	}
	for _, c := range []struct {
		name string
		s    Setup
		code RefusalCode
		says string
	}{
		{"asbestos by flag", with(setup("mild steel", 2, 1), func(s *Setup) { s.Material.Asbestos = true }), RefuseHazard, "REACH"},
		{"asbestos by name", with(setup("mild steel", 2, 1), func(s *Setup) { s.Material.Name = "Asbestos-cement board" }), RefuseHazard, "refused"},
		{"tempered glass", setup("tempered glass", 6, 1), RefuseTempered, "shatters"},
		{"steel on a plain head", with(setup("mild steel", 2, 1), func(s *Setup) { s.Machine = soft }), RefuseProcess, "needs abrasive"},
		{"thick plywood", with(setup("plywood", 25, 1), func(s *Setup) { s.Machine = soft }), RefuseTooThick, "20 mm"},
		{"stack of plywood", with(setup("plywood", 9, 3), func(s *Setup) { s.Machine = soft }), RefuseTooThick, "27 mm"},
		{"stack of glass", setup("glass", 3, 2), RefuseBrittle, "crack"},
		{"stack of laminate", setup("glass-epoxy laminate", 1.6, 2), RefuseLaminate, "plies"},
		{"five layers of rubber", with(setup("gasket rubber", 1, 5), func(s *Setup) { s.Machine = soft }), RefuseLayers, "its limit is 4"},
		{"machine's layers", with(setup("mild steel", 1, 9), func(s *Setup) { s.Machine.MaxLayers = 8 }), RefuseLayers, "machine W1"},
		{"machine's height", with(setup("mild steel", 10, 6), func(s *Setup) { s.Machine.MaxStackMM = 50 }), RefuseHeight, "60 mm high"},
		{"gaps count for the height", with(setup("mild steel", 10, 5), func(s *Setup) { s.Machine.MaxStackMM = 50; s.Rates.LayerGapMM = 0.1 }), RefuseHeight, "50.4 mm"},
		{"material's height", with(setup("mild steel", 10, 6), func(s *Setup) { s.Material.MaxStackMM = 50 }), RefuseHeight, "its limit is 50"},
		{"tolerance at the bottom", with(setup("aluminium 6061", 1, 10), func(s *Setup) { s.ToleranceMM = 0.05 }), RefuseQuality, "order allows 0.050"},
	} {
		err := c.s.Check()
		var r *Refusal
		if !errors.As(err, &r) {
			t.Errorf("%s: not refused: %v", c.name, err)
			continue
		}
		if r.Code != c.code || !strings.Contains(r.Reason, c.says) {
			t.Errorf("%s: %s: %s", c.name, r.Code, r.Reason)
		}
	}
}

func TestAllowed(t *testing.T) {
	m := BuiltinMap()
	for _, c := range []struct {
		name string
		s    Setup
	}{
		{"single glass", Setup{Machine: smallMachine(), Material: m["glass"], ThicknessMM: 6, Grade: Good}},
		{"glass with a limit set", Setup{Machine: smallMachine(), Material: func() Material { g := m["glass"]; g.MaxLayers = 2; return g }(), ThicknessMM: 3, Grade: Good, Layers: 2}},
		{"single sheet out of tolerance", Setup{Machine: smallMachine(), Material: m["mild steel"], ThicknessMM: 20, Grade: Rough, ToleranceMM: 0.01}},
		{"rubber on the abrasive machine", Setup{Machine: smallMachine(), Material: m["gasket rubber"], ThicknessMM: 3, Grade: Medium}},
		{"asbestos-free sheet", Setup{Machine: smallMachine(), Material: func() Material { g := m["fibre gasket sheet"]; g.Name = "asbestos-free gasket sheet"; return g }(), ThicknessMM: 1, Grade: Medium}},
	} {
		if err := c.s.Check(); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

func TestBadInput(t *testing.T) {
	good := aluminiumJob(1)
	for _, c := range []struct {
		name, says string
		spoil      func(*Setup)
	}{
		{"bar", "bar? that would be 380 MPa", func(s *Setup) { s.Machine.PressureMPa = 3800 }},
		{"psi", "psi?", func(s *Setup) { s.Machine.PressureMPa = 55000 }},
		{"inch orifice", "inches? that would be 0.3302 mm", func(s *Setup) { s.Machine.OrificeMM = 0.013 }},
		{"inch tube", "inches?", func(s *Setup) { s.Machine.TubeMM = 0.04 }},
		{"tube under orifice", "not wider than the orifice", func(s *Setup) { s.Machine.TubeMM = 0.3 }},
		{"no abrasive", "abrasive flow 0", func(s *Setup) { s.Machine.AbrasiveGPerMin = 0 }},
		{"no grade", "use separate", func(s *Setup) { s.Grade = 0 }},
		{"no thickness", "thickness", func(s *Setup) { s.ThicknessMM = 0 }},
		{"NaN thickness", "thickness", func(s *Setup) { s.ThicknessMM = math.NaN() }},
		{"no machinability", "learn it from test cuts", func(s *Setup) { s.Material.Machinability = Quantity{} }},
		{"no process", "process", func(s *Setup) { s.Material.Process = "laser" }},
		{"clamp factor", "clamp factor", func(s *Setup) { s.Rates.ClampFactor = 95 }},
		{"acceleration", "acceleration", func(s *Setup) { s.Machine.AccelMMPerS2 = -1 }},
		{"gap", "gap", func(s *Setup) { s.Rates.LayerGapMM = -1 }},
		{"gap that is no number", "gap", func(s *Setup) { s.Rates.LayerGapMM = math.NaN() }},
		{"cover that is no number", "cover", func(s *Setup) { s.Rates.CoverMM = math.NaN() }},
		{"pump", "fit at most", func(s *Setup) { s.Machine.MotorKW = 15 }},
	} {
		s := good
		c.spoil(&s)
		if _, err := LayoutTime(s, plateWork()); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want an error with %q", c.name, err, c.says)
		}
	}
	s := good
	s.Machine.PressureMPa, s.ThicknessMM = 0, 0
	if err := s.Check(); err == nil || !strings.Contains(err.Error(), "pressure") || !strings.Contains(err.Error(), "thickness") {
		t.Errorf("two faults are not both reported: %v", err)
	}
}

func TestWarnings(t *testing.T) {
	m := smallMachine()
	if w := m.Warnings(); len(w) != 0 {
		t.Errorf("usual machine: %v", w)
	}
	near(t, "loading", AbrasiveLoading(m), 0.4/WaterMass(OrificeFlow(380, 0.33, 0.65)), 1e-12)
	m.TubeMM, m.AbrasiveGPerMin = 2, 1500
	if w := m.Warnings(); len(w) != 2 {
		t.Errorf("wide tube and much abrasive: %v", w)
	}
}

func TestCautions(t *testing.T) {
	m := BuiltinMap()
	topics := func(s Setup) map[Topic]string {
		cs, err := Cautions(s)
		if err != nil {
			t.Fatal(err)
		}
		out := map[Topic]string{}
		for _, c := range cs {
			if c.Source == "" || c.Text == "" {
				t.Errorf("caution %+v has no source or text", c)
			}
			out[c.Topic] += c.Text
		}
		return out
	}
	base := Setup{Machine: smallMachine(), ThicknessMM: 3, Grade: Medium}
	for _, c := range []struct {
		material string
		layers   int
		has, not []Topic
	}{
		{"mild steel", 1, []Topic{TopicInjection, TopicNoise, TopicMachine, TopicWater, TopicEstimate}, []Topic{TopicHydrogen, TopicGlass, TopicStack, TopicLoad, TopicThinWeb}},
		{"aluminium 6061", 4, []Topic{TopicHydrogen, TopicStack}, []Topic{TopicLaminate}},
		{"glass", 1, []Topic{TopicGlass}, []Topic{TopicLaminate}},
		{"laminated glass", 1, []Topic{TopicGlass, TopicLaminate}, nil},
		{"glass-epoxy laminate", 1, []Topic{TopicLaminate, TopicDust}, []Topic{TopicGlass}},
		{"fibre gasket sheet", 1, []Topic{TopicAsbestos, TopicDust}, []Topic{TopicThinWeb}},
		{"gasket rubber", 1, []Topic{TopicInjection}, []Topic{TopicDust, TopicWater}},
		{"mild steel", 4, []Topic{TopicLoad}, nil},
	} {
		s := base
		s.Material, s.Layers = m[c.material], c.layers
		got := topics(s)
		s.ThinWebs = "grille"
		if abrasive := s.Material.Process == Abrasive; strings.Contains(topics(s)[TopicThinWeb], "grille") != abrasive {
			t.Errorf("%s: caution on a thin web: %q", c.material, topics(s)[TopicThinWeb])
		}
		for _, want := range c.has {
			if got[want] == "" {
				t.Errorf("%s: no caution on %s", c.material, want)
			}
		}
		for _, no := range c.not {
			if got[no] != "" {
				t.Errorf("%s: caution on %s: %s", c.material, no, got[no])
			}
		}
	}
	s := base
	s.Material = m["stainless 304"]
	if text := topics(s)[TopicWater]; !strings.Contains(text, "nickel, chromium") {
		t.Errorf("stainless: %s", text)
	}
	s.ToleranceMM = 0.01
	if topics(s)[TopicTolerance] == "" {
		t.Error("a tolerance out of reach is not told")
	}
	s.Material.Asbestos = true
	var r *Refusal
	if _, err := Cautions(s); !errors.As(err, &r) || r.Code != RefuseHazard {
		t.Errorf("asbestos: %v", err)
	}
	a, _ := Cautions(base)
	if merged := MergeCautions(a, a); len(merged) != len(a) {
		t.Errorf("merged %d of %d", len(merged), len(a))
	}
}
