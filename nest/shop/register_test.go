package shop

import (
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"kerfold/geom"
)

// A register written reads back the same.
func TestRegisterRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock := rapid.SliceOfN(rapid.Custom(drawStock), 0, 6).Draw(t, "stock")
		for i := range stock {
			stock[i].ID += string(rune('a' + i))
		}
		text := MarshalRegister(stock)
		got, _, err := LoadRegister(fstest.MapFS{"rack.yaml": {Data: text}}, "rack.yaml", nil)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if diff := cmp.Diff(stock, got, cmpopts.IgnoreFields(Stock{}, "Where"), cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("%s\n%s", diff, text)
		}
	})
}

func drawStock(t *rapid.T) Stock {
	word := rapid.StringMatching(`[a-z"'#:{}-][A-Za-z0-9äß "'#:,{}-]{0,12}[a-z]`)
	size := rapid.Custom(func(t *rapid.T) float64 { return geom.Snap(rapid.Float64Range(50, 3000).Draw(t, "mm")) })
	s := Stock{
		ID: word.Draw(t, "id"), Material: rapid.SampledFrom([]string{"mild steel", "cork", "alumina 85 %"}).Draw(t, "material"),
		ThicknessMM: roundThickness(rapid.Float64Range(0.1, 200).Draw(t, "thickness")),
		Count:       rapid.IntRange(0, 50).Draw(t, "count"), Cost: rapid.Float64Range(0, 1e4).Draw(t, "cost"),
		Remnant: rapid.Bool().Draw(t, "remnant"), Lot: word.Draw(t, "lot"), Location: word.Draw(t, "location"), Source: word.Draw(t, "source"),
	}
	w, h := size.Draw(t, "w"), size.Draw(t, "h")
	s.Outline = geom.RectContour(0, 0, w, h)
	switch rapid.IntRange(0, 2).Draw(t, "shape") {
	case 1: // an L
		s.Outline = geom.PolygonContour(orb.Point{0, 0}, orb.Point{w, 0}, orb.Point{w, geom.Snap(h / 2)}, orb.Point{geom.Snap(w / 3), geom.Snap(h / 2)}, orb.Point{geom.Snap(w / 3), h}, orb.Point{0, h})
	case 2: // with a bay of an arc on the right
		s.Outline = geom.Contour{{P: orb.Point{0, 0}}, {P: orb.Point{w, 0}}, {P: orb.Point{w, geom.Snap(h / 4)}, Bulge: -min(w/h, 0.5) * rapid.Float64Range(0.1, 1).Draw(t, "bulge")}, {P: orb.Point{w, geom.Snap(h / 2)}}, {P: orb.Point{w, h}}, {P: orb.Point{0, h}}}
	}
	if rapid.Bool().Draw(t, "blocked") {
		s.Blocked = []geom.Contour{geom.CircleContour(orb.Point{geom.Snap(w / 8), geom.Snap(h / 8)}, geom.Snap(min(w, h)/16))}
	}
	if rapid.Bool().Draw(t, "grain") {
		s.GrainDeg = grainDeg(rapid.Float64Range(0, 180).Draw(t, "grain"))
	}
	if rapid.Bool().Draw(t, "dated") {
		s.Since = time.Date(2026, 1, rapid.IntRange(1, 300).Draw(t, "day"), 0, 0, 0, 0, time.UTC)
	}
	return s
}

func TestRegisterBesideTheJob(t *testing.T) {
	csv := "ID;Material;Thickness mm;Width mm;Height mm;Count;Cost;Location\nS8;Test-Steel;8;1000;500;2;61,50;rack 9\n"
	job := base + "register: rack.csv\n" + strings.Replace(oneOrder, "thickness_mm: 6", "thickness_mm: 8", 1)
	j := mustLoad(t, job, "rack.csv", csv)
	s := j.Stock[1]
	if x, y := s.Size(); s.ID != "S8" || s.Material != "test steel" || x != 1000 || y != 500 || s.Cost != 61.5 || s.Count != 2 || s.Location != "rack 9" || s.Where != "rack.csv:2" {
		t.Errorf("got %+v", s)
	}
	if j.Register != "rack.csv" || !j.Registered(&s) || j.Registered(&j.Stock[0]) {
		t.Errorf("register %q, S8 in it %v, S6 in it %v", j.Register, j.Registered(&s), j.Registered(&j.Stock[0]))
	}
	if _, err := load(job, "rakc.csv", csv); err == nil || !strings.Contains(err.Error(), "register rack.csv cannot be read: there is no such file: did you mean rakc.csv?") {
		t.Errorf("got %v", err)
	}
	empty := mustLoad(t, base+"register: rack.yaml\n"+oneOrder, "rack.yaml", string(MarshalRegister(nil)))
	if len(empty.Stock) != 1 {
		t.Errorf("an empty rack adds %d lines", len(empty.Stock)-1)
	}
}

func TestRemnants(t *testing.T) {
	j := mustLoad(t, base+`  - id: R-1
    material: test steel
    thickness_mm: 6
    points_mm: [[100, 50], [700, 50], [700, 250], [100, 250]]
    blocked:
      - {points_mm: [[100, 50], [150, 50], [100, 100]]}
      - {diameter_mm: 20, x_mm: 300, y_mm: 100}
      - {width_mm: 60, height_mm: 20, x_mm: 0, y_mm: 190}
  - {id: R-2, material: test steel, thickness_mm: 6, shape: disc, diameter_mm: 300, count: 2, remnant: yes}
`+oneOrder)
	r := j.Stock[1]
	if !r.Remnant || r.Count != 1 || r.Cost != 0 {
		t.Errorf("got %+v", r)
	}
	if b := r.Outline.Bounds(); b.Min != (orb.Point{0, 0}) || b.Max != (orb.Point{600, 200}) {
		t.Errorf("the outline lies at %v", b)
	}
	want := []orb.Bound{
		{Max: orb.Point{50, 50}},
		{Min: orb.Point{290, 90}, Max: orb.Point{310, 110}},
		{Min: orb.Point{-30, 180}, Max: orb.Point{30, 200}},
	}
	for i, w := range want {
		if b := r.Blocked[i].Bounds(); b != w {
			t.Errorf("zone %d lies at %v, want %v", i+1, b, w)
		}
	}
	if j.Stock[2].AreaMM2() < 70685 || j.Stock[2].AreaMM2() > 70686 || !j.Stock[2].Remnant {
		t.Errorf("got %+v", j.Stock[2])
	}
}
