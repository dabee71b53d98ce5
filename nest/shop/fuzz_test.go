package shop

import (
	"math"
	"os"
	"testing"
	"testing/fstest"

	"kerfold/geom"
)

// checkJob holds whatever a reader accepts to what the types promise.
func checkJob(t *testing.T, j *Job, err error) {
	if (j == nil) == (err == nil) {
		t.Fatalf("job %v and error %v", j, err)
	}
	if j == nil {
		return
	}
	ids := map[string]bool{}
	for i := range j.Orders {
		o := &j.Orders[i]
		if ids[o.ID] || o.Quantity < 1 || o.Extra < 0 || !(o.ThicknessMM > 0) || len(o.Angles) == 0 || o.Grade == 0 {
			t.Fatalf("order %+v", o)
		}
		ids[o.ID] = true
		if a := o.Shape.Area(); !(a > 0) || math.IsInf(a, 0) {
			t.Fatalf("order %s: area %v", o.ID, a)
		}
		b := o.Shape.Bounds()
		if b.Min[0] < -geom.Grid || b.Min[1] < -geom.Grid || b.Max[0] > geom.MaxCoordinate || b.Max[1] > geom.MaxCoordinate {
			t.Fatalf("order %s: box %v", o.ID, b)
		}
		if _, ok := j.Materials[o.Material]; !ok {
			t.Fatalf("order %s: material %q is not in the table", o.ID, o.Material)
		}
	}
	if len(j.Days) == 0 || len(j.Machines) == 0 {
		t.Fatalf("%d days, %d machines", len(j.Days), len(j.Machines))
	}
}

func FuzzJob(f *testing.F) {
	f.Add([]byte(base + oneOrder))
	f.Add([]byte(Example()))
	for _, name := range []string{"../../testdata/week/week.yaml", "testdata/broken/week.yaml"} {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte("a: &a [*a, *a]\n<<: *a\n? b\n: c"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		j, err := Load(fstest.MapFS{"week.yaml": {Data: data}, "orders.csv": {Data: []byte(plainTable)}}, "week.yaml")
		checkJob(t, j, err)
	})
}

func FuzzTable(f *testing.F) {
	f.Add([]byte(plainTable))
	f.Add([]byte("sep=;\nid;shape\n\"a\"\"b\";disc\n"))
	data, err := os.ReadFile("../../testdata/week/orders.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		j, err := Load(fstest.MapFS{"week.yaml": {Data: []byte(tableJob)}, "orders.csv": {Data: data}}, "week.yaml")
		checkJob(t, j, err)
	})
}

func FuzzWorkbook(f *testing.F) {
	f.Add([]byte("PK\x03\x04"))
	f.Add([]byte(workbook(f, map[string][][]any{"week": weekRows()}, nil)))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		j, err := Load(fstest.MapFS{"week.yaml": {Data: []byte(base + "order_tables: [orders.xlsx]\n")}, "orders.xlsx": {Data: data}}, "week.yaml")
		checkJob(t, j, err)
	})
}

func FuzzRegister(f *testing.F) {
	f.Add([]byte("version: 1\nstock:\n  - {material: cork, thickness_mm: 3, width_mm: 10, height_mm: 20, blocked: [{points_mm: [[0, 0, 1], [5, 0, 1]]}]}\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		stock, _, err := LoadRegister(fstest.MapFS{"rack.yaml": {Data: data}}, "rack.yaml", nil)
		if err != nil {
			return
		}
		again, _, err := LoadRegister(fstest.MapFS{"rack.yaml": {Data: MarshalRegister(stock)}}, "rack.yaml", nil)
		if err != nil || len(again) != len(stock) {
			t.Fatalf("%d lines written, %d read: %v\n%s", len(stock), len(again), err, MarshalRegister(stock))
		}
	})
}

func FuzzDone(f *testing.F) {
	f.Add("layout,cut,scrapped\nG1-L1,2,S-101: 2 | S-102: 1\n", true)
	f.Add("from: 2026-12-02 10:30\ndone:\n  - {layout: G1-L1, cut: 2, scrapped: {S-101: 2}}\n", false)
	f.Add("layout;cut\nG1-L1;1\n", true)
	f.Add("done: []\n", false)
	f.Fuzz(func(t *testing.T, text string, table bool) {
		name := "d.yaml"
		if table {
			name = "d.csv"
		}
		d, err := ReadDone(fstest.MapFS{name: {Data: []byte(text)}}, name)
		if (d == nil) == (err == nil) {
			t.Fatalf("done %v and error %v", d, err)
		}
		if d == nil {
			return
		}
		seen := map[string]bool{}
		for _, l := range d.Lines {
			if l.Layout == "" || seen[l.Layout] || l.Cut < 0 || l.At.File != name {
				t.Fatalf("line %+v", l)
			}
			seen[l.Layout] = true
			for _, s := range l.Scrapped {
				if s.Order == "" || s.Count < 1 {
					t.Fatalf("scrap %+v", s)
				}
			}
		}
	})
}
