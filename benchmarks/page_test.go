package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest"
)

// TestPageIsThatOfTheRecords makes text and plots from the committed records
// again: they must be the committed ones, so that neither drifts from the other.
func TestPageIsThatOfTheRecords(t *testing.T) {
	records, err := readRecords(".")
	if err != nil {
		t.Fatal(err)
	}
	files, err := textAndPlots(records)
	if err != nil {
		t.Fatal(err)
	}
	sameAsCommitted(t, files)
}

// TestPicturesAreThoseOfTheRecords does so for the pictures.
func TestPicturesAreThoseOfTheRecords(t *testing.T) {
	records, err := readRecords(".")
	if err != nil {
		t.Fatal(err)
	}
	files, err := page{dir: ".", data: datasets(t), talk: io.Discard}.pictures(records)
	if err != nil {
		t.Fatal(err)
	}
	sameAsCommitted(t, files)
}

func sameAsCommitted(t *testing.T, files []madeFile) {
	t.Helper()
	for _, f := range files {
		committed, err := os.ReadFile(f.name)
		if err != nil || !bytes.Equal(committed, f.data) {
			t.Errorf("%s is not what the records give (error %v); remake it with: go run ./benchmarks page", f.name, err)
		}
	}
}

// TestKeptLayoutsStand has the judges examine every layout the page links to, and
// measures it again.
func TestKeptLayoutsStand(t *testing.T) {
	records, err := readRecords(".")
	if err != nil {
		t.Fatal(err)
	}
	known, err := settings{data: datasets(t), instances: "all"}.load(io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	linked := map[string]bool{}
	for _, r := range newest(records) {
		linked[r.Layout] = true
		i := slices.IndexFunc(known, func(in instance) bool { return in.Name == r.Instance })
		switch {
		case i < 0 || known[i].digest() != r.Problem:
			t.Errorf("%s: the instance is not as it was recorded; record it anew, or take its records out", r.key())
		case r.Layout != "":
			standsAsRecorded(t, known[i], r)
		}
	}
	files, err := filepath.Glob("results/layouts/*")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !linked["layouts/"+filepath.Base(f)] {
			t.Errorf("%s belongs to no record that is shown", f)
		}
	}
}

func standsAsRecorded(t *testing.T, in instance, r record) {
	t.Helper()
	result, err := readKept(".", r.Layout, in)
	if err != nil {
		t.Error(err)
		return
	}
	if !in.strip() && len(result.Layouts) < r.Bins {
		return // only the first sheets are kept, which the judges cannot find complete
	}
	for _, fault := range judge(in, result) {
		t.Errorf("%s: %s", r.Layout, fault)
	}
	area := in.StripWidth * result.Length
	if !in.strip() {
		area = float64(len(result.Layouts)) * in.Bin[0] * in.Bin[1]
	}
	if density := rounded(100*in.area()/area, 4); density != r.Density {
		t.Errorf("%s: density %v, recorded %v", r.Layout, density, r.Density)
	}
}

// TestPublishedFiguresStand checks that every strip of the page has a published
// average, that no average exceeds its best, and that what is marked as from
// memory is a figure.
func TestPublishedFiguresStand(t *testing.T) {
	for _, name := range append([]string{"shapes2"}, theTwelve...) {
		p, m := publishedDensities[name], fromMemory[name]
		if p.hybrid2006 == 0 || p.cuckooAvg == 0 || p.rasterAvg == 0 || p.separateAvg == 0 {
			t.Errorf("%s: a published figure is missing: %+v", name, p)
		}
		if p.cuckooAvg > p.cuckooBest || p.separateAvg > p.separateB || p.rasterBest != 0 && p.rasterAvg > p.rasterBest {
			t.Errorf("%s: an average exceeds its best: %+v", name, p)
		}
		for _, c := range publishedColumns {
			if c.of(m) != 0 && c.of(p) == 0 {
				t.Errorf("%s: %s is marked as from memory and not given", name, c.title)
			}
		}
	}
	if len(publishedDensities) != len(theTwelve)+1 {
		t.Errorf("%d strips have published figures", len(publishedDensities))
	}
}

