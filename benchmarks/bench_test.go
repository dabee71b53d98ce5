package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/verify"
)

// TestBuiltInTile checks that every built-in instance has exactly the area its
// known optimum claims, and that all its pieces are convex.
func TestBuiltInTile(t *testing.T) {
	for _, in := range builtIn() {
		want := in.StripWidth * in.BestLength
		if !in.strip() {
			want = float64(in.Optimum) * in.Bin[0] * in.Bin[1]
		}
		if in.area() != want {
			t.Errorf("%s: area %v, want %v", in.Name, in.area(), want)
		}
		for _, p := range in.Parts {
			if !geom.IsConvex(p.Outline[0]) {
				t.Errorf("%s: piece %s is not convex", in.Name, p.ID)
			}
		}
		if err := in.check(); err != nil {
			t.Errorf("%s: %v", in.Name, err)
		}
	}
}

// TestCutPiecesTile cuts squares: no two pieces overlap and together they have
// the square's area, so they cover it; and the same seed cuts alike.
func TestCutPiecesTile(t *testing.T) {
	for n := 2; n < 30; n += 3 {
		pieces := cutSquare(n, rand.New(rand.NewPCG(uint64(n), 1)))
		again := cutSquare(n, rand.New(rand.NewPCG(uint64(n), 1)))
		area := 0.0
		for i, p := range pieces {
			area += geom.RingArea(p)
			if !orb.Equal(p, again[i]) {
				t.Fatal("the same seed cuts differently")
			}
			for _, q := range pieces[:i] {
				if geom.InteriorsOverlap(orb.Polygon{p}, orb.Polygon{q}) {
					t.Errorf("%d pieces: two overlap", n)
				}
			}
		}
		if area != jigsawSide*jigsawSide {
			t.Errorf("%d pieces: area %v", n, area)
		}
	}
}

// TestRunWritesVerifiedLayouts runs the command on a built-in instance and
// reads back what it wrote.
func TestRunWritesVerifiedLayouts(t *testing.T) {
	dir := t.TempDir()
	var out, talk bytes.Buffer
	code := run(context.Background(), []string{"-instances", "jigsaw08,jigsaw5x6", "-search", "bottom-left,genetic", "-effort", "0.05", "-out", dir}, &out, &talk)
	if code != 0 {
		t.Fatalf("exit %d: %s", code, talk.String())
	}
	for _, want := range []string{"seed 1, effort 0.05, 2 workers", "jigsaw08", "known length 1000", "bins by genetic"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the output does not say %q:\n%s", want, out.String())
		}
	}
	var strip, bins layoutFile
	readBack(t, filepath.Join(dir, "jigsaw08-genetic.json"), &strip)
	readBack(t, filepath.Join(dir, "jigsaw5x6-bottom-left.json"), &bins)
	if len(strip.Placements) != 8 || strip.Length < 1000 {
		t.Errorf("strip: %d placements, length %v", len(strip.Placements), strip.Length)
	}
	n := 0
	for _, b := range bins.Bins {
		n += len(b)
	}
	if n != 30 {
		t.Errorf("bins: %d placements, want 30", n)
	}
	curve, err := os.ReadFile(filepath.Join(dir, "jigsaw08-genetic.csv"))
	if err != nil || !strings.HasPrefix(string(curve), "seconds,density_percent,bins\n0.") {
		t.Errorf("curve %q, error %v", curve, err)
	}
}

func readBack(t *testing.T, file string, into *layoutFile) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatal(err)
	}
}

// TestJudgesRefuse moves a part of a legal layout into its neighbour, and takes
// one away: both judges or at least the first must object.
func TestJudgesRefuse(t *testing.T) {
	in := jigsawStrip(8, 8)
	r, err := nest.BottomLeft(t.Context(), in.problem(), nil, nest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if faults := judge(in, r); len(faults) > 0 {
		t.Fatalf("a legal layout is refused: %v", faults)
	}
	placed := r.Layouts[0].Placements
	placed[3].Pose.X -= 5
	placed[3].Pose.Y -= 5
	if faults := oracle(in, 0, r.Layouts[0]); len(faults) == 0 {
		t.Error("the second judge lets an overlap pass")
	}
	if faults := judge(in, r); len(faults) < 2 {
		t.Errorf("the judges do not both object: %v", faults)
	}
	placed[3].Pose.X += 5
	placed[3].Pose.Y += 5
	r.Layouts[0].Placements = placed[:7]
	if faults := judge(in, r); len(faults) == 0 {
		t.Error("a missing part goes unnoticed")
	}
}

func TestWrongCalls(t *testing.T) {
	for _, args := range [][]string{
		{"-instances", "nothing-of-that-name"},
		{"-search", "guess", "-instances", "squares21"},
		{"-effort", "-1"},
		{"-data", "no/such/folder", "-instances", "strip"},
		{"no-such-file.json"},
	} {
		var out, talk bytes.Buffer
		if code := run(context.Background(), args, &out, &talk); code != 2 || talk.Len() == 0 {
			t.Errorf("%v: exit %d, said %q", args, code, talk.String())
		}
	}
}

// TestPublishedMeans recomputes the means printed in the summary from the rows.
func TestPublishedMeans(t *testing.T) {
	mean := func(of func(published) float64) float64 {
		sum := 0.0
		for _, name := range theTwelve {
			sum += of(publishedDensities[name])
		}
		return sum / float64(len(theTwelve))
	}
	for _, c := range []struct{ got, want float64 }{
		{mean(func(p published) float64 { return p.cuckooAvg }), publishedMeans.cuckooAvg},
		{mean(func(p published) float64 { return p.rasterAvg }), publishedMeans.rasterAvg},
		{mean(func(p published) float64 { return p.separateAvg }), publishedMeans.separateAvg},
	} {
		if c.got < c.want-0.06 || c.got > c.want+0.06 {
			t.Errorf("mean %.3f, the summary prints %v", c.got, c.want)
		}
	}
}

// TestShopInstancesAreSound checks what is generated: valid, simple outlines,
// the number of copies the name says, and the same each time.
func TestShopInstancesAreSound(t *testing.T) {
	for i, in := range append(gaskets(), mixes()...) {
		if err := in.check(); err != nil {
			t.Errorf("%s: %v", in.Name, err)
		}
		if report := verify.Check(in.layout(nest.Result{})); len(report.Violations) > 0 && report.Violations[0].Kind == verify.BadOutline {
			t.Errorf("%s: %s", in.Name, report.Violations[0].Text)
		}
		want := map[string]int{gasketSet: 500, mixSet: 1000}[in.Set]
		switch {
		case in.Name == "mix10000":
			want = 10000
		case strings.HasSuffix(in.Name, "-2000"):
			want = 2000
		}
		if in.copies() != want {
			t.Errorf("%s: %d copies, want %d", in.Name, in.copies(), want)
		}
		again := append(gaskets(), mixes()...)[i]
		for k, p := range in.Parts {
			if !orb.Equal(p.Outline, again.Parts[k].Outline) || p.Quantity != again.Parts[k].Quantity {
				t.Errorf("%s: part %s differs the second time", in.Name, p.ID)
			}
		}
	}
}

// BenchmarkFirstPlan lays the mixes out in one pass: what a plan begins with.
func BenchmarkFirstPlan(b *testing.B) {
	for _, in := range mixes() {
		b.Run(in.Name, func(b *testing.B) {
			p := in.problem()
			for b.Loop() {
				if _, err := nest.BottomLeft(b.Context(), p, nil, nest.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
