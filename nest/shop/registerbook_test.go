package shop

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"kerfold/geom"
)

func aRemnant(id string) Stock {
	return Stock{
		ID: id, Material: "mild steel", ThicknessMM: 6, Outline: geom.RectContour(0, 0, 700, 300), Count: 2, Cost: 8.5,
		Remnant: true, Location: "bay 2", Since: time.Date(2026, 12, 1, 0, 0, 0, 0, time.UTC), Origin: "MS6, layout G1-L1",
	}
}

// Booking touches the counts that change and the lines that are new, and
// nothing else.
func TestBookRegister(t *testing.T) {
	change := StockChange{Taken: map[string]int{"MS6": 3, "R-1": 1, "elsewhere": 9}, Added: []Stock{aRemnant("R-2")}}
	for _, c := range []struct{ why, name, before, after string }{
		{
			"a table with a column of its own, blank lines and spaces", "rack.csv",
			"ID,Material,Thickness mm,Heat no.,Width mm,Height mm,Count,Cost\nMS6,mild steel,6,\"A, 77\",1500,1000, 5,73\n\nR-1,mild steel,6,,400,300,1,3\n",
			"ID,Material,Thickness mm,Heat no.,Width mm,Height mm,Count,Cost,remnant,location,since,origin\nMS6,mild steel,6,\"A, 77\",1500,1000,2,73\n\nR-1,mild steel,6,,400,300,0,3\nR-2,mild steel,6,,700,300,2,8.5,yes,bay 2,2026-12-01,\"MS6, layout G1-L1\"\n",
		},
		{
			"semicolons, decimal commas, Windows line ends, a byte order mark and no last line end", "rack.csv",
			"\ufeffID;Material;Thickness;Width cm;Height cm;Count;Cost;Location\r\nMS6;mild steel;6 mm;150;100;5;73,20;rack 3\r\nR-1;mild steel;6 mm;40;30;1;3;",
			"\ufeffID;Material;Thickness;Width cm;Height cm;Count;Cost;Location;remnant;since;origin\r\nMS6;mild steel;6 mm;150;100;2;73,20;rack 3\r\nR-1;mild steel;6 mm;40;30;0;3;\r\nR-2;mild steel;6 mm;70;30;2;8,5;bay 2;yes;2026-12-01;MS6, layout G1-L1\r\n",
		},
		{
			"no column of counts", "rack.csv",
			"sep=;\nid;material;thickness mm;width mm;height mm;remnant\nR-1;mild steel;6;400;300;yes\nR-9;mild steel;6;400;300;yes\n",
			"sep=;\nid;material;thickness mm;width mm;height mm;remnant;count;cost;location;since;origin\nR-1;mild steel;6;400;300;yes;0\nR-9;mild steel;6;400;300;yes\nR-2;mild steel;6;700;300;yes;2;8.5;bay 2;2026-12-01;MS6, layout G1-L1\n",
		},
		{
			"comments, braces and blocks", "rack.yaml",
			"# our rack\nversion: 1\nstock:\n  # sheets\n  - {id: MS6, material: mild steel, thickness_mm: 6, width_mm: 1500, height_mm: 1000, count: 5, cost: 73} # new lot\n  - id: R-1 # left of K-9\n    material: mild steel\n    thickness_mm: 6\n    points_mm: [[0, 0], [400, 0], [0, 300]]\n    # the end\n\n",
			"# our rack\nversion: 1\nstock:\n  # sheets\n  - {id: MS6, material: mild steel, thickness_mm: 6, width_mm: 1500, height_mm: 1000, count: 2, cost: 73} # new lot\n  - id: R-1 # left of K-9\n    count: 0\n    material: mild steel\n    thickness_mm: 6\n    points_mm: [[0, 0], [400, 0], [0, 300]]\n    # the end\n" +
				"  - id: \"R-2\"\n    material: \"mild steel\"\n    thickness_mm: 6\n    width_mm: 700\n    height_mm: 300\n    count: 2\n    cost: 8.5\n    remnant: yes\n    location: \"bay 2\"\n    since: 2026-12-01\n    origin: \"MS6, layout G1-L1\"\n\n",
		},
		{
			"dashes at the margin, a key behind the list, Windows line ends", "rack.yaml",
			"stock:\r\n- {id: R-1, material: mild steel, thickness_mm: 6, width_mm: 40, height_mm: 30, remnant: yes}\r\nversion: 1\r\n",
			"stock:\r\n- {count: 0, id: R-1, material: mild steel, thickness_mm: 6, width_mm: 40, height_mm: 30, remnant: yes}\r\n- id: \"R-2\"\r\n  material: \"mild steel\"\r\n  thickness_mm: 6\r\n  width_mm: 700\r\n  height_mm: 300\r\n  count: 2\r\n  cost: 8.5\r\n  remnant: yes\r\n  location: \"bay 2\"\r\n  since: 2026-12-01\r\n  origin: \"MS6, layout G1-L1\"\r\nversion: 1\r\n",
		},
	} {
		got, notes, err := BookRegister(c.name, []byte(c.before), change)
		if err != nil || len(notes) > 0 {
			t.Errorf("%s: %v, notes %q", c.why, err, notes)
			continue
		}
		if diff := cmp.Diff(c.after, string(got)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.why, diff)
		}
	}
}