// TestSeriesAreSound checks that every series names searches and sets that exist.
func TestSeriesAreSound(t *testing.T) {
	public := []string{"strip", "terashima1", "terashima2"}
	for _, s := range allSeries {
		if _, err := s.ways(); err != nil || s.seconds <= 0 {
			t.Errorf("%s: %v, %v s", s.name, err, s.seconds)
		}
		for _, set := range strings.Split(s.instances, ",") {
			list := generated()
			for _, p := range public {
				list = append(list, instance{Set: p})
			}
			if _, err := choose(list, set); err != nil {
				t.Errorf("%s: %v", s.name, err)
			}
		}
	}
}

// TestViewSortsRecords gives each kind of record and reads where it ends up.
func TestViewSortsRecords(t *testing.T) {
	v := viewOf([]record{
		{Instance: "swim", Set: "strip", Length: 1},
		{Instance: "swim", Set: "strip", Search: "genetic", Fault: "two parts overlap"},
		{Instance: "a", Set: builtInSet, Bins: 1, Optimum: 1},
		{Instance: "b", Set: "terashima1", Bins: 1, Optimum: 1},
		{Instance: "c", Set: "many", Bins: 9, AtLeast: 8},
	})
	for name, list := range map[string][]record{"swim": v.strips, "a": v.builtIn, "b": v.bins, "c": v.families} {
		if len(list) != 1 || list[0].Instance != name {
			t.Errorf("%s: %v", name, list)
		}
	}
	if len(v.refused) != 1 {
		t.Errorf("%d refused", len(v.refused))
	}
}

// TestMeanNeedsAllTwelve takes one of the twelve away.
func TestMeanNeedsAllTwelve(t *testing.T) {
	var list []record
	for i, name := range theTwelve {
		list = append(list, record{Instance: name, Length: 1, Density: float64(80 + i)})
	}
	if mean, ok := meanOfTwelve(list, column{}); !ok || mean != 85.5 {
		t.Errorf("mean %v, %v", mean, ok)
	}
	if _, ok := meanOfTwelve(list[1:], column{}); ok {
		t.Error("eleven have a mean of twelve")
	}
}

