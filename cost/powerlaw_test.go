package cost

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// A powerLaw says how a result grows with one argument: k times the argument
// makes k^exponent times the result. Like a [unitLaw] it calls the function
// itself and takes its name from it.
type powerLaw struct {
	f           any
	args        []any
	vary        int    // place of the argument
	field       string // of the argument, where it is a struct
	least, most float64
	exponent    float64
}

func (l powerLaw) at(x float64) float64 {
	vs := make([]reflect.Value, len(l.args))
	for i, a := range l.args {
		vs[i] = reflect.New(reflect.TypeOf(a)).Elem()
		vs[i].Set(reflect.ValueOf(a))
	}
	if l.field == "" {
		vs[l.vary] = reflect.ValueOf(x)
	} else {
		vs[l.vary].FieldByName(l.field).SetFloat(x)
	}
	return reflect.ValueOf(l.f).Call(vs)[0].Float()
}

func (l powerLaw) name() string {
	if l.field != "" {
		return funcName(l.f) + " in " + l.field
	}
	return funcName(l.f) + " in argument " + string(rune('1'+l.vary))
}

func powerOf(f any, exponent, least, most float64, vary int, args ...any) powerLaw {
	return powerLaw{f: f, args: args, vary: vary, least: least, most: most, exponent: exponent}
}

func powerIn(field string, f any, exponent, least, most float64, args ...any) powerLaw {
	return powerLaw{f: f, args: args, field: field, least: least, most: most, exponent: exponent}
}

const outer = 1.15 // of the published formula, written out anew

