package week

import (
	"math"
	"math/rand/v2"
	"testing"
)

// smallMix draws a mix that can be enumerated: few columns, few repeats, costs
// with a step at every full stack.
func smallMix(rng *rand.Rand) *mix {
	m := &mix{missing: 2000, fixed: float64(rng.IntN(3) * 4)}
	for range 1 + rng.IntN(4) {
		want := 1 + rng.IntN(7)
		m.want, m.most = append(m.want, want), append(m.most, want+rng.IntN(3))
		m.surplus = append(m.surplus, rng.Float64()*8)
	}
	for range 1 + rng.IntN(2) {
		m.sheets = append(m.sheets, 1+rng.IntN(5))
	}
	if rng.IntN(3) == 0 {
		m.cap = 1 + rng.IntN(3)
	}
	for range 2 + rng.IntN(4) {
		m.columns = append(m.columns, smallColumn(rng, m))
	}
	return m
}

func smallColumn(rng *rand.Rand, m *mix) column {
	c := column{sheet: rng.IntN(len(m.sheets)), curve: []float64{0}}
	for i := range m.want {
		if n := rng.IntN(4); n > 0 {
			c.counts = append(c.counts, copies{i, n})
		}
	}
	if len(c.counts) == 0 {
		c.counts = []copies{{0, 1}}
	}
	sheet, run := 5+20*rng.Float64(), 20*rng.Float64()
	depth := 1 + rng.IntN(3)
	for n := 1; n <= 4; n++ {
		runs := (n + depth - 1) / depth
		c.curve = append(c.curve, sheet*float64(n)+run*float64(runs)+rng.Float64())
	}
	return c
}

// everyBlend is the least money of all blends, by trying every one.
func everyBlend(m *mix) float64 {
	best := math.Inf(1)
	repeats := make([]int, len(m.columns))
	for {
		used, cut, layouts, money := make([]int, len(m.sheets)), make([]int, len(m.want)), 0, 0.0
		for j, n := range repeats {
			if n == 0 {
				continue
			}
			layouts++
			money += m.columns[j].curve[n] + m.fixed
			used[m.columns[j].sheet] += n
			for _, k := range m.columns[j].counts {
				cut[k.part] += n * k.n
			}
		}
		legal := m.cap == 0 || layouts <= m.cap
		for k, n := range used {
			legal = legal && n <= m.sheets[k]
		}
		for i, n := range cut {
			money += m.missing*float64(max(0, m.want[i]-n)) + m.surplus[i]*float64(max(0, n-m.most[i]))
		}
		if legal {
			best = math.Min(best, money)
		}
		j := 0
		for ; j < len(repeats); j++ {
			if repeats[j]++; repeats[j] <= m.columns[j].most() {
				break
			}
			repeats[j] = 0
		}
		if j == len(repeats) {
			return best
		}
	}
}

// The integer step is never worse than trying everything, its bounds lie below
// it, and it says when it is sure.
func TestIntegerStepAgainstEnumeration(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	for n := range 200 {
		m := smallMix(rng)
		a, err := m.solve(nil, 5000, 1)
		if err != nil {
			t.Fatalf("case %d: %v", n, err)
		}
		want := everyBlend(m)
		if math.Abs(a.money-want) > 1e-6*want {
			t.Errorf("case %d: %v, but %v is possible", n, a.money, want)
		}
		if a.relaxed > want+1e-6 || a.bound > want+1e-3 {
			t.Errorf("case %d: bounds %v and %v lie above the optimum %v", n, a.relaxed, a.bound, want)
		}
		if !a.proven {
			t.Errorf("case %d: not proven after %d nodes", n, a.nodes)
		}
		b, ok := m.blend(a.repeats)
		if !ok || math.Abs(b.exact()-a.money) > 1e-9 {
			t.Errorf("case %d: the repeats give %v, allowed %v, not %v", n, b.money, ok, a.money)
		}
	}
}

// With next to no nodes the bounds stay bounds and the blend stays legal.
func TestHurriedIntegerStepIsHonest(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	for n := range 200 {
		m := smallMix(rng)
		a, err := m.solve(nil, 3, 1)
		if err != nil {
			t.Fatalf("case %d: %v", n, err)
		}
		want := everyBlend(m)
		if a.money < want-1e-6 || a.relaxed > want+1e-6 || a.bound > want+1e-3 {
			t.Errorf("case %d: %v, relaxed %v, bound %v; the optimum is %v", n, a.money, a.relaxed, a.bound, want)
		}
		if a.proven && a.money > want+1e-3 {
			t.Errorf("case %d: %v is called proven, but %v is possible", n, a.money, want)
		}
		if _, ok := m.blend(a.repeats); !ok {
			t.Errorf("case %d: too many sheets or layouts", n)
		}
	}
}

// A start is kept when nothing better is found.
func TestIntegerStepKeepsItsStart(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 9))
	for n := range 50 {
		m := smallMix(rng)
		full, err := m.solve(nil, 5000, 1)
		if err != nil {
			t.Fatal(err)
		}
		hurried, err := m.solve([][]int{full.repeats}, 1, 1)
		if err != nil {
			t.Fatal(err)
		}
		if hurried.money > full.money+1e-9 {
			t.Errorf("case %d: %v, though it began with %v", n, hurried.money, full.money)
		}
	}
}
