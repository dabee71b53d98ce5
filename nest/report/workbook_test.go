package report

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"kerfold/nest/week"
)

func workbookOf(t *testing.T, p *week.Plan) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WriteWorkbook(&b, p); err != nil {
		t.Fatal(err)
	}
	keep(t, "week.xlsx", b.Bytes())
	return b.Bytes()
}

func sheetRows(t *testing.T, data []byte, sheet string, raw bool) [][]string {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: raw})
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// The workbook's cut list is cutlist.csv, cell by cell.
func TestWorkbookCutListIsTheCSV(t *testing.T) {
	p := widePlan(3, 7)
	p.Groups[0].Parts[1].Note = "=1+1, and a note"
	var b bytes.Buffer
	if err := WriteCutList(&b, p); err != nil {
		t.Fatal(err)
	}
	want, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	got := sheetRows(t, workbookOf(t, p), "Cut list", false)
	for i := range got {
		for len(got[i]) < len(want[0]) { // empty cells at the end are left out
			got[i] = append(got[i], "")
		}
	}
	if diff := cmp.Diff(want[1:], got[1:]); diff != "" {
		t.Error(diff)
	}
}

// A text that looks like a formula stays text.
func TestWorkbookHoldsNoFormulas(t *testing.T) {
	p := samplePlan()
	p.Groups[0].Parts[0].Part = `=HYPERLINK("x")`
	f, err := excelize.OpenReader(bytes.NewReader(workbookOf(t, p)))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if formula, err := f.GetCellFormula("Cut list", "K2"); err != nil || formula != "" {
		t.Errorf("formula %q (%v)", formula, err)
	}
	if text, _ := f.GetCellValue("Cut list", "K2"); text != p.Groups[0].Parts[0].Part {
		t.Errorf("the part's name became %q", text)
	}
}