var powerLaws = []powerLaw{
	powerOf(BernoulliSpeed, 0.5, 10, 600, 0, 0.0),
	powerOf(PressureForSpeed, 2, 100, 1200, 0, 0.0),
	powerOf(JetSpeed, 0.5, 1e-6, 1e-5, 0, 0.0), // at low pressure
	powerOf(OrificeFlow, 0.5, 10, 600, 0, 0.0, 0.3, 0.65),
	powerOf(OrificeFlow, 2, 0.05, 1, 1, 300.0, 0.0, 0.65),
	powerOf(OrificeFlow, 1, 0.3, 1, 2, 300.0, 0.3, 0.0),
	powerOf(WaterMass, 1, 0.1, 10, 0, 0.0),
	powerOf(JetPower, 1, 10, 600, 0, 0.0, 3.0),
	powerOf(JetPower, 1, 0.1, 10, 1, 300.0, 0.0),
	powerOf(KineticPower, 1, 0.1, 10, 1, 300.0, 0.0, 0.98),
	powerOf(KineticPower, 2, 0.5, 1, 2, 300.0, 3.0, 0.0),
	powerOf(PressureForPower, 2.0/3, 1, 100, 0, 0.0, 0.3, 0.65),
	powerOf(PressureForPower, -4.0/3, 0.1, 1, 1, 12.0, 0.0, 0.65),
	powerOf(MotorPower, 1, 1, 100, 0, 0.0, 0.75),
	powerOf(MotorPower, -1, 0.5, 1, 1, 20.0, 0.0),
	powerOf(IntensifierPressure, 1, 5, 30, 0, 0.0, 20.0, 0.9),
	powerOf(IntensifierPressure, 1, 10, 30, 1, 20.0, 0.0, 0.9),
	powerOf(IntensifierPressure, 1, 0.5, 1, 2, 20.0, 20.0, 0.0),
	powerOf(JetSpeedUS, 0.5, 1000, 90000, 0, 0.0),
	powerOf(FlowUS, 0.5, 1000, 90000, 0, 0.0, 0.014),
	powerOf(FlowUS, 2, 0.003, 0.02, 1, 60000.0, 0.0),
	powerOf(JetHP, 1, 1, 90, 0, 0.0, 1.0),
	powerOf(JetHP, 1, 0.1, 5, 1, 60.0, 0.0),
	powerIn("Factor", AbrasiveSpeed, outer, 0.1, 2, steel12(3)),
	powerIn("Machinability", AbrasiveSpeed, outer, 10, 3000, steel12(3)),
	powerIn("PressureMPa", AbrasiveSpeed, 1.594*outer, 50, 600, steel12(3)),
	powerIn("OrificeMM", AbrasiveSpeed, 1.374*outer, 0.1, 0.6, steel12(3)),
	powerIn("TubeMM", AbrasiveSpeed, -0.618*outer, 0.4, 2, steel12(3)),
	powerIn("AbrasiveGPerMin", AbrasiveSpeed, 0.343*outer, 50, 1000, steel12(3)),
	powerIn("Index", AbrasiveSpeed, -outer, 1, 5, steel12(3)),
	powerIn("ThicknessMM", AbrasiveSpeed, -outer, 1, 100, steel12(3)),
	powerIn("ThicknessMM", AbrasiveSpeed, -0.9, 1, 100, steelWithExponent(0.9)),
	powerOf(AbrasiveSpeedUS, outer, 0.1, 2, 0, 0.0, 87.0, 50.0, 0.014, 1.0, 1.0, 0.5, 0.04),
	powerOf(AbrasiveSpeedUS, outer, 10, 3000, 1, 1.0, 0.0, 50.0, 0.014, 1.0, 1.0, 0.5, 0.04),
	powerOf(AbrasiveSpeedUS, 1.594*outer, 10, 90, 2, 1.0, 87.0, 0.0, 0.014, 1.0, 1.0, 0.5, 0.04),
	powerOf(AbrasiveSpeedUS, 1.374*outer, 0.004, 0.02, 3, 1.0, 87.0, 50.0, 0.0, 1.0, 1.0, 0.5, 0.04),
	powerOf(AbrasiveSpeedUS, 0.343*outer, 0.1, 3, 4, 1.0, 87.0, 50.0, 0.014, 0.0, 1.0, 0.5, 0.04),
	powerOf(AbrasiveSpeedUS, -outer, 1, 5, 5, 1.0, 87.0, 50.0, 0.014, 1.0, 0.0, 0.5, 0.04),
	powerOf(AbrasiveSpeedUS, -outer, 0.1, 4, 6, 1.0, 87.0, 50.0, 0.014, 1.0, 1.0, 0.0, 0.04),
	powerOf(AbrasiveSpeedUS, -0.618*outer, 0.01, 0.1, 7, 1.0, 87.0, 50.0, 0.014, 1.0, 1.0, 0.5, 0.0),
	powerIn("K", PlainSpeed, 1, 1, 1000, rubberCut()),
	powerIn("PressureMPa", PlainSpeed, 1.5, 50, 600, rubberCut()),
	powerIn("OrificeMM", PlainSpeed, 1.2, 0.07, 1, rubberCut()),
	powerIn("ThicknessMM", PlainSpeed, -1, 0.5, 100, rubberCut()),
	powerIn("Index", PlainSpeed, -0.5, 1, 5, rubberCut()),
	powerOf(PlainK, 1, 100, 1e9, 1, rubberCut(), 0.0),
	powerOf(PlainGradeFactor, -0.5, 1, 5, 0, 0.0),
	powerOf(RelativeSpeed, -outer, 1, 5, 0, 0.0),
	powerOf(TrapezoidTime, 0.5, 0.1, 10, 0, 0.0, 1e6, 500.0),  // too short to reach full speed
	powerOf(TrapezoidTime, -0.5, 100, 5000, 2, 1.0, 1e6, 0.0), // the same
	powerOf(TrapezoidTime, -1, 1, 100, 1, 1e9, 0.0, 1e12),     // hardly a ramp
	powerOf(ArcSpeed, 0.5, 0.1, 100, 0, 0.0, 500.0),
	powerOf(ArcSpeed, 0.5, 100, 5000, 1, 5.0, 0.0),
	powerOf(JunctionRadius, 1, 0.001, 1, 0, 0.0, 110.0),
	powerOf(JunctionSpeed, 0.5, 0.001, 1, 0, 0.0, 500.0, 110.0),
	powerOf(JunctionSpeed, 0.5, 100, 5000, 1, 0.02, 0.0, 110.0),
	powerOf(LagLength, 1, 1, 100, 0, 0.0, 3.0),
	powerOf(LagLength, -1, 1, 5, 1, 12.0, 0.0),
	powerOf(ArcIndex, 1, 1, 100, 0, 0.0, 5.0, 0.1),
	powerOf(CornerIndex, 1, 1, 100, 0, 0.0, 0.1, 90.0),
	powerOf(CornerIndex, -1, 0.01, 1, 1, 10.0, 0.0, 90.0),
	powerOf(PierceTime, 1, 1, 100, 1, 0.0, 0.0, 1.0, 400.0),
	powerOf(PierceTime, -1, 10, 5000, 3, 0.0, 50.0, 1.0, 0.0),
	powerOf(LowPressureFactor, 1.83, 100, 600, 0, 0.0, 50.0, 1.83),
	powerOf(LowPressureFactor, -1.83, 50, 300, 1, 400.0, 0.0, 1.83),
	powerOf(PierceHoleMM, 1, 0.2, 2, 1, Moving, 0.0),
	powerOf(KerfMass, 1, 100, 10000, 0, 0.0, 1.0, 10.0, 1000.0),
	powerOf(KerfMass, 1, 0.1, 2, 1, 7850.0, 0.0, 10.0, 1000.0),
	powerOf(KerfMass, 1, 1, 100, 2, 7850.0, 1.0, 0.0, 1000.0),
	powerOf(KerfMass, 1, 1, 1e5, 3, 7850.0, 1.0, 10.0, 0.0),
	powerOf(TaperMM, 1, 0.01, 0.1, 1, 3.0, 0.0),                           // thin sheet
	powerOf(TaperMM, math.Log(0.08/0.25)/math.Log(5), 1, 5, 0, 0.0, 50.0), // thick sheet
	powerOf(ThinWebMM, 1, 0.1, 100, 0, 0.0),
	powerOf(WearSlowdown, -0.618*outer, 1, 2, 1, 1.0, 0.0),
	powerOf(WearSlowdown, 0.618*outer, 0.5, 1, 0, 0.0, 1.0),
	powerOf(WornBore, 1, 0.5, 2, 0, 0.0, 30.0, 70.0),
	powerOf(MeshGrainMM, -1, 50, 220, 0, 0.0),
	powerOf(CapBreakEven, -1, 0.5, 1, 2, 10, outer, 0.0),
	powerOf(MMFromInch, 1, 0.01, 100, 0, 0.0),
	powerOf(InchFromMM, 1, 0.1, 1000, 0, 0.0),
	powerOf(MPaFromKSI, 1, 1, 90, 0, 0.0),
	powerOf(KSIFromMPa, 1, 1, 600, 0, 0.0),
	powerOf(MPaFromBar, 1, 10, 6000, 0, 0.0),
	powerOf(LPerMinFromGPM, 1, 0.1, 10, 0, 0.0),
	powerOf(GPMFromLPerMin, 1, 0.1, 10, 0, 0.0),
	powerOf(GPerMinFromLbPerMin, 1, 0.1, 3, 0, 0.0),
	powerOf(LbPerMinFromGPerMin, 1, 10, 1000, 0, 0.0),
	powerOf(KWFromHP, 1, 1, 200, 0, 0.0),
	powerOf(HPFromKW, 1, 1, 200, 0, 0.0),
	powerOf(MPerSFromFtPerS, 1, 1, 4000, 0, 0.0),
}

func steelWithExponent(e float64) AbrasiveCut {
	c := steel12(3)
	c.ThicknessExponent = e
	return c
}

func rubberCut() PlainCut {
	return PlainCut{K: 50, PressureMPa: 300, OrificeMM: 0.2, ThicknessMM: 3}
}

// Formulas grow with each argument by the power that the physics says.
func TestPowerLaws(t *testing.T) {
	for _, l := range powerLaws {
		t.Run(l.name(), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				x := rapid.Float64Range(l.least, l.most).Draw(t, "x")
				k := rapid.Float64Range(1, l.most/x).Draw(t, "k")
				got, want := l.at(k*x), math.Pow(k, l.exponent)*l.at(x)
				if !(math.Abs(got-want) <= 1e-6*math.Abs(want)) || want == 0 {
					t.Fatalf("f(%v·%v) = %v, want %v", k, x, got, want)
				}
			})
		})
	}
}
