package shop

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// Sheets as people keep them: a title and a date above, headings in two rows with
// merged cells, blank lines, one customer beside several parts.
func TestSheetWithTitleAndMergedCells(t *testing.T) {
	rows := [][]any{
		{"Orders, week 49"},
		{"printed", time.Date(2026, 11, 27, 0, 0, 0, 0, time.UTC)},
		{},
		{"id", "customer", "shape", "size", nil, "quantity", "material", "thickness mm", "due"},
		{nil, nil, nil, "width mm", "height mm"},
		{"K-1", "boat yard", "rectangle", 80, 40, 12, "test steel", 6, time.Date(2026, 12, 2, 0, 0, 0, 0, time.UTC)},
		{},
		{"K-2", nil, "rectangle", 60.5, 30, 4, "test steel", 6, "3.12.2026"},
		{"K-3", nil, "rectangle", "50,5", 30, 4, "test steel", 6, 46359},
	}
	book := workbook(t, map[string][][]any{"week": rows}, func(f *excelize.File) {
		for _, m := range [][2]string{{"A1", "I1"}, {"A4", "A5"}, {"B4", "B5"}, {"C4", "C5"}, {"D4", "E4"}, {"F4", "F5"}, {"G4", "G5"}, {"H4", "H5"}, {"I4", "I5"}, {"B6", "B9"}} {
			if err := f.MergeCell("week", m[0], m[1]); err != nil {
				t.Fatal(err)
			}
		}
	})
	j := mustLoad(t, base+"order_tables: [orders.xlsx]\n", "orders.xlsx", book)
	if len(j.Orders) != 3 {
		t.Fatalf("%d orders", len(j.Orders))
	}
	for i, want := range []string{"orders.xlsx:6 boat yard 2026-12-02 80", "orders.xlsx:8 boat yard 2026-12-03 60.5", "orders.xlsx:9 boat yard 2026-12-03 50.5"} {
		o := &j.Orders[i]
		if got := fmt.Sprintf("%s %s %s %v", o.Where, o.Customer, o.Due.Format(time.DateOnly), o.Shape.Bounds().Max[0]); got != want {
			t.Errorf("order %s: %s, want %s", o.ID, got, want)
		}
	}
}

// A table with a title line above its headings, in semicolons with decimal
// commas, a byte order mark and Windows line ends.
func TestTableWithTitle(t *testing.T) {
	text := "\ufeffOrders of week 49\r\n\r\nid;shape;width mm;height mm;quantity;material;thickness mm;due\r\n" +
		"K-1;rectangle;80,5;40;12;test steel;6;02.12.2026\r\n;;;;;;;\r\n\r\nK-2;rectangle;60;30;4;test steel;6;\r\n"
	j := mustLoad(t, tableJob, "orders.csv", text)
	if len(j.Orders) != 2 || j.Orders[0].Shape.Bounds().Max[0] != 80.5 || j.Orders[1].Where != "orders.csv:7" {
		t.Errorf("%d orders, %+v", len(j.Orders), j.Orders)
	}
}

// Twenty mistakes in a sheet are told at once, each with its row and column,
// in order, and the good rows raise none.
func TestTwentyMistakesAtOnce(t *testing.T) {
	var b strings.Builder
	b.WriteString("id,shape,width mm,height mm,quantity,material,thickness mm,due\n")
	row := func(i int) []string {
		return []string{fmt.Sprintf("K-%d", i), "rectangle", "80", "40", "5", "test steel", "6", "2026-12-02"}
	}
	spoil := []struct {
		column int
		text   string
		want   string
	}{
		{0, "K-1", "used twice"},
		{1, "rectangel", "did you mean rectangle?"},
		{2, "eighty", "width_mm"},
		{3, "-4", "height is -4"},
		{4, "0", "quantity"},
		{4, "2.5", "quantity"},
		{5, "test stele", "did you mean test steel?"},
		{6, "0", "thickness is 0"},
		{7, "2026-13-02", "due"},
		{7, "next week", "due"},
	}
	var want []string
	for i := 1; i <= 41; i++ {
		r := row(i)
		if i > 1 && i%2 == 0 {
			s := spoil[(i/2-1)%len(spoil)]
			r[s.column] = s.text
			want = append(want, fmt.Sprintf("orders.csv:%d:", i+1)+"\x00"+s.want)
		}
		b.WriteString(strings.Join(r, ",") + "\n")
	}
	_, err := load(tableJob, "orders.csv", b.String())
	var faults Problems
	if !errors.As(err, &faults) || len(faults) != 20 || len(want) != 20 {
		t.Fatalf("%d mistakes told, want 20:\n%v", len(faults), err)
	}
	for i, f := range faults {
		where, what, _ := strings.Cut(want[i], "\x00")
		if text := f.Error(); !strings.HasPrefix(text, where) || !strings.Contains(text, what) || f.Mend == "" {
			t.Errorf("mistake %d: %s, want %s … %s", i+1, text, where, what)
		}
	}
}

