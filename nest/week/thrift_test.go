package week

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Thrift never makes anything later or dearer, and loses no chore.
func TestThriftSavesWithoutDelay(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	saved := 0
	for range 60 {
		b, money := randomMoneyBench(rng)
		p := prices{money, 7, 0.1}
		q := sequence(b, 5, rng)
		before := newJudge(b).weigh(q)
		spent := moneyByHand(b, q, &p)
		got, _ := thrift(b, q, p, 3, rng)
		after := newJudge(b).weigh(got)
		now := moneyByHand(b, got, &p)
		if after.compareLate(before) > 0 || now > spent {
			t.Fatalf("late %v → %v, money %v → %v", before.late, after.late, spent, now)
		}
		n := 0
		for _, line := range got {
			n += len(line)
		}
		if n != len(b.chores) {
			t.Fatalf("%d chores in the queue, want %d", n, len(b.chores))
		}
		if now < spent {
			saved++
		}
	}
	if saved == 0 {
		t.Error("nothing was ever saved")
	}
}

// moneyByHand sums what chores cost where they stand, the changes of family, and
// the seconds that machines are held.
func moneyByHand(b *bench, q queue, p *prices) float64 {
	sum := 0.0
	for m, line := range q {
		for i, c := range line {
			s, hidden := b.chores[c].on[m], 0.0
			if sum += p.chore[c][m]; i == 0 || b.chores[line[i-1]].family != b.chores[c].family {
				sum += p.setup
			}
			if i > 0 {
				hidden = min(s.lead, b.chores[line[i-1]].on[m].tail)
			}
			sum += p.held * (s.lead - hidden + s.body)
		}
	}
	return sum
}

// Among the queues that are least late, none is cheaper than what thrift finds.
func TestThriftEqualsEnumeration(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for trial := range 100 {
		b := randomBench(rng, 2+rng.IntN(5))
		p := &prices{setup: float64(rng.IntN(30)), held: float64(rng.IntN(3))}
		for range b.chores {
			p.chore = append(p.chore, []float64{float64(rng.IntN(60)), float64(rng.IntN(60))})
		}
		q := sequence(b, 60, rand.New(rand.NewPCG(1, uint64(trial))))
		got, _ := thrift(b, q, *p, 60, rand.New(rand.NewPCG(2, uint64(trial))))
		priced := *b
		priced.prices = p
		want := enumerate(&priced)
		if is := newJudge(&priced).weigh(got); is != want {
			t.Errorf("trial %d, %d chores: got %+v, the cheapest of the least late is %+v", trial, len(b.chores), is, want)
		}
		if want.money != grained(moneyByHand(b, got, p)) {
			t.Errorf("trial %d: the tally says %v, by hand it is %v", trial, want.money, moneyByHand(b, got, p))
		}
	}
}

func randomMoneyBench(rng *rand.Rand) (*bench, [][]float64) {
	b := &bench{setup: 10, hours: []*openHours{always(), always()}}
	var money [][]float64
	for i := range 2 + rng.IntN(6) {
		b.promises = append(b.promises, promise{due: 50 + 200*rng.Float64(), weight: 1})
		c := chore{family: rng.IntN(3), orders: []cutOf{{i, 1}}}
		var m []float64
		for k := range 2 {
			sec := 10 + 40*rng.Float64()
			if k == 1 && rng.IntN(4) == 0 {
				sec = math.Inf(1)
			}
			c.on, m = append(c.on, span{body: sec}), append(m, 5+20*rng.Float64())
		}
		b.chores, money = append(b.chores, c), append(money, m)
	}
	return b, money
}
