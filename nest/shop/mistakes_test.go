package shop

import (
	"io/fs"
	"os"
	"strings"
	"testing"
)

// What people meet in their first hour, with files as they would have them.
func TestMistakes(t *testing.T) {
	fsys, err := fs.Sub(os.DirFS(root), "testdata/mistakes")
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		file string
		want []string
	}{
		{"nowhere.yaml", []string{
			`nowhere.yaml: the job file cannot be read: there is no such file: look at its path`,
		}},
		{"empty.yaml", []string{
			`empty.yaml: the job file is empty: begin with version: 1 and orders:`,
		}},
		{"wrong-path.yaml", []string{
			`wrong-path.yaml:58:14: order K-2 (spacer): drawing drawings/spacr.dxf cannot be read: there is no such file: did you mean drawings/spacer.dxf? names are relative to the job file, with upper and lower case as on disk`,
		}},
		{"tab.yaml", []string{
			`tab.yaml:44:1: a tab begins this line: indent with spaces, YAML allows no tabs`,
		}},
		{"slips.yaml", []string{
			`slips.yaml:10:19: machine jet 1: pressure is 4000 MPa: write a number from 20 to 700 MPa; if ksi or bar was meant, write pressure_ksi or pressure_bar`,
			`slips.yaml:40:25: stock AL2: material "aluminum 6061" is not known: did you mean aluminium 6061? otherwise describe it under materials:`,
			`slips.yaml:52:5: order K-1 (cover): unknown key "quantitiy": did you mean quantity?`,
			`slips.yaml:59:15: order K-2 (spacer): diameter is 2, without a unit: write diameter_mm: 2, or a unit behind the number, such as 1/8 in`,
			`slips.yaml:65:10: order K-2 (spacer): due is "3/12/2026": write year-month-day, such as 2026-12-02`,
		}},
		{"no-stock.yaml", []string{
			`no-stock.yaml:43:5: order K-1 (cover): no stock of aluminium 6061 3 mm: add under stock: material: aluminium 6061, thickness_mm: 3, width_mm, height_mm, count, cost; there is 2 mm`,
		}},
		{"table.yaml", []string{
			`table.csv:3:25: order K-2 (lid): height_mm is "9O": write a number, such as 12.5`,
			`table.csv:4: order K-2 (base): quantity is missing: say how many, such as quantity: 12`,
			`table.csv:4:1: order K-2 (base): id K-2 is used twice, first at table.csv:3:1: give each order its own id, such as K-104/2`,
			`table.csv:4:47: order K-2 (base): due is "31.11.2026": there is no such day; write year-month-day`,
			`table.csv:5:11: order K-4 (plate): shape is "rectangel": did you mean rectangle? use rectangle, disc, ring, flange, polygon, obround or outline`,
			`table.csv:5:32: order K-4 (plate): material "aluminium 6O61" is not known: did you mean aluminium 6061? otherwise describe it under materials:`,
		}},
	}
	for _, tt := range tests {
		_, err := Load(fsys, tt.file)
		if err == nil {
			t.Errorf("%s: no problem found", tt.file)
			continue
		}
		if got, want := err.Error(), strings.Join(tt.want, "\n"); got != want {
			t.Errorf("%s: got\n%s\nwant\n%s", tt.file, got, want)
		}
	}
}

// A job as an editor on Windows saves it is no mistake.
func TestCRLFJob(t *testing.T) {
	data, err := fs.ReadFile(os.DirFS(root), "testdata/mistakes/crlf.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(data), "\r\n") || !strings.HasPrefix(string(data), "\ufeff") {
		t.Fatal("crlf.yaml has lost its carriage returns or its mark")
	}
	j, err := Load(os.DirFS(root), "testdata/mistakes/crlf.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if got, want := ordersText(j), ordersText(mustLoad(t, Example())); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
