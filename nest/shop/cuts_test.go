package shop

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"kerfold/cost"
)

const cutTable = `material,thickness_mm,pressure,orifice,tube_mm,abrasive_g_per_min,grade,speed_mm_per_min,pierce_time_s,note
mild steel,6,55 ksi,0.013 in,1.02,350,medium,260,,
Mild Steel,12,55 ksi,0.013 in,1.02,350,medium,120,6.1,first plate
cork,3,300 MPa,0.2 mm,,,rough,9000,,
`

func loadCuts(text string) ([]cost.Cut, []string, error) {
	return LoadCuts(fstest.MapFS{"cuts.csv": {Data: []byte(text)}}, "cuts.csv", cost.BuiltinMap())
}

func TestLoadCuts(t *testing.T) {
	cuts, warnings, err := loadCuts(cutTable)
	if err != nil || len(warnings) != 0 {
		t.Fatalf("%v, %q", err, warnings)
	}
	if len(cuts) != 4 {
		t.Fatalf("%d cuts, want 4: the row with a pierce time holds two", len(cuts))
	}
	c := cuts[1]
	if c.Material != "mild steel" || c.Process != cost.Abrasive || c.Row != 3 || c.SpeedMMPerMin != 120 || c.Grade != cost.Medium {
		t.Errorf("second cut %+v", c)
	}
	if math.Abs(c.PressureMPa-379.21) > 0.01 || math.Abs(c.OrificeMM-0.3302) > 1e-9 {
		t.Errorf("units: %v MPa, %v mm", c.PressureMPa, c.OrificeMM)
	}
	if p := cuts[2]; p.PierceSec != 6.1 || p.SpeedMMPerMin != 0 || p.Row != 3 {
		t.Errorf("pierce %+v", p)
	}
	if cuts[3].Process != cost.Plain {
		t.Errorf("cork is cut by %s", cuts[3].Process)
	}
}

func TestCutMessages(t *testing.T) {
	head := "material,process,thickness_mm,pressure_mpa,orifice_mm,tube_mm,abrasive_g_per_min,grade,speed_mm_per_min,part_time_s,cut_length_mm,pierce_time_s\n"
	for _, c := range []struct{ name, row, want string }{
		{"new material", "unobtainium,,6,380,0.33,1.02,350,medium,100,,,", "cuts.csv:2: test cut of unobtainium: process is missing"},
		{"no grade", "mild steel,,6,380,0.33,1.02,350,,100,,,", "grade is missing"},
		{"nothing measured", "mild steel,,6,380,0.33,1.02,350,medium,,,,", "speed_mm_per_min is missing"},
		{"both measured", "mild steel,,6,380,0.33,1.02,350,medium,100,60,500,", "a speed and a part time"},
		{"part without length", "mild steel,,6,380,0.33,1.02,350,medium,,60,,", "needs the length of cut"},
		{"no tube", "mild steel,,6,380,0.33,,350,medium,100,,,", "tube_mm is missing"},
		{"bar for MPa", "mild steel,,6,3800,0.33,1.02,350,medium,100,,,", "pressure is 3800 MPa"},
		{"asbestos", "asbestos board,plain,6,380,0.2,,,medium,100,,,", "holds asbestos"},
		{"wrong grade", "mild steel,,6,380,0.33,1.02,350,mediun,100,,,", "did you mean medium?"},
	} {
		_, _, err := loadCuts(head + c.row + "\n")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
	if _, _, err := LoadCuts(fstest.MapFS{}, "cuts.csv", nil); err == nil || !strings.Contains(err.Error(), "no such file") {
		t.Errorf("missing file: %v", err)
	}
}

func FuzzCuts(f *testing.F) {
	f.Add([]byte(cutTable))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		cuts, _, err := loadCuts(string(data))
		if err != nil {
			return
		}
		for _, c := range cuts {
			if err := c.Validate(); err != nil {
				t.Fatal(err)
			}
		}
	})
}
