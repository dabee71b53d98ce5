package cost

import (
	"errors"
	"math"
	"strings"
	"testing"
)

const (
	computed  = "computed from the stated formula"
	trade     = "common practice"
	published = "published"
)

func TestJetChecks(t *testing.T) {
	bernoulli := []float64{633.0, 775.3, 895.2, 1096.4}
	compressible := []float64{621.2, 755.2, 866.4, 1049.4}
	density := []float64{1070, 1098, 1121, 1160}
	var cs []check
	for i, p := range []float64{200, 300, 400, 600} {
		cs = append(
			cs,
			check{"Bernoulli m/s", computed, BernoulliSpeed(p), bernoulli[i], 1},
			check{"compressible m/s", computed, JetSpeed(p), compressible[i], 1},
			// 1097.485 is given as 1098: rounded twice.
			check{"density kg/m³", computed, math.Round(WaterDensity(p)*10) / 10, density[i], 0},
		)
	}
	cs = append(cs, check{"limit at 615 MPa", computed, BernoulliSpeed(615), 1110, 0})
	runChecks(t, cs)
	// (trade) about 900 m/s at about 380–400 MPa, between the two models.
	if lo, hi := JetSpeed(380), BernoulliSpeed(405); lo > 900 || hi < 900 {
		t.Errorf("900 m/s lies outside %.0f to %.0f", lo, hi)
	}
}

func TestFlowChecks(t *testing.T) {
	q30, q35, q33 := OrificeFlow(300, 0.30, 0.65), OrificeFlow(400, 0.35, 0.65), OrificeFlow(380, 0.33, 0.65)
	runChecks(t, []check{
		{"0.30 mm L/min", computed, q30, 2.137, 3},
		{"0.30 mm kW", computed, JetPower(300, q30), 10.7, 1},
		{"0.35 mm L/min", computed, q35, 3.359, 3},
		{"0.35 mm kW", computed, JetPower(400, q35), 22.4, 1},
		{"0.33 mm L/min", computed, q33, 2.91, 2},
		{"0.33 mm kW", computed, JetPower(380, q33), 18.4, 1},
		{"0.33 mm motor kW", computed, MotorPower(JetPower(380, q33), DefaultMotorToJet.Value), 24.6, 1},
		{"WJTA m/s", published, MPerSFromFtPerS(JetSpeedUS(60000)), 909.8, 1},
		{"WJTA gpm", published, FlowUS(60000, 0.014), 1.436, 3},
	})
}

// The exercise pairs 12.3 kW with 357.6 MPa and 2.331 kg/min. Pressure and mass
// flow agree with the orifice equation at 1000 kg/m³. Its power lies 2 % below
// the kinetic power of the compressible jet: the exercise does not state which
// losses it counts, so that is held to 2.5 % only.
func TestFlowExercise(t *testing.T) {
	q := OrificeFlow(357.6, 0.3, 0.65)
	atThousand := WaterMass(q) * math.Sqrt(1000/WaterDensity0.Value)
	runChecks(t, []check{{"kg/min", "course exercise", atThousand, 2.331, 3}})
	if kw := KineticPower(357.6, q, DefaultCv.Value); math.Abs(kw/12.3-1) > 0.025 {
		t.Errorf("kinetic power %.2f kW, the exercise has 12.3", kw)
	}
}

func TestUSFormsAgree(t *testing.T) {
	psi, in := 52000.0, 0.013
	near(t, "jet speed", MPerSFromFtPerS(JetSpeedUS(psi)), BernoulliSpeed(MPaFromKSI(psi/1000)), 0.002)
	near(t, "flow", LPerMinFromGPM(FlowUS(psi, in)), OrificeFlow(MPaFromKSI(psi/1000), MMFromInch(in), 1), 0.002)
	gpm := 1.3
	near(t, "jet power", KWFromHP(JetHP(psi/1000, gpm)), JetPower(MPaFromKSI(psi/1000), LPerMinFromGPM(gpm)), 0.01)
}

func near(t *testing.T, name string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %v, want %v within %v", name, got, want, rel)
	}
}

// Published ratings: what 30 to 150 hp motors feed at 60 ksi is a motor-to-jet
// share of 74 to 77 %.
func TestPumpRatings(t *testing.T) {
	gpm := []float64{0.65, 1.1, 1.6, 2.2, 3.2}
	for i, hp := range []float64{30, 50, 75, 100, 150} {
		share := JetHP(60, gpm[i]) / hp
		if share < 0.735 || share > 0.775 {
			t.Errorf("%v hp: share %.3f", hp, share)
		}
	}
	runChecks(t, []check{
		{"oil 20 MPa, ratio 20", trade, IntensifierPressure(20, 20, 1), 400, 0},
		{"oil 20 MPa, ratio 19", trade, IntensifierPressure(20, 19, 1), 380, 0},
	})
}

func TestCheckPump(t *testing.T) {
	m := Machine{ID: "W1", Process: Abrasive, PressureMPa: 380, OrificeMM: 0.33, TubeMM: 1.02, AbrasiveGPerMin: 400, MotorKW: 22}
	var pe *PumpError
	if err := CheckPump(m, 0.33); !errors.As(err, &pe) {
		t.Fatalf("22 kW feeds 0.33 mm at 380 MPa: %v", err)
	}
	near(t, "needed kW", pe.NeedKW, 24.58, 0.001)
	if pe.UsualMM != MMFromInch(0.012) {
		t.Errorf("usual size %v mm, want 0.012 in", pe.UsualMM)
	}
	// What the refusal offers must be feasible, and only just.
	if err := CheckPump(m, pe.LargestMM*(1-1e-9)); err != nil {
		t.Errorf("offered orifice refused: %v", err)
	}
	if CheckPump(m, pe.LargestMM*1.001) == nil {
		t.Error("a larger orifice than offered passes")
	}
	m.PressureMPa = pe.FeedableMPa * (1 - 1e-9)
	if err := CheckPump(m, 0.33); err != nil {
		t.Errorf("offered pressure refused: %v", err)
	}
	m.MotorKW = 0
	m.PressureMPa = 380
	if err := CheckPump(m, 0.33); err != nil {
		t.Errorf("unknown motor refused: %v", err)
	}
}

func TestCheckJetSpeed(t *testing.T) {
	err := CheckJetSpeed(1200, 615)
	if err == nil || !strings.Contains(err.Error(), "1110") {
		t.Errorf("1200 m/s at 615 MPa: %v", err)
	}
	if err := CheckJetSpeed(900, 410); err != nil {
		t.Error(err)
	}
}