// Outlines of remnants stand in a table's cell.
func TestOutlineInATable(t *testing.T) {
	csv := "id;material;thickness mm;points mm;cost\nR-1;test steel;6;0 0|720 0|720 480|600 600|0 600;12,5\nR-2;test steel;6;0 0|640 0|640 90 -1|640 390|640 480|0 480;9\n"
	j := mustLoad(t, base+"register: rack.csv\n"+oneOrder, "rack.csv", csv)
	r1, r2 := &j.Stock[1], &j.Stock[2]
	if !r1.Remnant || len(r1.Outline) != 5 || r1.AreaMM2() != 720*600-120*120/2 || r1.Cost != 12.5 {
		t.Errorf("got %+v", r1)
	}
	if len(r2.Outline) != 6 || r2.Outline[2].Bulge != -1 {
		t.Errorf("got %+v", r2)
	}
	back, _, err := BookRegister("rack.csv", []byte(csv), StockChange{Taken: map[string]int{"R-1": 1}, Added: []Stock{{
		ID: "R-3", Material: "test steel", ThicknessMM: 6, Outline: r1.Outline, Count: 1, Remnant: true,
	}}})
	if err != nil || !strings.Contains(string(back), "\nR-3;test steel;6;0 0|720 0|720 480|600 600|0 600;") {
		t.Errorf("%v\n%s", err, back)
	}
	if _, err := load(base+"register: rack.csv\n"+oneOrder, "rack.csv", strings.Replace(csv, "720 480|600 600", "10 600|720 600", 1)); err == nil || !strings.Contains(err.Error(), "rack.csv:2:18: stock R-1: points_mm crosses itself") {
		t.Errorf("a crossing outline: %v", err)
	}
}

// A register holds materials this job does not cut: they stay, and are no fault.
func TestRegisterOfTheWholeShop(t *testing.T) {
	csv := "id,material,thickness mm,width mm,height mm,count,cost\nX,unobtainium,6,100,100,1,5\nY,test stele,6,500,500,1,5\n"
	_, err := load(base+"register: rack.csv\n"+oneOrder, "rack.csv", csv)
	if err == nil || !strings.Contains(err.Error(), "did you mean test steel?") {
		t.Errorf("a slip: %v", err)
	}
	j := mustLoad(t, base+"register: rack.csv\n"+oneOrder, "rack.csv", strings.Replace(csv, "stele", "steel", 1))
	if len(j.Stock) != 3 || !strings.Contains(strings.Join(j.Warnings, "\n"), `rack.csv:2:3: stock X: material "unobtainium" is not known here: the line stays as it is`) {
		t.Errorf("%d lines, warnings %q", len(j.Stock), j.Warnings)
	}
}

// A warning that hundreds of rows raise is told of some and counted.
func TestWarningsAlikeAreCounted(t *testing.T) {
	var b strings.Builder
	b.WriteString("id,shape,width mm,height mm,quantity,material,thickness mm,due\n")
	for i := range 300 {
		fmt.Fprintf(&b, "K-%d,rectangle,80,40,1,test steel,6,2026-11-28\n", i)
	}
	j := mustLoad(t, tableJob, "orders.csv", b.String())
	told := 0
	for _, w := range j.Warnings {
		if strings.Contains(w, ": order K-") {
			told++
		}
	}
	if last := j.Warnings[len(j.Warnings)-1]; told != mostAlike || !strings.Contains(last, "and 292 more warnings of this kind") {
		t.Errorf("%d told; last is %q", told, last)
	}
}

// A register that cannot be read is the one thing told: what it may hold is not
// guessed at.
func TestUnreadRegisterIsOneMistake(t *testing.T) {
	job := strings.Replace(base, "stock:", "old:", 1)
	job = job[:strings.Index(job, "old:")] + "register: rack.csv\n" + oneOrder
	for _, c := range []struct{ name, text, want string }{
		{"rakc.csv", "", "register rack.csv cannot be read"},
		{"rack.csv", "", "no heading row"},
	} {
		_, err := load(job, c.name, c.text)
		var faults Problems
		if !errors.As(err, &faults) || len(faults) != 1 || !strings.Contains(faults[0].Error(), c.want) {
			t.Errorf("%s %q: %v", c.name, c.text, err)
		}
	}
}
