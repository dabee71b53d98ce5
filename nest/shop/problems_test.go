package shop

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

// order writes one order of test steel with the keys given.
func order(keys string) string {
	return base + "orders:\n  - {id: K-1, " + keys + "}\n"
}

const good = "shape: disc, diameter_mm: 90, quantity: 1, material: test steel, thickness_mm: 6"

// want lists, for each broken order, the messages a user gets, without place.
func TestOrderMessages(t *testing.T) {
	tests := []struct{ why, keys, want string }{
		{"a sound order", good, ""},
		{
			"nothing but an id", "part: x",
			"order K-1 (x): quantity is missing: say how many, such as quantity: 12\n" +
				"order K-1 (x): material is missing: name the material, such as material: mild steel\n" +
				"order K-1 (x): thickness_mm is missing: give the sheet's thickness, such as thickness_mm: 6 or thickness: 1/4 in\n" +
				"order K-1 (x): neither drawing nor shape: name a drawing (drawing: bracket.dxf) or a shape (rectangle, disc, ring, flange, polygon, obround or outline)",
		},
		{"a slip in a key", strings.Replace(good, "quantity", "quantiy", 1), `order K-1: unknown key "quantiy": did you mean quantity?`},
		{"another spelling of a key", strings.Replace(good, "thickness_mm", "thicknes_in", 1), `order K-1: unknown key "thicknes_in": did you mean thickness_in?`},
		{"a slip in a value", strings.Replace(good, "disc", "dics", 1), `order K-1: shape is "dics": did you mean disc? use rectangle, disc, ring, flange, polygon, obround or outline`},
		{"a unit in the key only", good + ", tolerance: 0.1", "order K-1: tolerance is 0.1, without a unit: write tolerance_mm: 0.1, or a unit behind the number, such as 1/8 in"},
		{"two units", good + ", tolerance_mm: 0.004 in", `order K-1: tolerance_mm is "0.004 in": the key says mm; write tolerance: 0.004 in`},
		{"the same twice", good + ", thickness_in: 0.25", "order K-1: thickness_mm and thickness_in say the same: keep one"},
		{"a unit of another kind", good + ", tolerance: 3 bar", `order K-1: tolerance is in "bar", which is no unit of length known here: use mm, cm, m, in or ft`},
		{"a comma", strings.Replace(good, "90", `"90,5"`, 1), `order K-1: diameter_mm is "90,5": write 90.5, with a decimal point`},
		{"thousands", strings.Replace(good, "90", `"1,090"`, 1), `order K-1: diameter_mm is "1,090": write 1090, without commas between thousands`},
		{"thousands in braces", strings.Replace(good, "90", "1,090", 1), `order K-1: unknown key "090": inside braces a comma ends the value: write numbers without commas`},
		{"not finite", strings.Replace(good, "90", ".inf", 1), `order K-1: diameter_mm is ".inf": write a number, such as 12.5`},
		{"a fraction over nothing", strings.Replace(good, "diameter_mm: 90", "diameter: 1/0 in", 1), `order K-1: diameter is "1/0 in": write a fraction whose lower number is not 0 with its unit, such as 1/8 in`},
		{"none wanted", strings.Replace(good, "quantity: 1", "quantity: 0", 1), "order K-1: quantity is 0: write a whole number from 1 to 1000000"},
		{"half a part", strings.Replace(good, "quantity: 1", "quantity: 1.5", 1), `order K-1: quantity is "1.5": write a whole number, such as 12`},
		{"no value", strings.Replace(good, "quantity: 1", "quantity: ", 1), "order K-1: quantity has no value: give it one or remove the line"},
		{"absurd thickness", strings.Replace(good, "thickness_mm: 6", "thickness_m: 6", 1), "order K-1: thickness is 6000 mm: write a number from 0.01 to 500 mm"},
		{"no such material", strings.Replace(good, "test steel", "test stel", 1), `order K-1: material "test stel" is not known: did you mean test steel? otherwise describe it under materials:`},
		{"no such day", good + ", due: 2026-02-30", `order K-1: due is "2026-02-30": there is no such day; write year-month-day`},
		{"a slashed date", good + ", due: 02/12/2026", `order K-1: due is "02/12/2026": write year-month-day, such as 2026-12-02`},
		{"one turn", good + ", rotations: 90", `order K-1: rotations is "90": write every 90 for all turns by that step, or [0, 90] for these two`},
		{"an uneven step", good + ", rotations: every 50", `order K-1: rotations is "every 50": write a step from 1 to 360 degrees that divides 360, such as every 45`},
		{"odd words", good + ", rotations: some", `order K-1: rotations is "some": write any, fixed, every 45, or a list of degrees such as [0, 180]`},
		{"no turns", good + ", rotations: []", "order K-1: rotations lists 0 turns: list 1 to 360, or write any, fixed or every 45"},
		{"a flag", good + ", mirror: maybe", `order K-1: mirror is "maybe": write yes or no`},
		{"a grade of some shop", good + ", grade: Q3", `order K-1: grade is "Q3": use separate, rough, medium, good or fine`},
		{"over-run", good + ", over_run: 200 %", `order K-1: over_run is "200 %": write a number of parts, or a share from 0 % to 100 %`},
		{"kit", good + ", per_kit: 2", "order K-1: per_kit without a kit: name the kit with kit: or remove per_kit"},
		{"broken kits", strings.Replace(good, "quantity: 1", "quantity: 5", 1) + ", kit: A, per_kit: 2", "order K-1: quantity 5 does not make whole kits of 2: make quantity a multiple of per_kit, such as 6"},
		{"bore over rim", "shape: ring, diameter_mm: 90, bore: 9 cm, quantity: 1, material: test steel, thickness_mm: 6", "order K-1: bore is 90 mm, not less than diameter 90 mm: make bore smaller or diameter larger"},
		{"a large radius", "shape: rectangle, width_mm: 90, height_mm: 20, corner_radius_mm: 11, quantity: 1, material: test steel, thickness_mm: 6", "order K-1: corner_radius is 11 mm, more than the edges have room for: write 10 mm or less"},
		{"a bow tie", "shape: outline, points_mm: [[0, 0], [50, 50], [50, 0], [0, 60]], quantity: 1, material: test steel, thickness_mm: 6", "order K-1: points_mm crosses itself near (50, 0) mm: list the corners in order around the outline"},
		{"a line", "shape: outline, points_mm: [[0, 0], [50, 50], [100, 100]], quantity: 1, material: test steel, thickness_mm: 6", "order K-1: points_mm encloses no area: list the corners in order around the outline"},
		{"points without unit", "shape: outline, points: [[0, 0], [50, 50], [50, 0]], quantity: 1, material: test steel, thickness_mm: 6", "order K-1: points names no unit: write points_mm"},
		{"a hole outside", good + ", holes: [{diameter_mm: 10, x_mm: 2, y_mm: 45}]", "order K-1, hole 1: the hole is not inside the part: move it or make it smaller"},
		{"holes that meet", good + ", holes: [{diameter_mm: 10, x_mm: 40, y_mm: 45}, {diameter_mm: 10, x_mm: 48, y_mm: 45}]", "order K-1, hole 2: the hole meets another one: move it, make it smaller, or draw both as one outline"},
		{"a hole nowhere", good + ", holes: [{diameter_mm: 10, x_mm: 40}]", "order K-1, hole 1: y_mm is missing: say where its middle is, from the lower edge, such as y_mm: 20"},
		{"bolts at the rim", "shape: flange, diameter_mm: 100, bolt_circle_mm: 95, bolts: 4, bolt_hole_mm: 9, quantity: 1, material: test steel, thickness_mm: 6", "order K-1: the bolt holes reach the rim: make bolt_circle smaller than 91 mm"},
		{"bolts at the bore", "shape: flange, diameter_mm: 100, bore_mm: 60, bolt_circle_mm: 65, bolts: 4, bolt_hole_mm: 9, quantity: 1, material: test steel, thickness_mm: 6", "order K-1: the bolt holes reach the bore: make bolt_circle larger than 69 mm"},
		{"too many bolts", "shape: flange, diameter_mm: 100, bolt_circle_mm: 80, bolts: 30, bolt_hole_mm: 9, quantity: 1, material: test steel, thickness_mm: 6", "order K-1: the bolt holes reach each other: make them fewer, smaller or shorter"},
		{"a shape and a drawing", good + ", drawing: a.dxf", "order K-1: the order names a drawing and a shape: keep one\norder K-1: diameter_mm belongs to a plain shape, and this order has a drawing: remove one of them\norder K-1: drawing a.dxf cannot be read: there is no such file: names are relative to the job file, with upper and lower case as on disk"},
		{"a file nearby", "drawing: weeek.yaml, quantity: 1, material: test steel, thickness_mm: 6", "order K-1: drawing weeek.yaml cannot be read: there is no such file: did you mean week.yaml? names are relative to the job file, with upper and lower case as on disk"},
		{"a file outside", "drawing: ../a.dxf, quantity: 1, material: test steel, thickness_mm: 6", `order K-1: "../a.dxf" lies outside the job's folder: put it beside the job file or below, and name it from there`},
		{"a letter drive", `drawing: 'C:\a.dxf', quantity: 1, material: test steel, thickness_mm: 6`, `order K-1: "C:\\a.dxf" lies outside the job's folder: put it beside the job file or below, and name it from there`},
		{"no stock", strings.Replace(good, "thickness_mm: 6", "thickness_mm: 5", 1), "order K-1 (disc 90): no stock of test steel 5 mm: add under stock: material: test steel, thickness_mm: 5, width_mm, height_mm, count, cost; there is 6 mm"},
		{"too large", "shape: rectangle, width_mm: 1995, height_mm: 20, quantity: 1, material: test steel, thickness_mm: 6", "order K-1 (rectangle 1995 x 20): the part, 1995 x 20 mm, fits no sheet in an allowed turn; the largest, S6, is 2000 x 1000 mm with a margin of 5 mm: add a larger sheet, or allow more rotations"},
		{"only along y", "shape: rectangle, width_mm: 1500, height_mm: 20, rotations: [90], quantity: 1, material: test steel, thickness_mm: 6", "order K-1 (rectangle 1500 x 20): the part, 1500 x 20 mm, fits no sheet in an allowed turn; the largest, S6, is 2000 x 1000 mm with a margin of 5 mm: add a larger sheet, or allow more rotations"},
		{"a long note", good + ", note: " + strings.Repeat("x", 600), "order K-1: note is 600 characters long: keep it under 500"},
		{"a control character", good + `, note: "a\x01"`, `order K-1: note holds the control character '\x01': remove it`},
		{"a list for a word", good + ", customer: [a]", "order K-1: customer holds a list: write a single value"},
	}
	for _, tt := range tests {
		t.Run(tt.why, func(t *testing.T) {
			_, err := load(order(tt.keys))
			if got := messages(err); got != tt.want {
				t.Errorf("got\n%s\nwant\n%s", got, tt.want)
			}
		})
	}
}

