package shop

import (
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func readDone(name, text string) (*Done, error) {
	return ReadDone(fstest.MapFS{name: {Data: []byte(text)}}, name)
}

// The same work as a table and as YAML.
func TestDoneIsRead(t *testing.T) {
	want := &Done{Lines: []DoneLine{
		{Layout: "G1-L1", Cut: 2, Scrapped: []Scrap{{"S-101", 2}, {"S-1:2", 1}}},
		{Layout: "G2-L1", Cut: 0},
	}}
	table, err := readDone("d.csv", "Layout;Cut;Scrapped\nG1-L1;2;S-101: 2 | S-1:2: 1\n\nG2-L1;0;\n")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, table, cmpopts.IgnoreFields(DoneLine{}, "At")); diff != "" {
		t.Error(diff)
	}
	if at := table.Lines[1].At; at.Line != 4 || at.File != "d.csv" {
		t.Errorf("the second line is at %v", at.Where())
	}
	yaml, err := readDone("d.yaml", "from: 2026-12-02 10:30\ndone:\n  - {layout: G1-L1, cut: 2, scrapped: {S-101: 2, \"S-1:2\": 1}}\n  - layout: G2-L1\n    cut: 0\n")
	if err != nil {
		t.Fatal(err)
	}
	want.From, want.FromSec = time.Date(2026, 12, 2, 0, 0, 0, 0, time.UTC), 10.5*3600
	if diff := cmp.Diff(want, yaml, cmpopts.IgnoreFields(DoneLine{}, "At")); diff != "" {
		t.Error(diff)
	}
}

func TestDoneMistakes(t *testing.T) {
	for _, c := range []struct{ name, text, says string }{
		{"d.csv", "layout,cut\nG1-L1,two\n", "d.csv:2:7: layout G1-L1: cut is \"two\""},
		{"d.csv", "layout,cut\nG1-L1,1\nG1-L1,1\n", "d.csv:3:1: layout G1-L1: G1-L1 is listed twice, first at d.csv:2"},
		{"d.csv", "layout,cut,scrapped\nG1-L1,1,S-101\n", "write the order and how many"},
		{"d.csv", "layout,cut,scrapped\nG1-L1,1,S-101: -2\n", "write the order and how many"},
		{"d.csv", "layout,cut\n,1\n", "layout is missing"},
		{"d.csv", "layout,cut\nG1-L1,\n", "cut is missing"},
		{"d.csv", "layout,cut\n", "nothing is done"},
		{"d.yaml", "done:\n  - {layout: G1-L1, cat: 2}\n", "did you mean cut?"},
		{"d.yaml", "from: soon\ndone:\n  - {layout: G1-L1, cut: 2}\n", "from is \"soon\""},
		{"d.yaml", "", "nothing is done"},
	} {
		if _, err := readDone(c.name, c.text); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: no %q in %v", c.text, c.says, err)
		}
	}
	if _, err := ReadDone(fstest.MapFS{}, "none.csv"); err == nil || !strings.Contains(err.Error(), "cannot be read") {
		t.Errorf("no file: %v", err)
	}
}
