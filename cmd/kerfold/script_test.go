package main

import (
	"encoding/json"
	"os"
	"slices"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"kerfold/nest/report"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"kerfold": main})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:  "testdata/script",
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){"spoil": spoil},
	})
}

// spoil makes a faulty copy of a plan: spoil HOW FROM TO.
func spoil(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) != 3 {
		ts.Fatalf("usage: spoil HOW FROM TO")
	}
	data, err := os.ReadFile(ts.MkAbs(args[1]))
	ts.Check(err)
	var f report.PlanFile
	ts.Check(json.Unmarshal(data, &f))
	how, known := spoilers[args[0]]
	if !known {
		ts.Fatalf("no spoiler %s", strconv.Quote(args[0]))
	}
	how(&f)
	data, err = json.Marshal(f)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[2]), data, 0o644))
}

// spoilers break one rule each, in the first layout of the first group.
var spoilers = map[string]func(f *report.PlanFile){
	"nothing": func(*report.PlanFile) {},
	// The second part moves most of the way onto the first.
	"overlap": func(f *report.PlanFile) {
		p := f.Groups[0].Layouts[0].Placements
		p[1].X, p[1].Y = p[0].X+1, p[0].Y+1
		p[1].Angle, p[1].Mirror, p[1].Part = p[0].Angle, p[0].Mirror, p[0].Part
	},
	"outside": func(f *report.PlanFile) { f.Groups[0].Layouts[0].Placements[0].X -= 30 },
	"turn": func(f *report.PlanFile) {
		f.Groups[0].Layouts[0].Placements[0].Angle += 33
	},
	"missing": func(f *report.PlanFile) {
		l := &f.Groups[0].Layouts[0]
		l.Placements, l.Cuts = l.Placements[1:], nil
	},
	"repeats":  func(f *report.PlanFile) { f.Groups[0].Layouts[0].Repeats++ },
	"spacing":  func(f *report.PlanFile) { f.Groups[0].SpacingMM += 40 },
	"calendar": func(f *report.PlanFile) { f.Calendar = f.Calendar[1:] },
	"total":    func(f *report.PlanFile) { f.Total.Total -= 5 },
	"yield":    func(f *report.PlanFile) { f.Groups[0].Yield = 0.99 },
	"late": func(f *report.PlanFile) {
		f.Orders[0].Late, f.Orders[0].LateDays = !f.Orders[0].Late, f.Orders[0].LateDays+1
	},
	"pierce": func(f *report.PlanFile) { f.Groups[0].Layouts[0].Cuts[0].Pierce[0] += 40 },
	"order":  func(f *report.PlanFile) { slices.Reverse(f.Groups[0].Layouts[0].Cuts) },
	"uncut":  func(f *report.PlanFile) { f.Groups[0].Layouts[0].Cuts = f.Groups[0].Layouts[0].Cuts[1:] },
}