// messages are the problems without their places.
func messages(err error) string {
	var ps Problems
	if !errors.As(err, &ps) {
		return ""
	}
	var lines []string
	for _, p := range ps {
		p.File, p.Line, p.Column = "", 0, 0
		lines = append(lines, p.Error())
	}
	return strings.Join(lines, "\n")
}

func TestJobMessages(t *testing.T) {
	tests := []struct{ why, text, want string }{
		{"an empty file", "", "week.yaml: the job file is empty: begin with version: 1 and orders:"},
		{"comments alone", "# nothing\n", "week.yaml: the job file is empty: begin with version: 1 and orders:"},
		{"a list", "- a\n", "week.yaml:1:1: a list where keys with values are due: write key: value lines, indented alike"},
		{"a tab", "version: 1\n\tname: x\n", "week.yaml:2:1: a tab begins this line: indent with spaces, YAML allows no tabs"},
		{"broken YAML", "version: 1\nname: [a\n", "week.yaml:2:7: not readable as YAML: sequence end token ']' not found: look at this line and the one before it"},
		{"binary", "a\x00b", "week.yaml: not a text file: save the file as UTF-8 text"},
		{"another version", strings.Replace(base, "version: 1", "version: 7", 1) + oneOrder, "week.yaml:1:10: version is 7, and this program reads 1: use the program the file was written for"},
		{"a key twice", base + oneOrder + "name: again\n", "week.yaml:32:1: name is written twice, first at line 2: keep one"},
		{"no start", strings.Replace(base, "start: 2026-11-30\n", "", 1) + oneOrder, "week.yaml:1:1: start is missing: give the first working day, such as start: 2026-11-30"},
		{"no orders", base, "week.yaml: no orders: list what is wanted under orders:, or name a table under order_tables:"},
		{"orders of nothing", base + "orders: []\n", "week.yaml: no orders: list what is wanted under orders:, or name a table under order_tables:"},
		{"a slip at the top", strings.Replace(base, "stock:", "stoks:", 1) + oneOrder, `week.yaml:28:1: unknown key "stoks": did you mean stock?` + "\nweek.yaml:31:6: order K-1 (disc 90): no stock of test steel 6 mm: add under stock: material: test steel, thickness_mm: 6, width_mm, height_mm, count, cost"},
		{
			"ids twice", base + oneOrder + "  - {id: K-1, " + good + "}\n",
			"week.yaml:32:10: order K-1: id K-1 is used twice, first at week.yaml:31:10: give each order its own id, such as K-104/2",
		},
		{
			"a kit in two groups", base + "orders:\n  - {id: a, kit: Q, " + good + "}\n  - {id: b, kit: Q, grade: fine, " + good + "}\n",
			"week.yaml:32:6: order b (disc 90): kit Q holds test steel 6 mm (medium) and test steel 6 mm (fine), which cannot share a sheet: give its orders one material, thickness and grade, or make it two kits",
		},
		{
			"uneven kits", base + "orders:\n  - {id: a, kit: Q, " + good + "}\n  - {id: b, kit: Q, " + strings.Replace(good, "quantity: 1", "quantity: 3", 1) + "}\n",
			"week.yaml:32:6: order b (disc 90): this order makes 3 of kit Q, and order a (disc 90) makes 1: make the quantities agree; per_kit says how many of a part one kit holds",
		},
		{
			"days out of order", strings.Replace(base, "days: 5", "days: [2026-11-30, 2026-11-30]", 1) + oneOrder,
			"week.yaml:4:20: mon 2026-11-30 does not come after the day before it: list the days in order, each once",
		},
		{
			"an alias of itself", base + oneOrder + "defaults: &d {note: *d}\n",
			"week.yaml:32:15: order K-1: note holds keys with values: write a single value\nweek.yaml:32:21: *d contains itself: break the circle",
		},
		{"an alias of nothing", base + oneOrder + "defaults: *x\n", "week.yaml:32:11: *x is not defined above: put &x before the value it stands for"},
		{
			"materials like each other", strings.Replace(base, "materials:", "materials:\n  - {name: a, like: b}\n  - {name: b, like: a}", 1) + oneOrder,
			"week.yaml:7:21: material b: b and a are each like the other: give one of them its own numbers",
		},
		{
			"a material like nothing", strings.Replace(base, "materials:", "materials:\n  - {name: a, like: tset steel}", 1) + oneOrder,
			`week.yaml:6:21: material a: like names "tset steel", which is no material known here: did you mean test steel?`,
		},
		{
			"a material without numbers", strings.Replace(base, "materials:", "materials:\n  - {name: a, process: abrasive}", 1) + oneOrder,
			"week.yaml:6:6: material a: machinability is missing: give machinability, or like: a material known here",
		},
		{
			"asbestos", strings.Replace(base, "materials:", "materials:\n  - {name: asbestos millboard, like: cork}", 1) + "orders:\n  - {id: K-1, " + strings.Replace(good, "test steel", "asbestos millboard", 1) + "}\n",
			"week.yaml:32:68: order K-1: asbestos millboard holds asbestos: no such sheet is planned or cut here: its dust kills and it is banned in most places (EU REACH Annex XVII entry 6; US EPA 2024); leave the order out and ask your safety officer",
		},
		{
			"asbestos nobody described", base + "orders:\n  - {id: K-1, " + strings.Replace(good, "test steel", "chrysotile board", 1) + "}\n",
			"week.yaml:31:68: order K-1: chrysotile board holds asbestos: no such sheet is planned or cut here: its dust kills and it is banned in most places (EU REACH Annex XVII entry 6; US EPA 2024); leave the order out and ask your safety officer",
		},
		{
			"a weak pump", strings.Replace(base, "motor_hp: 50", "motor_hp: 20", 1) + oneOrder,
			"week.yaml:26:77: machine jet 1: a 0.330 mm orifice at 379 MPa needs a 24.5 kW",
		},
		{
			"a plain head for steel", strings.Replace(base, "process: abrasive, pressure", "process: plain, pressure", 1) + oneOrder,
			"week.yaml:31:6: order K-1 (disc 90): no machine can cut test steel 6 mm: jet 1: its head is plain and the material wants abrasive: add a machine that can, or leave the order out",
		},
		{
			"a small table", strings.Replace(base, "table_x_mm: 3000", "table_x_mm: 900", 1) + oneOrder,
			"week.yaml:31:6: order K-1 (disc 90): no machine can cut test steel 6 mm: jet 1: no sheet in stock lies on its table of 900 x 1500 mm: add a machine that can, or leave the order out",
		},
		{
			"a blocked zone beside", strings.Replace(base, "cost: 150}", "cost: 150, blocked: [{diameter_mm: 50, x_mm: 2500, y_mm: 100}]}", 1) + oneOrder,
			"week.yaml:29:118: stock S6, blocked zone 1: the zone lies beside the sheet: x and y are from the sheet's lower left corner to the zone's middle",
		},
	}
	for _, tt := range tests {
		t.Run(tt.why, func(t *testing.T) {
			_, err := load(tt.text)
			if err == nil {
				t.Fatalf("no problem found, want\n%s", tt.want)
			}
			if got := err.Error(); got != tt.want && !(len(tt.want) < 80 && strings.HasPrefix(got, tt.want)) {
				t.Errorf("got\n%s\nwant\n%s", got, tt.want)
			}
		})
	}
}

