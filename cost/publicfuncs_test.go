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
