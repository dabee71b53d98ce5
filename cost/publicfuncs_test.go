package cost

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
)

// exemptFromScaling lists functions whose result has no unit to scale, with
// where they are tested instead.
var exemptFromScaling = map[string]string{
	"AbrasiveLoading": "a share; TestWarnings",
	"LargestOrifice":  "TestCheckPump",
	"LeadInMM":        "has a floor; TestDefaultsOfTheTrade",
	"PartGapMM":       "has a floor; TestDefaultsOfTheTrade",
	"WaterDensity":    "TestJetChecks",
}

// Every exported function that turns numbers into a number has its units
// tested: in TestScalingLaws or as a converter.
func TestEveryFormulaIsScaled(t *testing.T) {
	src, err := os.ReadFile("scaling_test.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range numberFunctions(t) {
		if _, exempt := exemptFromScaling[name]; !exempt && !strings.Contains(string(src), name+"(") && !strings.Contains(string(src), ", "+name+",") {
			t.Errorf("%s has no scaling law", name)
		}
	}
}

func numberFunctions(t *testing.T) []string {
	t.Helper()
	notTest := func(f fs.FileInfo) bool { return !strings.HasSuffix(f.Name(), "_test.go") }
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || !strings.HasSuffix(e.Name(), ".go") || !notTest(info) {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), e.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Recv == nil && f.Name.IsExported() && returnsNumber(f) {
				names = append(names, f.Name.Name)
			}
		}
	}
	slices.Sort(names)
	return names
}

func returnsNumber(f *ast.FuncDecl) bool {
	if f.Type.Results == nil || len(f.Type.Results.List) != 1 {
		return false
	}
	id, ok := f.Type.Results.List[0].Type.(*ast.Ident)
	return ok && id.Name == "float64"
}

// unitsOfOthers says, for every exported function and method that is no formula
// of numbers alone, which test holds its units, or that there are none.
var unitsOfOthers = map[string]string{
	"TestLedgerScales":            "LayoutLedger LedgerOf LayoutTime Rates.Price Money.Total Money.Process Work.Copies Time.HeadSec Time.JetSec Time.TotalSec Time.OccupiedSec Time.StraightSec Time.AccelSec Time.LimitShare",
	"TestLedgersAreLinear":        "SetupLedger Ledger.Plus Ledger.Times Usage.Plus Usage.Times Money.Plus Money.Times",
	"TestSetupScales":             "Setup.WaterLPerMin Setup.JetKW Setup.MotorKW Setup.KerfMM Setup.SolidMM",
	"TestSplitSumsToTheWhole":     "Book.By Split",
	"TestMotionScales":            "Motion.PathSeconds Lag.LengthMM",
	"TestEstimateArithmetic":      "Exact Estimate.Plus Estimate.Minus Estimate.Times Estimate.StdDev Estimate.Interval Estimate.BelowZero Estimate.Causes RunEstimate.Plus RunEstimate.Times",
	"TestEstimateAgainstSampling": "EstimateRun SampleRun SpeedInterval Assumptions",
	"TestForecastStacks":          "ForecastStacks",
	"TestWorkedStackTable":        "StackTable StackChoice.Money StackChoice.Allowed BreakEven",
	"TestStudyAgainstStackTable":  "StudyPart PartDepth.Allowed PartDepth.Money PartDepth.Seconds",
	"TestLayerQuality":            "BottomQuality LayerQuality",
	"TestExplainRecomputes":       "Explain Trace.Find SpeedOf Setup.StackFactor Setup.PierceSec Setup.PierceMethod Setup.GapsMM Setup.HeightMM Time.Limit",
	"TestTuneCoverage":            "Tune Cut.Validate Calibration.Validate",
	"TestShowChecks":              "UnitSystem.Show ParseUnitSystem",
	"TestCheckPump":               "CheckPump PumpError.Error",
	"TestCheckJetSpeed":           "CheckJetSpeed",
	"TestRefusals":                "StackRefusal Setup.Check Refusal.Error PlainLimitMM",
	"TestBadInput":                "Machine.Validate Material.Validate",
	"TestWarnings":                "Machine.Warnings GrainFits",
	"TestCautions":                "Cautions MergeCautions",
	"TestBuiltin":                 "Builtin BuiltinMap Machine.Filled Material.Filled DefaultRates",
	"":                            "Grade.Index Grade.String ParseGrade ParsePierceMethod cutKind.String Setup.Depth Setup.At", // words and counts
}

// Every exported function and method is held by some test that is there, so
// that a new one without fails here.
func TestEveryPublicFunctionIsHeld(t *testing.T) {
	held := map[string]bool{}
	for test, names := range unitsOfOthers {
		if test != "" && !hasTest(t, test) {
			t.Errorf("there is no %s", test)
		}
		for _, n := range strings.Fields(names) {
			held[n] = true
		}
	}
	formulas := numberFunctions(t)
	found := map[string]bool{}
	for _, f := range packageFuncs(t, false) {
		if name := publicName(f); name != "" && !slices.Contains(formulas, name) {
			found[name] = true
			if !held[name] {
				t.Errorf("%s: no test is named that holds its units", name)
			}
		}
	}
	for n := range held {
		if !found[n] {
			t.Errorf("%s is not there any more, or is a formula", n)
		}
	}
}

func hasTest(t *testing.T, name string) bool {
	return slices.ContainsFunc(packageFuncs(t, true), func(f *ast.FuncDecl) bool { return f.Name.Name == name })
}

// packageFuncs are the functions of the package or of its tests.
func packageFuncs(t *testing.T, tests bool) []*ast.FuncDecl {
	t.Helper()
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var out []*ast.FuncDecl
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") != tests {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), e.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok {
				out = append(out, f)
			}
		}
	}
	return out
}

// publicName is Function or Type.Method; empty for what is not exported.
func publicName(f *ast.FuncDecl) string {
	if !f.Name.IsExported() {
		return ""
	}
	if f.Recv == nil {
		return f.Name.Name
	}
	of := f.Recv.List[0].Type
	if p, ok := of.(*ast.StarExpr); ok {
		of = p.X
	}
	return of.(*ast.Ident).Name + "." + f.Name.Name
}