func TestWrongPath(t *testing.T) {
	fsys := fstest.MapFS{"jobs/week.yaml": {Data: []byte(base)}}
	for name, want := range map[string]string{
		"jobs/wek.yaml":  "jobs/wek.yaml: the job file cannot be read: there is no such file: did you mean jobs/week.yaml?",
		"job/week.yaml":  "job/week.yaml: the job file cannot be read: there is no such file: look at its path",
		"jobs":           "jobs: the job file cannot be read: it is a folder: name a job file that you may read",
		"/jobs/week.yml": "/jobs/week.yml: the job file cannot be read: there is no such file",
	} {
		_, err := Load(fsys, name)
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: got %v, want %s", name, err, want)
		}
	}
}

// The problems of a whole broken job stand in file order, in a golden file:
// a change of wording is a change to look at. KERFOLD_UPDATE=1 rewrites it.
func TestGoldenProblems(t *testing.T) {
	fsys := os.DirFS("testdata")
	_, err := Load(fsys, "broken/week.yaml")
	if err == nil {
		t.Fatal("the broken job loads")
	}
	golden := filepath.Join("testdata", "broken", "week.golden")
	if os.Getenv("KERFOLD_UPDATE") != "" {
		if err := os.WriteFile(golden, []byte(err.Error()+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, readErr := fs.ReadFile(fsys, "broken/week.golden")
	if readErr != nil {
		t.Fatal(readErr)
	}
	if got := err.Error() + "\n"; got != string(want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