// A register that holds nothing takes its first remnant; a list in brackets is
// written anew, which is said.
func TestBookOddRegisters(t *testing.T) {
	change := StockChange{Added: []Stock{aRemnant("R-2")}}
	for _, c := range []struct {
		text, keeps string
		notes       int
	}{
		{"", "", 0},
		{"# nothing here yet\n", "# nothing here yet\n", 0},
		{"# nothing\nversion: 1\nstock: [] # so far\n", "# nothing\nversion: 1\nstock: \n", 0},
		{"stock: [{id: A, material: cork, thickness_mm: 3, width_mm: 100, height_mm: 90, cost: 1}] # one line\n", "", 1},
	} {
		got, notes, err := BookRegister("rack.yaml", []byte(c.text), change)
		if err != nil || len(notes) != c.notes || !strings.HasPrefix(string(got), c.keeps) {
			t.Errorf("%q: %v, notes %q\n%s", c.text, err, notes, got)
		}
		stock, _, err := ReadRegister("rack.yaml", got, nil)
		if err != nil || len(stock) == 0 || stock[len(stock)-1].ID != "R-2" {
			t.Errorf("%q reads back as %v, %v", c.text, stock, err)
		}
	}
}

func TestBookRegisterRefuses(t *testing.T) {
	csv := "id,material,thickness mm,width mm,height mm,count,cost\nMS6,mild steel,6,1500,1000,2,73\n"
	for _, c := range []struct {
		why, name, text string
		change          StockChange
		want            string
	}{
		{"more than there is", "rack.csv", csv, StockChange{Taken: map[string]int{"MS6": 3}}, "3 taken, and the register holds 2: plan again"},
		{"an id given already", "rack.csv", csv, StockChange{Added: []Stock{aRemnant("MS6")}}, "holds this id already"},
		{"no id", "rack.csv", "material,thickness mm,width mm,height mm\ncork,6,1500,1000\n", StockChange{}, "rack.csv:2: stock: id is missing: give every line"},
		{"an id twice", "rack.csv", csv + "MS6,cork,6,1500,1000,2,73\n", StockChange{}, "used twice"},
		{"broken", "rack.yaml", "stock:\n\t- a", StockChange{}, "tab"},
		{"empty table", "rack.csv", "", StockChange{}, "no heading row"},
	} {
		_, _, err := BookRegister(c.name, []byte(c.text), c.change)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", c.why, err, c.want)
		}
	}
	if _, _, err := BookRegister("rack.xlsx", nil, StockChange{}); !errors.Is(err, ErrNotBookable) {
		t.Errorf("a workbook: %v", err)
	}
}

// Whatever is on the rack and whatever is taken, the register reads back as what
// there was less what was taken, in either form.
func TestBookingReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock := rapid.SliceOfN(rapid.Custom(drawStock), 1, 5).Draw(t, "stock")
		change := StockChange{Taken: map[string]int{}}
		for i := range stock {
			stock[i].ID += string(rune('a' + i))
		}
		added := rapid.IntRange(0, len(stock)-1).Draw(t, "added")
		before := stock[:len(stock)-added]
		change.Added = stock[len(stock)-added:]
		want := append([]Stock(nil), stock...)
		for i := range before {
			n := rapid.IntRange(0, before[i].Count).Draw(t, "taken")
			change.Taken[before[i].ID] = n
			want[i].Count -= n
		}
		text := string(MarshalRegister(before))
		if rapid.Bool().Draw(t, "dos") {
			text = strings.ReplaceAll(text, "\n", "\r\n")
		}
		got, notes, err := BookRegister("rack.yaml", []byte(text), change)
		if err != nil || len(notes) > 0 {
			t.Fatalf("%v, %q\n%s", err, notes, text)
		}
		back, _, err := ReadRegister("rack.yaml", got, nil)
		if diff := cmp.Diff(want, back, cmpopts.IgnoreFields(Stock{}, "Where"), cmpopts.EquateEmpty()); diff != "" || err != nil {
			t.Fatalf("%v %s\n%s", err, diff, got)
		}
	})
}

// A table whose fields are not changed stays to the byte.
func TestTableStaysAsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		field := rapid.SampledFrom([]string{"", "x", " y ", `"q, r"`, `"two` + "\n" + `lines"`, `1/8"`, `"a ""b"""`, "ä ß"})
		rows := rapid.SliceOfN(rapid.SliceOfN(field, 1, 5), 0, 6).Draw(t, "rows")
		text := "id,material,thickness mm,width mm,height mm,colour\n"
		for _, r := range rows {
			text += strings.Join(r, ",") + "\n"
		}
		text = strings.TrimSuffix(text, rapid.SampledFrom([]string{"", "\n"}).Draw(t, "end"))
		raw, err := readRawTable("rack.csv", text)
		if err != nil || raw.String() != text {
			t.Fatalf("%v\n%q\n%q", err, text, raw)
		}
	})
}

func FuzzBookRegister(f *testing.F) {
	f.Add("id,material,thickness mm,width mm,height mm,count,cost\nMS6,mild steel,6,1500,1000,2,73\n", true)
	f.Add("stock:\n  - {id: MS6, material: cork, thickness_mm: 6, width_mm: 1500, height_mm: 1000, count: 5} # c\n", false)
	f.Add("stock: &a\n- id: MS6\n  material: cork\n  thickness_mm: 6\n  points_mm: [[0,0],[90,0],[0,90]]\n", false)
	f.Fuzz(func(t *testing.T, text string, table bool) {
		name := map[bool]string{true: "rack.csv", false: "rack.yaml"}[table]
		before, _, err := ReadRegister(name, []byte(text), nil)
		if err != nil || len(text) > 1<<14 {
			return
		}
		change := StockChange{Taken: map[string]int{}, Added: []Stock{aRemnant("R-new")}}
		for _, s := range before {
			change.Taken[s.ID] = s.Count
		}
		out, _, err := BookRegister(name, []byte(text), change)
		if err != nil {
			return // refused whole; nothing is written
		}
		after, _, err := ReadRegister(name, out, nil)
		if err != nil || len(after) != len(before)+1 {
			t.Fatalf("%d lines became %d: %v\n%s", len(before), len(after), err, out)
		}
	})
}
