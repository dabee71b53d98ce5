package week

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// The integer step agrees with a solver that shares nothing with it, on cases
// too large to enumerate. The gate installs glpk-utils; elsewhere the test may
// have to be skipped.
func TestIntegerStepAgainstGlpsol(t *testing.T) {
	glpsol, err := exec.LookPath("glpsol")
	if err != nil {
		t.Skip("glpsol is not installed (package glpk-utils)")
	}
	cases := 50
	if testing.Short() {
		cases = 12
	}
	rng := rand.New(rand.NewPCG(11, 11))
	dir := t.TempDir()
	for n := range cases {
		m := largerMix(rng)
		a, err := m.solve(nil, 20000, 1)
		if err != nil {
			t.Fatalf("case %d: %v", n, err)
		}
		want := byGlpsol(t, glpsol, dir, m)
		if math.Abs(a.money-want) > 1e-5*want {
			t.Errorf("case %d: %v (proven %v, %d nodes), glpsol finds %v", n, a.money, a.proven, a.nodes, want)
		}
		if a.bound > want*(1+1e-5) || a.relaxed > want*(1+1e-5) {
			t.Errorf("case %d: bounds %v and %v lie above the optimum %v", n, a.relaxed, a.bound, want)
		}
	}
}

// largerMix is smallMix with more of everything.
func largerMix(rng *rand.Rand) *mix {
	m := &mix{missing: 5000, fixed: 6, sheets: []int{6 + rng.IntN(5), 2 + rng.IntN(3)}}
	for range 4 + rng.IntN(3) {
		want := 6 + rng.IntN(20)
		m.want, m.most = append(m.want, want), append(m.most, want+rng.IntN(3))
		m.surplus = append(m.surplus, 1+rng.Float64()*6)
	}
	for range 10 + rng.IntN(8) {
		m.columns = append(m.columns, largerColumn(rng, m))
	}
	if rng.IntN(3) == 0 {
		m.cap = 3 + rng.IntN(3)
	}
	return m
}

func largerColumn(rng *rand.Rand, m *mix) column {
	c := column{sheet: rng.IntN(len(m.sheets)), curve: []float64{0}}
	for i := range m.want {
		if rng.IntN(2) == 0 {
			c.counts = append(c.counts, copies{i, 1 + rng.IntN(5)})
		}
	}
	if len(c.counts) == 0 {
		c.counts = []copies{{0, 3}}
	}
	sheet, run, layer, depth := 20+10*rng.Float64(), 5+10*rng.Float64(), 4*rng.Float64(), 1+rng.IntN(4)
	for n := 1; n <= 6; n++ {
		runs := (n + depth - 1) / depth
		c.curve = append(c.curve, (sheet+layer)*float64(n)+run*float64(runs))
	}
	return c
}

// byGlpsol writes the mix as a program in which a binary stands for every
// column and number of repeats, and has it solved.
func byGlpsol(t *testing.T, glpsol, dir string, m *mix) float64 {
	t.Helper()
	name := filepath.Join(dir, "mix.lp")
	if err := os.WriteFile(name, []byte(mixText(m)), 0o600); err != nil {
		t.Fatal(err)
	}
	answer := filepath.Join(dir, "mix.txt")
	out, err := exec.Command(glpsol, "--lp", name, "--output", answer, "--cuts", "--mipgap", "0", "--tmlim", "60").CombinedOutput()
	if err != nil {
		t.Fatalf("glpsol: %v\n%s", err, out)
	}
	text, err := os.ReadFile(answer)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), "INTEGER OPTIMAL") {
		t.Fatalf("glpsol found no optimum:\n%s", out)
	}
	for line := range strings.Lines(string(text)) {
		if f := strings.Fields(line); len(f) >= 4 && f[0] == "Objective:" {
			v, err := strconv.ParseFloat(f[3], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
	}
	t.Fatalf("no objective in glpsol's answer")
	return 0
}

// mixText is a mix in the text form of linear programs that many solvers read.
func mixText(m *mix) string {
	var goal, rows, whole strings.Builder
	term := func(b *strings.Builder, c float64, name string) { fmt.Fprintf(b, " %+.12g %s\n", c, name) }
	for i := range m.want {
		term(&goal, m.missing, fmt.Sprintf("short%d", i))
		term(&goal, m.surplus[i], fmt.Sprintf("many%d", i))
		fmt.Fprintf(&rows, " low%d:\n", i)
		cutTerms(m, i, &rows, term)
		fmt.Fprintf(&rows, " + short%d >= %d\n high%d:\n", i, m.want[i], i)
		cutTerms(m, i, &rows, term)
		fmt.Fprintf(&rows, " - many%d <= %d\n", i, m.most[i])
	}
	for k := range m.sheets {
		fmt.Fprintf(&rows, " sheets%d: 0 none\n", k)
		for j, c := range m.columns {
			for n := 1; c.sheet == k && n <= c.most(); n++ {
				term(&rows, float64(n), fmt.Sprintf("z%d_%d", j, n))
			}
		}
		fmt.Fprintf(&rows, " <= %d\n", m.sheets[k])
	}
	fmt.Fprint(&rows, " cap: 0 none\n")
	for j, c := range m.columns {
		for n := 1; n <= c.most(); n++ {
			fmt.Fprintf(&rows, " + z%d_%d\n", j, n)
		}
	}
	most := m.cap
	if most == 0 {
		most = len(m.columns)
	}
	fmt.Fprintf(&rows, " <= %d\n", most)
	for j, c := range m.columns {
		fmt.Fprintf(&rows, " one%d:\n", j)
		for n := 1; n <= c.most(); n++ {
			name := fmt.Sprintf("z%d_%d", j, n)
			term(&goal, c.curve[n]+m.fixed, name)
			fmt.Fprintf(&rows, " + %s\n", name)
			fmt.Fprintf(&whole, " %s\n", name)
		}
		fmt.Fprint(&rows, " <= 1\n")
	}
	return "Minimize\n money:\n" + goal.String() + "Subject To\n" + rows.String() + "Binary\n" + whole.String() + "End\n"
}

func cutTerms(m *mix, part int, b *strings.Builder, term func(*strings.Builder, float64, string)) {
	fmt.Fprint(b, " 0 none\n")
	for j, c := range m.columns {
		for _, k := range c.counts {
			for n := 1; k.part == part && n <= c.most(); n++ {
				term(b, float64(n*k.n), fmt.Sprintf("z%d_%d", j, n))
			}
		}
	}
}
