package cost

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strings"
	"testing"
)

// withoutLaw lists the exported functions and methods that no law of units or
// powers can hold, with the reason.
var withoutLaw = map[string]string{
	"Grade.Index":          "a number without a unit for a word",
	"Grade.String":         "words",
	"ParseGrade":           "words",
	"ParsePierceMethod":    "words",
	"ParseUnitSystem":      "words",
	"UnitSystem.String":    "words",
	"UnitSystems":          "words",
	"cutKind.String":       "words",
	"UnitSystem.Show":      "shows this package's units in others; TestShowChecks holds their sizes",
	"Trace.Find":           "looks a step up by its name",
	"PumpError.Error":      "words",
	"Refusal.Error":        "words",
	"Cautions":             "words; TestCautions",
	"MergeCautions":        "words",
	"Setup.Depth":          "a count",
	"Setup.At":             "sets a count",
	"Setup.PierceMethod":   "a word chosen by other words",
	"StackChoice.Allowed":  "whether there are words",
	"PartDepth.Allowed":    "whether there are words",
	"Time.Limit":           "a word; see TestWhatBinds",
	"Time.LimitShare":      "a share of a sum whose terms share a unit; see TestWhatBinds",
	"Machine.Validate":     "holds numbers against bounds of what is built, which are in fixed units; TestBadInput",
	"Material.Validate":    "whether numbers are above 0; TestBadInput",
	"Cut.Validate":         "holds numbers against bounds of what is built, which are in fixed units; TestTuneRefuses",
	"Calibration.Validate": "whether a matrix is a covariance; TestBadInput",
	"PlainLimitMM":         "looks a published bound up in a table; TestRefusals",
	"DefaultRates":         "demo prices",
	"Builtin":              "a table; TestBuiltin",
	"BuiltinMap":           "a table; TestBuiltin",
}

// Every exported function and method is held by a law of units or powers, which
// calls it, or is listed with the reason why none can. The laws' names come from
// the functions they call; the public names from the package's syntax.
func TestEveryPublicFunctionHasALaw(t *testing.T) {
	lawful := map[string]bool{}
	for _, l := range unitLaws {
		lawful[funcName(l.f)] = true
	}
	for _, l := range powerLaws {
		lawful[funcName(l.f)] = true
	}
	public := map[string]bool{}
	for _, name := range publicNames(t) {
		public[name] = true
		reason, excused := withoutLaw[name]
		switch {
		case lawful[name] && excused:
			t.Errorf("%s has a law and is excused from one: %s", name, reason)
		case !lawful[name] && !excused:
			t.Errorf("%s has no law: add one to unitLaws or powerLaws, or say in withoutLaw why there can be none", name)
		}
	}
	for name := range lawful {
		if !public[name] {
			t.Errorf("the law of %s is of no exported function", name)
		}
	}
	for name := range withoutLaw {
		if !public[name] {
			t.Errorf("%s is excused from a law but is not there any more", name)
		}
	}
}

// The tests that excuses name are there.
func TestExcusesNameTests(t *testing.T) {
	tests := map[string]bool{}
	for _, file := range parsed(t, "_test.go") {
		for _, f := range functions(file) {
			tests[f.Name.Name] = true
		}
	}
	for name, reason := range withoutLaw {
		for _, word := range strings.Fields(reason) {
			if strings.HasPrefix(word, "Test") && !tests[word] {
				t.Errorf("%s: there is no %s", name, word)
			}
		}
	}
}

// publicNames are the exported functions and methods of the package: F, or T.M.
func publicNames(t *testing.T) []string {
	var out []string
	for _, file := range packageFiles(t) {
		for _, f := range functions(file) {
			if f.Name.IsExported() {
				out = append(out, receiver(f)+f.Name.Name)
			}
		}
	}
	return out
}

func functions(file *ast.File) []*ast.FuncDecl {
	var out []*ast.FuncDecl
	for _, d := range file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok {
			out = append(out, f)
		}
	}
	return out
}

// receiver is "T." for a method of T or *T, else empty.
func receiver(f *ast.FuncDecl) string {
	if f.Recv == nil {
		return ""
	}
	of := f.Recv.List[0].Type
	if p, ok := of.(*ast.StarExpr); ok {
		of = p.X
	}
	return of.(*ast.Ident).Name + "."
}

// packageFiles are the files of the package itself.
func packageFiles(t *testing.T) []*ast.File { return parsed(t, ".go") }

// parsed are the files of this folder that end so: .go means no tests.
func parsed(t *testing.T, end string) []*ast.File {
	t.Helper()
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var out []*ast.File
	for _, e := range entries {
		if name := e.Name(); strings.HasSuffix(name, end) && (end != ".go" || !strings.HasSuffix(name, "_test.go")) {
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, file)
		}
	}
	return out
}
