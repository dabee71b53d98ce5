package cost

import (
	"go/ast"
	"go/token"
	"testing"
)

// A constant is a number of this package that carries a unit.
type constant struct {
	name string
	at   []*float64
	dim  dim
}

// constantSIUnit is the unit of the machinability formula's constant: that of
// u = [fa·Nm·P^1.594·do^1.374·Ma^0.343/(C·q·h·dm^0.618)]^1.15, solved for C.
var constantSIUnit = mpa.pow(1.594).times(mm.pow(1.374 - 1 - 0.618)).times(gPerMin.pow(0.343)).per(mmPerMin.pow(1 / outer))

func one(name string, at *float64, d dim) constant { return constant{name, []*float64{at}, d} }

// constants are all numbers of this package that carry units. Where the laws
// measure in other units they are measured in those too, the empirical ones
// among them.
var constants = []constant{
	one("secPerMin", &secPerMin, sec.times(perMinute)),
	one("secPerHour", &secPerHour, sec.per(hours)),
	one("gramsPerKg", &gramsPerKg, base(gram).per(kg)),
	one("mmPerM", &mmPerM, mm.per(metres)),
	one("paPerMPa", &paPerMPa, pascal.per(mpa)),
	one("mm3PerM3", &mm3PerM3, mm.pow(3).per(m3)),
	one("litresPerM3", &litresPerM3, litres.per(m3)),
	one("wattsPerKW", &wattsPerKW, watt.per(kw)),
	one("ConstantSI", &ConstantSI.Value, constantSIUnit),
	one("PivotMM", &PivotMM.Value, mm),
	one("WaterDensity0", &WaterDensity0.Value, kgPerM3),
	one("WaterL", &WaterL.Value, mpa),
	one("TaperSeparateMM", &TaperSeparateMM.Value, mm),
	one("TaperFineMM", &TaperFineMM.Value, mm),
	one("usualTubeMM", &usualTubeMM.Value, mm),
	one("LeastPartGapMM", &LeastPartGapMM.Value, mm),
	one("LeastLeadInMM", &LeastLeadInMM.Value, mm),
	one("DefaultStandOffMM", &DefaultStandOffMM.Value, mm),
	one("DefaultRapidMMPerMin", &DefaultRapidMMPerMin.Value, mmPerMin),
	one("DefaultAccelMMPerS2", &DefaultAccelMMPerS2.Value, mmPerS2),
	one("DefaultCornerDeviationMM", &DefaultCornerDeviationMM.Value, mm),
	one("DefaultLowPressureMPa", &DefaultLowPressureMPa.Value, mpa),
	one("DefaultHeadSec", &DefaultHeadSec.Value, sec),
	one("DefaultAbrasiveFeedCap", &DefaultAbrasiveFeedCap.Value, mmPerMin),
	one("DefaultPlainFeedCap", &DefaultPlainFeedCap.Value, mmPerMin),
	one("SpreadPierceSec", &SpreadPierceSec.Value, sec),
	one("shownRadiusMM", &shownRadiusMM.Value, mm),
	one("moreAirMM", &moreAirMM.Value, mm),
	{"UsualOrificesMM", pointers(UsualOrificesMM), mm},
	{"defaultArcError", pointers(defaultArcError[:]), mm},
}

// otherConstants are the numbers with a source that carry no unit, or one that
// no formula of this package computes with.
var otherConstants = map[string]string{
	"DefaultRipple": "a share", "DefaultMotorToJet": "a share", "DefaultCd": "a share", "DefaultCv": "a share", "DefaultClampFactor": "a share",
	"WaterC": "an exponent", "DefaultAbrasiveThicknessExponent": "an exponent", "DefaultPlainPressureExponent": "an exponent",
	"DefaultPlainOrificeExponent": "an exponent", "DefaultPlainThicknessExponent": "an exponent", "PlainGradeExponent": "an exponent",
	"ConstantUS": "belongs to the customary form, whose powers are tested one by one", "GarnetFactor": "a factor", "SilicaSandFactor": "a factor",
	"KerfRatio": "a ratio", "StandOffHalfAngleDeg": "an angle", "TaperLimitDeg": "an angle", "VoidHalfAngleDeg": "an angle", "PlainVoidHalfAngleDeg": "an angle",
	"LagFactor": "a ratio", "PierceFactorStationary": "a ratio", "PierceFactorMoving": "a ratio", "DefaultPierceSec": "nought in every unit",
	"SpreadAbrasiveFlow": "a share", "SpreadTube": "a share", "SpreadAccel": "a share", "SpreadHandle": "a share", "SpreadPierce": "a share",
	"TubeGrowth": "a share", "SheetMarginMM": "for the job file's defaults", "TubeLifeH": "for the job file's defaults",
	"RubyLifeH": "for the job file's defaults", "DiamondLifeH": "for the job file's defaults",
	"leastPierceSec": "a guard that binds in no law",
}

func pointers(of []float64) []*float64 {
	out := make([]*float64, len(of))
	for i := range of {
		out[i] = &of[i]
	}
	return out
}

// inUse runs f while the package's constants are measured in m, but for the one
// that is left out, if any.
func (m measure) inUse(leftOut string, f func()) {
	for _, c := range constants {
		if c.name == leftOut {
			continue
		}
		for _, p := range c.at {
			was := *p
			defer func() { *p = was }()
			*p *= m.factor(c.dim)
		}
	}
	f()
}

// Every number with a source is listed, with its unit or as one without.
func TestEveryConstantHasItsUnit(t *testing.T) {
	listed := map[string]bool{}
	for _, c := range constants {
		listed[c.name] = true
	}
	for name := range otherConstants {
		if listed[name] {
			t.Errorf("%s is listed twice", name)
		}
		listed[name] = true
	}
	found := map[string]bool{}
	for _, spec := range packageVars(t) {
		for i, name := range spec.Names {
			found[name.Name] = true
			if i < len(spec.Values) && isQuantity(spec.Values[i]) && !listed[name.Name] {
				t.Errorf("%s: list it with its unit in constants, or in otherConstants", name.Name)
			}
		}
	}
	for name := range listed {
		if !found[name] {
			t.Errorf("%s is no variable of this package any more", name)
		}
	}
}

func isQuantity(e ast.Expr) bool {
	lit, ok := e.(*ast.CompositeLit)
	if !ok {
		return false
	}
	id, ok := lit.Type.(*ast.Ident)
	return ok && id.Name == "Quantity"
}

func packageVars(t *testing.T) []*ast.ValueSpec {
	var out []*ast.ValueSpec
	for _, file := range packageFiles(t) {
		for _, d := range file.Decls {
			if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.VAR {
				for _, s := range g.Specs {
					out = append(out, s.(*ast.ValueSpec))
				}
			}
		}
	}
	return out
}