// TestAimsFollowTheRecords gives figures on either side of some aims.
func TestAimsFollowTheRecords(t *testing.T) {
	row := func(v view) string {
		var text bytes.Buffer
		v.aimTable(&text)
		return text.String()
	}
	if text := row(view{}); strings.Count(text, "| not recorded |  |") != len(aims) {
		t.Errorf("without records: %s", text)
	}
	late := curveOf{{1, 70, 0}, {40, 77.5, 0}}
	v := view{
		strips: []record{
			{Instance: "swim", Search: "solve", Limit: 600, Density: 76.9, Parts: 48},
			{Instance: "swim", Search: "separate", Limit: 600, Density: 77.5, Parts: 48},
			{Instance: "shirts", Search: "solve", Limit: 600, Density: 88.9, Parts: 99},
			{Instance: "swim", Search: "solve", Limit: 60, Density: 77.5, Parts: 48, Curve: late},
		},
		families: []record{
			{Instance: "mix1000", Search: "solve", Limit: 60, Seed: 1, Workers: 2, Density: 79.3, Kinds: 40, Curve: curveOf{{4.5, 70, 9}}},
			{Instance: "mix1000", Search: "solve", Limit: 600, Seed: 1, Workers: 2, Density: 80.2, Kinds: 40},
			{Instance: "mix10000", Search: "solve", Limit: 60, Seed: 1, Workers: 2, PeakMB: 2100, Kinds: 200, Curve: curveOf{{61, 70, 9}}},
			{Instance: "tee", Search: "solve", Limit: 60, Seed: 1, Workers: 2, Density: 80, Kinds: 1, Lattice: 96.4, Copies: 96, Clipped: 100, Fullest: 88},
			{Instance: "tee", Search: "lattice", Limit: 60, Seed: 1, Workers: 2, Density: 80, Kinds: 1, Fullest: 89},
		},
		bins: []record{
			{Search: "solve", Limit: 60, Bins: 3, Optimum: 3, F: 1},
			{Search: "solve", Limit: 60, Bins: 5, Optimum: 3, F: 0.5},
		},
	}
	text := row(v)
	for _, want := range []string{
		"| swim, 10 min | ≥ 77 % | 77.50 % (separate", "workers) | yes |",
		"| shirts, 10 min | ≥ 89 % | 88.90 % (solve", "| no |", "1 of 1 rise after 30 s",
		"| ≥ 60 % at the optimum | 1 of 2 (", "| none worse than optimum + 1 | optimum + 2 (", "| mean F ≥ 0.85 | 0.750 (",
		"| 0 of 1; thinner: tee 80.00 against 80.00 %, fullest sheet 88.00 against 89.00 % | no |", "| a complete plan in 5 s | 4.5 s | yes |", "| 79.30 % and 80.20 % | no |",
		"| 0 of 1; less: tee 96.4 % | no |", "| 0 of 1; less: tee 96/100, 96.0 % | no |", "| a complete plan in 60 s | 61.0 s | no |", "| 2100 MiB | no |",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	v.strips[3].Curve = late[:1]
	if text := row(v); !strings.Contains(text, "0 of 1 rise after 30 s") || !strings.Contains(text, "flat: swim | no |") {
		t.Errorf("a plateau is not told: %s", text)
	}
}

// TestCurveFigures reads a small curve by hand.
func TestCurveFigures(t *testing.T) {
	c := curveOf{{1, 40, 0}, {4, 79.2, 0}, {31, 79.995, 0}, {50, 80, 0}}
	for name, p := range map[string][2]float64{
		"first": {c.first(), 1}, "last rise": {c.lastRise(), 50}, "settled": {c.settled(), 31}, "99 %": {c.reaches(0.99), 4},
		"at 0.5 s": {c.at(0.5), 0}, "at 1 s": {c.at(1), 40}, "at 30 s": {c.at(30), 79.2}, "at 99 s": {c.at(99), 80}, "share": {c.shareAt(2), 50},
	} {
		if p[0] != p[1] {
			t.Errorf("%s: %v, want %v", name, p[0], p[1])
		}
	}
	for _, v := range []struct {
		parts int
		limit float64
		c     curveOf
		want  string
	}{{41, 60, c, "rises"}, {40, 60, c, ""}, {41, 30, c, ""}, {41, 60, c[:2], "flat"}} {
		if got := (record{Parts: v.parts, Limit: v.limit, Curve: v.c}).rises(); got != v.want {
			t.Errorf("%d parts, %g s: %q, want %q", v.parts, v.limit, got, v.want)
		}
	}
	var none curveOf
	if none.at(1)+none.shareAt(1)+none.first()+none.settled()+none.lastRise()+none.reaches(1) != 0 {
		t.Error("an empty curve has figures")
	}
}

// TestEqualSheetsAreKeptOnce keeps a plan of equal sheets and reads it back.
func TestEqualSheetsAreKeptOnce(t *testing.T) {
	in := instance{
		Name: "squares", Bin: [2]float64{100, 100},
		Parts: []part{{ID: "s", Quantity: 5, Angles: []float64{0}, Outline: orb.Polygon{geom.RectRing(0, 0, 70, 70)}}},
	}
	r, err := nest.BottomLeft(t.Context(), in.problem(), nil, nest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := keepLayout(dir, outcome{in: in, result: r}, budget{}, "layouts/s.json"); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(dir, "results/layouts/s.json"))
	if err != nil || bytes.Count(data, []byte("rotation_deg")) != 1 || !bytes.Contains(data, []byte(`"times":[5]`)) {
		t.Errorf("error %v, kept %s", err, data)
	}
	kept, err := readKept(dir, "layouts/s.json", in)
	if err != nil || len(judge(in, kept)) > 0 || len(kept.Layouts) != 5 {
		t.Errorf("error %v, read %+v", err, kept)
	}
	picture := drawLayout(in, stacks(kept.Layouts), record{Bins: 5})
	if bytes.Count(picture, []byte("<use ")) != 1 || !bytes.Contains(picture, []byte("5 sheets like this")) {
		t.Errorf("picture %s", picture)
	}
}

// TestBigLayoutsAreCutToWholeSheets keeps a plan of more parts than are kept, and
// draws it within the bytes a picture may have.
func TestBigLayoutsAreCutToWholeSheets(t *testing.T) {
	in := jigsawBins(26, 25, 3)
	r, err := searches[1].run(t.Context(), in.problem(), nest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	o := outcome{in: in, search: "bottom-left", result: r}
	dir := t.TempDir()
	if err := keepLayout(dir, o, budget{}, "layouts/big.json"); err != nil {
		t.Fatal(err)
	}
	kept, err := readKept(dir, "layouts/big.json", in)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for i, l := range kept.Layouts {
		n += len(l.Placements)
		if len(l.Placements) != len(r.Layouts[i].Placements) {
			t.Errorf("sheet %d has %d parts, want %d", i+1, len(l.Placements), len(r.Layouts[i].Placements))
		}
	}
	if n > keptMost || n < keptMost/2 {
		t.Errorf("%d parts are kept of %d", n, in.copies())
	}
	rec := recordOf(o, budget{})
	rec.Layout = "layouts/big.json"
	data, err := page{dir: dir}.picture(in, rec)
	if err != nil || len(data) > mostPictureBytes || !bytes.Contains(data, fmt.Appendf(nil, " of %d sheets", len(r.Layouts))) {
		t.Errorf("%d bytes, error %v", len(data), err)
	}
}

// TestArmSection counts who found the layouts of all searches together, and leaves
// out single searches and records that do not say.
func TestArmSection(t *testing.T) {
	strip := func(name, search, won string) record {
		return record{Instance: name, Set: "strip", Search: search, Limit: 60, Seed: 1, Workers: 2, Length: 1, Density: 50, Won: won}
	}
	v := viewOf([]record{
		strip("albano", "solve", "separation"), strip("dagli", "solve", "separation"), strip("fu", "solve", "genetic"),
		strip("mao", "solve", ""), strip("swim", "genetic", "genetic"),
	})
	var text bytes.Buffer
	v.page(&text)
	for _, want := range []string{"| set | limit | instances | genetic | separation |", "| strip | 60 s | 3 | 1 | 2 |"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the page lacks %q:\n%s", want, text.String())
		}
	}
}

// TestRiseAim judges the curves of one limit by the instances that are large enough.
func TestRiseAim(t *testing.T) {
	curve := func(at float64) curveOf { return curveOf{{1, 40, 0}, {at, 50, 0}} }
	strip := func(name string, parts int, limit, at float64) record {
		return record{Instance: name, Set: "strip", Search: "solve", Limit: limit, Seed: 1, Workers: 2, Length: 1, Density: 50, Parts: parts, Curve: curve(at)}
	}
	v := viewOf([]record{
		strip("shirts", 99, 60, 20), strip("swim", 48, 60, 40), strip("fu", 12, 60, 2),
		strip("shirts", 99, 600, 400), strip("swim", 48, 600, 40), strip("fu", 12, 600, 2),
	})
	for _, c := range []struct {
		limit float64
		said  string
		met   bool
	}{
		{60, "1 of 2 rise after 30 s (solve, 60 s); flat: shirts", false},
		{600, "2 of 2 rise after 30 s (solve, 10 min)", true},
		{1200, "", false},
	} {
		if said, met := riseAim(c.limit)(v); said != c.said || met != c.met {
			t.Errorf("%g s: %q %v, want %q %v", c.limit, said, met, c.said, c.met)
		}
	}
}
