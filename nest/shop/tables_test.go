package shop

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

const tableJob = base + `order_tables:
  - orders.csv
`

// ordersText lists orders without their places.
func ordersText(j *Job) string {
	var b strings.Builder
	for i := range j.Orders {
		o := &j.Orders[i]
		fmt.Fprintln(&b, o.ID, o.Part, o.Quantity, o.Extra, o.Material, o.ThicknessMM, o.Grade, o.Due.Format(time.DateOnly),
			o.Angles, o.FreeAngle, o.Mirror, o.Shape.Bounds().Max, o.Note)
	}
	return b.String()
}

const plainTable = `id,part,shape,diameter_mm,bore_mm,quantity,over_run,material,thickness_mm,grade,due,rotations,mirror,note
K-1,washer,ring,30.5,10,100,5 %,test steel,6,rough,2026-12-02,0 120,yes,"cut, then count"
K-2,plug,disc,12,,7,,test steel,6,,,any,,
`

// One table, written as spreadsheets in different settings write it.
func TestTablesReadAlike(t *testing.T) {
	want := ordersText(mustLoad(t, tableJob, "orders.csv", plainTable))
	if !strings.Contains(want, "K-1 washer 100 5 test steel 6 rough 2026-12-02 [0 120] false true [30.5 30.5] cut, then count") {
		t.Fatalf("got\n%s", want)
	}
	semicolons := `id;part;shape;diameter_mm;bore_mm;quantity;over_run;material;thickness_mm;grade;due;rotations;mirror;note
K-1;washer;ring;30,5;10;100;5 %;test steel;6,0;rough;02.12.2026;0|120;x;cut, then count
K-2;plug;disc;12;;7;;test steel;6;;;any;;
`
	headings := strings.Replace(plainTable, "diameter_mm,bore_mm,quantity,over_run,material,thickness_mm", "Diameter (mm),Bore [mm],QUANTITY,Over-run,Material,Thickness mm", 1)
	for name, text := range map[string]string{
		"CRLF":             strings.ReplaceAll(plainTable, "\n", "\r\n"),
		"mark":             "\ufeff" + plainTable,
		"UTF-16":           inUTF16(plainTable, true),
		"tabs":             strings.ReplaceAll(strings.ReplaceAll(plainTable, `"cut, then count"`, "cut; then count"), ",", "\t"),
		"semicolons":       semicolons,
		"separator line":   "sep=;\n" + semicolons,
		"all quoted":       quoteAll(plainTable),
		"headings":         headings,
		"blank lines":      "\n\n" + strings.ReplaceAll(plainTable, "\n", "\n,,\n\n"),
		"no last line end": strings.TrimRight(plainTable, "\n"),
	} {
		got := ordersText(mustLoad(t, tableJob, "orders.csv", text))
		if name == "tabs" {
			got = strings.ReplaceAll(got, "cut; then", "cut, then")
		}
		if got != want {
			t.Errorf("%s: got\n%s\nwant\n%s", name, got, want)
		}
	}
}

