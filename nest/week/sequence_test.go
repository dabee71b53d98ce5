package week

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// always is a machine that is open day and night, so that tape and clock agree.
func always() *openHours {
	days := make([]time.Time, 400)
	hours := make([]float64, len(days))
	for i := range days {
		days[i] = time.Date(2031, 3, 3+i, 0, 0, 0, 0, time.UTC)
		hours[i] = 24
	}
	return newOpenHours(days, hours, 0, 0)
}

// shortDays is a machine open for a few seconds a day and some days not at all,
// so that small cases stretch over many days.
func shortDays(rng *rand.Rand) *openHours {
	days := make([]time.Time, 60)
	hours := make([]float64, len(days))
	for i := range days {
		days[i] = time.Date(2031, 3, 3+i, 0, 0, 0, 0, time.UTC)
		hours[i] = float64(rng.IntN(5)*20) / 3600
	}
	hours[len(hours)-1] = 1
	return newOpenHours(days, hours, 7*3600, 0)
}

// randomBench makes a small sequencing problem: machines of one table and of
// two, priorities, orders with copies to spare, days of differing length. Times
// are whole seconds, so that sums are exact.
func randomBench(rng *rand.Rand, n int) *bench {
	b := &bench{setup: float64(rng.IntN(20))}
	tables := []int{1 + rng.IntN(2), 1 + rng.IntN(2)}
	for range tables {
		if rng.IntN(2) == 0 {
			b.hours = append(b.hours, always())
		} else {
			b.hours = append(b.hours, shortDays(rng))
		}
	}
	orders := 1 + rng.IntN(n+2)
	for range orders {
		due := float64(20 + rng.IntN(150))
		if rng.IntN(2) == 0 {
			due = float64(1+rng.IntN(8)) * daySec
		}
		b.promises = append(b.promises, promise{due: due, weight: urgencyWeight(rng.IntN(5) - 2)})
	}
	for range n {
		c := chore{family: rng.IntN(3)}
		for m := range tables {
			c.on = append(c.on, newSpan(float64(rng.IntN(30)), float64(1+rng.IntN(50)), 1+rng.IntN(3), tables[m]))
		}
		if rng.IntN(5) == 0 {
			c.on[rng.IntN(2)] = span{body: math.Inf(1)}
		}
		for _, o := range rng.Perm(orders)[:min(orders, 1+rng.IntN(2))] {
			c.orders = append(c.orders, cutOf{o, 1 + rng.IntN(3)})
		}
		b.chores = append(b.chores, c)
	}
	for i := range b.promises {
		if rng.IntN(3) == 0 {
			b.promises[i].spare = rng.IntN(3)
		}
	}
	return b.seal()
}

// enumerate tries every order and every split of it over two machines.
func enumerate(b *bench) tally {
	j := newJudge(b)
	best := tally{days: math.Inf(1)}
	perm := make([]int, len(b.chores))
	for i := range perm {
		perm[i] = i
	}
	permute(perm, 0, func(p []int) {
		for k := 0; k <= len(p); k++ {
			if t := j.weigh(queue{slices.Clone(p[:k]), slices.Clone(p[k:])}); t.less(best) {
				best = t
			}
		}
	})
	return best
}

func permute(p []int, i int, visit func([]int)) {
	if i == len(p) {
		visit(p)
		return
	}
	for k := i; k < len(p); k++ {
		p[i], p[k] = p[k], p[i]
		permute(p, i+1, visit)
		p[i], p[k] = p[k], p[i]
	}
}

func TestSequenceEqualsEnumerationOnSmallCases(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 11))
	for trial := range 100 {
		b := randomBench(rng, 2+rng.IntN(6))
		want := enumerate(b)
		q := sequence(b, 60, rand.New(rand.NewPCG(1, uint64(trial))))
		got := newJudge(b).weigh(q)
		if got != want {
			t.Errorf("trial %d, %d chores: got %+v, the optimum is %+v", trial, len(b.chores), got, want)
		}
		assertAllOnce(t, q, len(b.chores))
	}
}

func assertAllOnce(t *testing.T, q queue, n int) {
	t.Helper()
	var all []int
	for _, line := range q {
		all = append(all, line...)
	}
	slices.Sort(all)
	for i := range n {
		if len(all) != n || all[i] != i {
			t.Fatalf("queue %v does not hold each of %d chores once", q, n)
		}
	}
}

func TestSequenceOfNothing(t *testing.T) {
	b := &bench{hours: []*openHours{always(), always()}}
	if q := sequence(b, 5, rand.New(rand.NewPCG(1, 1))); len(q) != 2 || len(q[0])+len(q[1]) != 0 {
		t.Errorf("got %v for no chores", q)
	}
}

func TestSequenceRepeatsItself(t *testing.T) {
	b := randomBench(rand.New(rand.NewPCG(5, 5)), 30)
	a := sequence(b, 10, rand.New(rand.NewPCG(9, 9)))
	c := sequence(b, 10, rand.New(rand.NewPCG(9, 9)))
	for m := range a {
		if !slices.Equal(a[m], c[m]) {
			t.Fatalf("machine %d: %v, then %v", m, a[m], c[m])
		}
	}
}

func BenchmarkSequence30On2(b *testing.B) {
	p := randomBench(rand.New(rand.NewPCG(7, 7)), 30)
	for b.Loop() {
		sequence(p, 20, rand.New(rand.NewPCG(1, 1)))
	}
}