func TestWorkbookLedgerAddsUp(t *testing.T) {
	p := samplePlan()
	p.Ledger.Money.Machine += 5.25 // a set-up
	rows := sheetRows(t, workbookOf(t, p), "Ledger", false)
	last := len(rows[0]) - 1
	want := [][]string{{"G1", "381.00"}, {"set-ups", "5.25"}, {"all", "386.25"}}
	var got [][]string
	for _, r := range rows[1:] {
		got = append(got, []string{r[0], r[last]})
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// What the orders cost is what their layouts cost.
func TestOrdersShareTheLayoutsCost(t *testing.T) {
	p := widePlan(3, 7)
	sum, want := 0.0, 0.0
	for _, o := range p.Orders {
		sum += orderBook(p)[o.Order].Ledger.Money.Total()
	}
	for _, l := range p.Groups[0].Layouts {
		want += l.Ledger.Money.Total()
	}
	if math.Abs(sum-want) > 1e-6 || want == 0 {
		t.Errorf("the orders cost %v, their layouts %v", sum, want)
	}
	rows := sheetRows(t, workbookOf(t, p), "Orders", false)
	if got := rows[2][8]; got != "1 day late" {
		t.Errorf("order %s: %q, want it late", rows[2][0], got)
	}
}

// What the report says of cures stands in the workbook, too, with the money as
// numbers; a week in time has no such sheet.
func TestWorkbookCures(t *testing.T) {
	p := samplePlan()
	rows := sheetRows(t, workbookOf(t, p), "Cures", true)
	want := cureRows(p)[0]
	money, err := strconv.ParseFloat(rows[1][3], 64)
	if err != nil || signed(money, 2) != want.Money || rows[1][1] != want.Steps || rows[1][2] != want.Saves {
		t.Errorf("cure %q (%v), want %+v", rows[1], err, want)
	}
	if last := rows[len(rows)-1]; last[0] != "mind" || !slices.Contains(cureCautions(p), last[1]) {
		t.Errorf("the last row %q is no caution", last)
	}
	p.Cures = nil
	rows = sheetRows(t, workbookOf(t, p), "Cures", false)
	if late := "K-102/1"; len(rows) != 2 || rows[1][0] != late || !strings.Contains(rows[1][1], "no cure found") {
		t.Errorf("without cures the sheet has %q", rows[1:])
	}
	for i := range p.Orders {
		o := &p.Orders[i]
		o.Late, o.LateDays, o.LateSec = false, 0, 0
	}
	f, err := excelize.OpenReader(bytes.NewReader(workbookOf(t, p)))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if slices.Contains(f.GetSheetList(), "Cures") {
		t.Error("a week in time has a sheet of cures")
	}
}

func TestWorkbookCalendar(t *testing.T) {
	rows := sheetRows(t, workbookOf(t, samplePlan()), "Calendar", false)
	want := [][]string{
		{"jet-1", "G1-L1", "aluminium 6061", "6", "3", "2031-03-03", "0.00", "2031-03-03", "0.42", "0.17", "0.25"},
		{"jet-2", "G1-L1", "aluminium 6061", "6", "1", "2031-03-04", "0.00", "2031-03-04", "0.28", "0.17", "0.11", "after a due date"},
	}
	if diff := cmp.Diff(want, rows[1:]); diff != "" {
		t.Error(diff)
	}
}

// The same plan is the same file, and nothing in it comes from the clock.
func TestWorkbookIsDeterministic(t *testing.T) {
	first := workbookOf(t, widePlan(9, 20))
	for range 3 {
		if !bytes.Equal(first, workbookOf(t, widePlan(9, 20))) {
			t.Fatal("the same plan gave two different workbooks")
		}
	}
	z, err := zip.NewReader(bytes.NewReader(first), int64(len(first)))
	if err != nil {
		t.Fatal(err)
	}
	dated := false
	for _, f := range z.File {
		if !f.Modified.IsZero() && f.Modified.Year() > 1980 {
			t.Errorf("%s is dated %v", f.Name, f.Modified)
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if f.Name == "docProps/core.xml" {
			dated = strings.Count(string(data), "2031-03-03T00:00:00Z") == 2
		}
	}
	if !dated {
		t.Error("the file's properties do not carry the plan's first day")
	}
}

func TestWorkbookOfNothing(t *testing.T) {
	if rows := sheetRows(t, workbookOf(t, &week.Plan{}), "Calendar", false); len(rows) != 1 {
		t.Errorf("%d rows in an empty plan's calendar, want the head", len(rows))
	}
}

// columnSum adds a column up, by its heading, over the rows that keep lets pass.
func columnSum(t *testing.T, rows [][]string, head string, keep func(row []string) bool) float64 {
	t.Helper()
	at := slices.IndexFunc(rows[0], func(s string) bool { return strings.HasPrefix(s, head) })
	if at < 0 {
		t.Fatalf("no column %q in %q", head, rows[0])
	}
	sum := 0.0
	for _, r := range rows[1:] {
		if at >= len(r) || r[at] == "" || keep != nil && !keep(r) {
			continue
		}
		x, err := strconv.ParseFloat(r[at], 64)
		if err != nil {
			t.Fatalf("%s: %v", head, err)
		}
		sum += x
	}
	return sum
}

// What a spreadsheet adds up in the workbook is what plan.json says: both are
// read back here as others would read them.
func TestWorkbookAgreesWithThePlanFile(t *testing.T) {
	p := widePlan(5, 7)
	var b bytes.Buffer
	if err := WritePlan(&b, p); err != nil {
		t.Fatal(err)
	}
	var f PlanFile
	if err := json.Unmarshal(b.Bytes(), &f); err != nil {
		t.Fatal(err)
	}
	book := workbookOf(t, p)
	ledger, cut := sheetRows(t, book, "Ledger", true), sheetRows(t, book, "Cut list", true)
	calendar, orders := sheetRows(t, book, "Calendar", true), sheetRows(t, book, "Orders", true)
	above := func(r []string) bool { return r[0] != "all" }
	copies, placed, layouts, sheets := 0, 0, 0.0, 0
	for _, g := range f.Groups {
		for _, l := range g.Layouts {
			copies += l.Repeats * len(l.Placements)
			layouts += l.Cost.Total
			sheets += l.Repeats
		}
	}
	work, setup := 0.0, 0.0
	for _, s := range f.Calendar {
		work, setup = work+s.WorkSec, setup+s.SetupSec
	}
	for _, o := range f.Orders {
		placed += o.Placed
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"parts in the cut list", columnSum(t, cut, "in all", nil), float64(copies)},
		{"money of layouts and set-ups", columnSum(t, ledger, "in all", above), f.Total.Total},
		{"money of the last row", columnSum(t, ledger, "in all", func(r []string) bool { return r[0] == "all" }), f.Total.Total},
		{"money of the orders", columnSum(t, orders, "cost", nil), layouts},
		{"sheets cut", columnSum(t, ledger, "sheets cut", above), float64(sheets)},
		{"hours of work", columnSum(t, calendar, "work, h", nil), work / 3600},
		{"hours of set-up", columnSum(t, calendar, "set-up, h", nil), setup / 3600},
		{"parts of the orders", columnSum(t, orders, "cut", nil), float64(placed)},
	} {
		if math.Abs(c.got-c.want) > 0.011 || c.want == 0 {
			t.Errorf("%s: the workbook has %v, plan.json %v", c.what, c.got, c.want)
		}
	}
}