func quoteAll(s string) string {
	rows, _ := csv.NewReader(strings.NewReader(s)).ReadAll()
	var b strings.Builder
	for _, r := range rows {
		for i, c := range r {
			if i > 0 {
				b.WriteByte(',')
			}
			b.WriteString(`"` + strings.ReplaceAll(c, `"`, `""`) + `"`)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func TestDecimals(t *testing.T) {
	tests := []struct{ why, table, spec, want string }{
		{"points", "id,diameter_mm\nK-1,1.250\n", "", "1.25"},
		{"commas between semicolons", "id;diameter_mm\nK-1;1,250\n", "", "1.25"},
		{"quoted commas that part no thousands", "id,diameter_mm\nK-1,\"1,25\"\n", "", "1.25"},
		{"points between thousands", "id;diameter_mm\nK-1;1.250,5\n", "", "1250.5"},
		{"told", "id,diameter_mm\nK-1,\"1,250\"\n", "decimal: comma", "1.25"},
		{"a unit", "id;diameter\nK-1;12,5 mm\n", "", "12.5"},
		{"an inch mark", "id;diameter\nK-1;1/2\"\n", "", "12.7"},
		{"another cell decides", "id;diameter_mm;bore_mm\nK-1;12.5;3,5\n", "", "12.5"},
	}
	for _, tt := range tests {
		job := strings.Replace(base, "height_mm: 1000", "height_mm: 1400", 1) + "order_tables:\n  - {file: orders.csv, " + strings.TrimSuffix(tt.spec+", ", ", ") + "}\n"
		job = strings.Replace(job, "csv, }", "csv}", 1)
		rows := strings.Split(strings.TrimSpace(tt.table), "\n")
		sep := ";"
		if strings.Contains(rows[0], ",") {
			sep = ","
		}
		rows[0] += strings.Join([]string{"", "shape", "quantity", "material", "thickness_mm"}, sep)
		shape := "disc"
		if strings.Contains(rows[0], "bore") {
			shape = "ring"
		}
		rows[1] += strings.Join([]string{"", shape, "1", "test steel", "6"}, sep)
		j := mustLoad(t, job, "orders.csv", strings.Join(rows, "\n"))
		if got := short(j.Orders[0].Shape.Bounds().Max[0]); got != tt.want {
			t.Errorf("%s: got %s, want %s", tt.why, got, tt.want)
		}
	}
}

func TestTableMessages(t *testing.T) {
	tests := []struct{ why, spec, table, want string }{
		{
			"a bad cell", "orders.csv", strings.Replace(plainTable, "30.5", "30.5.1", 1),
			`orders.csv:2:17: order K-1 (washer): diameter_mm is "30.5.1": write a number, such as 12.5`,
		},
		{
			"two bad rows", "orders.csv", strings.Replace(strings.Replace(plainTable, "100", "many", 1), "disc", "disk", 1),
			`orders.csv:2:25: order K-1 (washer): quantity is "many": write a whole number, such as 12` + "\n" +
				`orders.csv:3:10: order K-2 (plug): shape is "disk": did you mean disc? use rectangle, disc, ring, flange, polygon, obround or outline`,
		},
		{
			"thousands or decimals", "orders.csv", strings.Replace(plainTable, "30.5", `"1,250"`, 1),
			`orders.csv:2:17: order K-1 (washer): diameter_mm is "1,250": write 1250, without commas between thousands`,
		},
		{"a missing column", "orders.csv", "id,shape,diameter_mm,material,thickness_mm\nK-1,disc,10,test steel,6\n", "orders.csv:2: order K-1: quantity is missing: say how many, such as quantity: 12"},
		{"nothing", "orders.csv", "", "orders.csv: the table has no heading row: put the column names in its first row"},
		{"an open quote", "orders.csv", strings.Replace(plainTable, `count"`, "count", 1), "orders.csv:2:73: a quote opens here and never closes: close it, or double quotes that belong to the text"},
		{"text behind a quote", "orders.csv", strings.Replace(plainTable, `count"`, `count"def`, 1), `orders.csv:2:73: "def" follows a closing quote: double quotes that belong to the text`},
		{"too many cells", "orders.csv", strings.Replace(plainTable, "cut, then count\"", "cut\",then count", 1), `orders.csv:2:79: row 2: "then count" stands in a column without a heading: name the column, or put text that holds the separator in quotes`},
		{"a column twice", "orders.csv", "id,Quantity,quantity\n", `orders.csv:1:13: the columns "Quantity" and "quantity" both hold quantity: remove one, or map one under columns:`},
		{"no file", "order.csv", plainTable, "week.yaml:31:5: order table order.csv: order.csv cannot be read: there is no such file: did you mean orders.csv? names are relative to the job file, with upper and lower case as on disk"},
		{"a mapping of nothing", "{file: orders.csv, columns: {quantity: Anzahl}}", strings.Replace(plainTable, "quantity", "Anzhal", 1), `week.yaml:31:44: orders.csv has no column "Anzahl": did you mean Anzhal?`},
		{"a mapping of no key", "{file: orders.csv, columns: {quantty: Qty}}", plainTable, `week.yaml:31:34: order table orders.csv: columns maps "quantty", which is no key of an order in a table: did you mean quantity?`},
		{"a separator", "{file: orders.csv, separator: dot}", plainTable, `week.yaml:31:35: order table orders.csv: separator is "dot": use comma, semicolon or tab`},
		{"a slashed date", "orders.csv", strings.Replace(plainTable, "2026-12-02", "2/12/2026", 1), `orders.csv:2:52: order K-1 (washer): due is "2/12/2026": write year-month-day, such as 2026-12-02; or let the table say dates: dmy or dates: mdy`},
		{"an id twice", "orders.csv", strings.Replace(plainTable, "K-2", "K-1", 1), "orders.csv:3:1: order K-1 (plug): id K-1 is used twice, first at orders.csv:2:1: give each order its own id, such as K-104/2"},
		{"no workbook", "orders.xlsx", plainTable, "week.yaml:31:5: order table orders.xlsx: orders.xlsx cannot be read: there is no such file: did you mean orders.csv? names are relative to the job file, with upper and lower case as on disk"},
	}
	for _, tt := range tests {
		t.Run(tt.why, func(t *testing.T) {
			_, err := load(base+"order_tables:\n  - "+tt.spec+"\n", "orders.csv", tt.table)
			if err == nil {
				t.Fatalf("no problem found, want\n%s", tt.want)
			}
			if got := err.Error(); got != tt.want {
				t.Errorf("got\n%s\nwant\n%s", got, tt.want)
			}
		})
	}
}

func TestUnusedColumnsAreTold(t *testing.T) {
	table := strings.Replace(plainTable, "mirror,note", "mirrir,remarks", 1)
	j := mustLoad(t, tableJob, "orders.csv", table)
	got := strings.Join(j.Warnings, "\n")
	want := `orders.csv:1:95: the column "mirrir" is not used: did you mean mirror? map it under columns:, or list it under ignore:
orders.csv:1:102: the column "remarks" is not used: map it under columns:, or list it under ignore:`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	j = mustLoad(t, base+"order_tables:\n  - {file: orders.csv, ignore: [Remarks, mirrir]}\n", "orders.csv", table)
	if len(j.Warnings) != 0 {
		t.Errorf("warnings %q", j.Warnings)
	}
}

// A mapped table with defaults of its own over those of the job.
func TestMappedTable(t *testing.T) {
	job := base + `defaults: {grade: fine, thickness_in: 1, note: from the job}
order_tables:
  - file: lists/w49.csv
    heading_row: 3
    columns: {id: No., quantity: Anzahl, diameter_mm: "Ø", due: Termin}
    dates: mdy
    defaults: {shape: disc, material: test steel, thickness_mm: 6}
`
	job = strings.Replace(job, "shape: disc, ", "", 1)
	table := "Orders of the week;;\n;;\nNo.;Anzahl;Ø;Termin;Shape\nK-7;3;12,5;12/2/2026;disc\n"
	j := mustLoad(t, job, "lists/w49.csv", table)
	want := "K-7 disc 12.5 3 0 test steel 6 fine 2026-12-02 [0 90 180 270] false false [12.5 12.5] from the job\n"
	if got := ordersText(j); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// Our reader and the standard library's agree on text that both accept.
func TestCSVAgainstStandardLibrary(t *testing.T) {
	piece := rapid.SampledFrom([]string{"a", "b,", ";", `"`, `""`, "\n", `"x"`, `"y,z"`, ` `, "ä", `,"q""r",`, "\t"})
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(piece, 0, 12).Draw(t, "pieces"), "")
		std := csv.NewReader(strings.NewReader(text))
		std.FieldsPerRecord = -1
		want, err := std.ReadAll()
		if err != nil {
			return // ours is more lenient, and says so itself
		}
		l := newLog()
		spec := tableSpec{name: "t.csv", comma: ','}
		var got [][]string
		for _, r := range parseCSV(l, &spec, text) {
			var texts []string
			for _, c := range r {
				texts = append(texts, c.text)
			}
			if len(texts) > 1 || texts[0] != "" { // the library skips empty lines
				got = append(got, texts)
			}
		}
		want = slices.DeleteFunc(want, func(r []string) bool { return len(r) == 1 && r[0] == "" })
		if fmt.Sprintf("%q", got) != fmt.Sprintf("%q", want) || len(l.problems) > 0 {
			t.Fatalf("%q: got %q %v, want %q", text, got, l.problems, want)
		}
	})
}

// Cells stand where the messages say.
func TestCSVPlaces(t *testing.T) {
	text := "a,bä,c\n\"x\ny\",z\n"
	spec := tableSpec{name: "t.csv", comma: ','}
	var got []string
	for _, r := range parseCSV(newLog(), &spec, text) {
		for _, c := range r {
			got = append(got, fmt.Sprintf("%d:%d", c.at.line, c.at.column))
		}
	}
	if want := "1:1 1:3 1:6 2:1 3:4"; strings.Join(got, " ") != want {
		t.Errorf("got %v, want %s", got, want)
	}
}

// workbook writes rows as a workbook would hold them.
func workbook(t testing.TB, sheets map[string][][]any, change func(*excelize.File)) string {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	for _, name := range sortedKeys(sheets) {
		if _, err := f.NewSheet(name); err != nil {
			t.Fatal(err)
		}
		for i, row := range sheets[name] {
			if err := f.SetSheetRow(name, fmt.Sprintf("A%d", i+1), &row); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := f.DeleteSheet("Sheet1"); err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(f)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func weekRows() [][]any {
	return [][]any{
		{"id", "part", "shape", "diameter_mm", "bore_mm", "quantity", "over_run", "material", "thickness_mm", "grade", "due", "rotations", "mirror", "note"},
		{"K-1", "washer", "ring", 30.5, 10, 100, 0.05, "test steel", 6, "rough", time.Date(2026, 12, 2, 0, 0, 0, 0, time.UTC), "0 120", true, "cut, then count"},
		{},
		{"K-2", "plug", "disc", 12, nil, 7, nil, "test steel", 6, nil, nil, "any"},
	}
}

// A workbook says the same as the CSV, dates and percentages as workbooks keep them.
func TestWorkbook(t *testing.T) {
	want := ordersText(mustLoad(t, tableJob, "orders.csv", plainTable))
	for _, from1904 := range []bool{false, true} {
		book := workbook(t, map[string][][]any{"week": weekRows()}, func(f *excelize.File) {
			percent, _ := f.NewStyle(&excelize.Style{NumFmt: 9})
			_ = f.SetCellStyle("week", "G2", "G2", percent)
			if from1904 {
				_ = f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &from1904})
				_ = f.SetCellValue("week", "K2", time.Date(2026, 12, 2, 0, 0, 0, 0, time.UTC))
			}
		})
		j := mustLoad(t, base+"order_tables: [orders.xlsx]\n", "orders.xlsx", book)
		if got := ordersText(j); got != want {
			t.Errorf("1904 %v: got\n%s\nwant\n%s", from1904, got, want)
		}
		if j.Orders[1].Where != "orders.xlsx:4" {
			t.Errorf("the second order stands at %s", j.Orders[1].Where)
		}
	}
}

func TestWorkbookMessages(t *testing.T) {
	rows := weekRows()
	rows[1][5] = "#REF!"
	book := workbook(t, map[string][][]any{"week": rows, "zz": nil}, nil)
	tests := []struct{ why, spec, book, want string }{
		{"a failed formula", "{file: orders.xlsx, sheet: week}", book, "orders.xlsx:2:6: the cell holds #REF!: mend its formula"},
		{"no such sheet", "{file: orders.xlsx, sheet: weak}", book, `orders.xlsx has no sheet "weak": did you mean week?`},
		{"no workbook", "orders.xlsx", "id;quantity\n", "orders.xlsx: the workbook cannot be opened: zip: not a valid zip file: save it as XLSX without a password, or the sheet as CSV"},
	}
	for _, tt := range tests {
		_, err := load(base+"order_tables:\n  - "+tt.spec+"\n", "orders.xlsx", tt.book)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: got\n%v\nwant\n%s", tt.why, err, tt.want)
		}
	}
}

// A table of five thousand rows reads in a moment.
func TestLargeTable(t *testing.T) {
	var b strings.Builder
	b.WriteString("id;shape;width_mm;height_mm;quantity;material;thickness_mm;due\n")
	for i := range 5000 {
		fmt.Fprintf(&b, "L-%d;rectangle;%d,5;%d;%d;test steel;6;0%d.12.2026\n", i, 20+i%300, 10+i%70, 1+i%9, 1+i%4)
	}
	begin := time.Now()
	j := mustLoad(t, tableJob, "orders.csv", b.String())
	if len(j.Orders) != 5000 {
		t.Errorf("%d orders", len(j.Orders))
	}
	if d := time.Since(begin); d > 5*time.Second {
		t.Errorf("took %v", d)
	}
}
